"""The picture of a device on a limb, painted from its layers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from aftercare.library.body import EXTREMITY, LEVEL, Extremity, Landmark, Limb, Part
from aftercare.library.devices import Device, Family, Material, Shape
from aftercare.pictures.arm import arm_view
from aftercare.pictures.cover import Layer, Look
from aftercare.pictures.finger import finger_view, toe_view
from aftercare.pictures.leg import foot_view, leg_view
from aftercare.pictures.line import Line, closed, moved, smooth
from aftercare.pictures.scene import Pointer, Scene
from aftercare.pictures.shapes import DRAPED, PLUMP, layers
from aftercare.pictures.style import CLOTH, FINE, POINTER, SHELL, SHIRT, SKIN, STRAP, WIDTH, element, picture, thumbnail
from aftercare.pictures.texture import textured
from aftercare.pictures.torso import body_view, trunk_view
from aftercare.sheet.choices import Side


def scene_for(device: Device, *, child: bool = False, plain: bool = False) -> Scene:
    """The view of the limb for a device; `plain` leaves out what a very small drawing cannot show."""
    start = LEVEL[device.start]
    if device.limb is Limb.TRUNK:
        return trunk_view()
    if device.limb is Limb.SHOULDER or device.shape in DRAPED:
        return body_view(child=child, plain=plain)
    if device.limb is Limb.TOE:
        return toe_view(child=child)
    if device.limb is Limb.FOOT and start >= LEVEL[Landmark.ABOVE_ANKLE]:
        return foot_view(child=child)
    if EXTREMITY[device.limb] is Extremity.LOWER:
        return leg_view(start, child=child)
    if device.limb is Limb.FINGER and device.shape is not Shape.BUDDY:
        return finger_view(child=child)
    return arm_view(start, palm=device.shape is Shape.VOLAR, child=child)


# What each kind of surface is painted with; a second dictionary is a second stroke inside the first.
SURFACES: Mapping[str, Mapping[str, str]] = {
    "skin": {"fill": SKIN},
    "shirt": {"fill": SHIRT},
    "hair": {"fill": "currentColor"},
    "": {},
}
LOOKS: Mapping[Look, tuple[Mapping[str, str | float], ...]] = {
    Look.SHELL: ({"fill": SHELL},),
    Look.CLOTH: ({"fill": CLOTH, "stroke_width": 1.4},),
    Look.STRAP: ({"fill": STRAP, "stroke_width": 1.4},),
    Look.ROLL: ({"stroke_width": 6.5}, {"stroke": SHELL, "stroke_width": 2.8}),
    Look.BELT: ({"stroke_width": 9}, {"stroke": CLOTH, "stroke_width": 5.6}),
    Look.TONG: ({"stroke_width": 9}, {"stroke": SHELL, "stroke_width": 5.6}),
}
# The same when very small: darker bands, one stroke each, and rolled edges left out as too fine.
SMALL_LOOKS: Mapping[Look, tuple[Mapping[str, str | float], ...]] = {
    Look.SHELL: ({"fill": SHELL},),
    Look.CLOTH: ({"fill": STRAP, "stroke_width": 2},),
    Look.STRAP: ({"fill": STRAP, "stroke_width": 2},),
    Look.ROLL: (),
    Look.BELT: ({"stroke": STRAP, "stroke_width": 8},),
    Look.TONG: ({"stroke": STRAP, "stroke_width": 8},),
}


def bare(scene: Scene, mirror: float) -> str:
    """The body without the device."""
    body = "".join(element("path", line=paint.line.data(mirror), **SURFACES[paint.fill]) for paint in scene.skin)
    return body + (element("path", line=scene.details.data(mirror), stroke_width=FINE) if scene.details.steps else "")


def painted(layer: Layer, mirror: float) -> str:
    """One layer of the device."""
    line = layer.line.data(mirror)
    return "".join(element("path", line=line, **paint) for paint in LOOKS[layer.look])


def pointers(marks: Iterable[Pointer], mirror: float) -> str:
    """A small arrow to each tip. Unlike a tick it reads in a mirror too, and the phone page turns whole pictures."""
    drawn = Line()
    for mark in marks:
        neck, tail = moved(mark.at, mark.out, 6), moved(mark.at, mark.out, 12)
        side = mark.out[1], -mark.out[0]
        drawn += closed([moved(neck, side, 4)], [mark.at], [moved(neck, side, -4)]) + smooth([neck, tail])
    return element("path", line=drawn.data(mirror), fill=POINTER, stroke=POINTER, stroke_width=2.6)


def device_picture(device: Device, material: Material, side: Side | None, title: str, *, child: bool = False) -> str:
    """The limb with the device over exactly the stretch it covers, as inline SVG with `title` first.

    `side` is the patient's; None is drawn as the right one. The tips to check carry an arrow.
    """
    return picture(title, _drawing(device, material.family, side, child))


@lru_cache(maxsize=1024)  # every device in every family on both sides; drawing one takes about 1 ms
def _drawing(device: Device, family: Family, side: Side | None, child: bool) -> str:
    scene = scene_for(device, child=child)
    mirror = WIDTH if (side is Side.LEFT) is not scene.flipped else 0
    worn = layers(device, scene)
    body = "".join(painted(layer, mirror) for layer in worn if layer.behind) + bare(scene, mirror)
    for layer in worn:
        if not layer.behind:
            body += painted(layer, mirror) + textured(family, layer.woven, mirror)
    marks = dict.fromkeys(clear(mark, device, part) for part in device.tips for mark in scene.marks.get(part, ()))
    return body + (pointers(marks, mirror) if marks else "")


def clear(mark: Pointer, device: Device, part: Part) -> Pointer:
    """The pointer moved off the device where this covers the very tip."""
    covered = part in device.enclosed and device.end is Landmark.FINGERTIPS
    return Pointer(moved(mark.at, mark.out, PLUMP), mark.out) if covered else mark


def device_thumbnail(device: Device) -> str:
    """A small decorative drawing for picking at the desk, without a title: whole units, no lines inside the body."""
    scene = scene_for(device, plain=True)
    body = "".join(
        element("path", line=paint.line.data(decimals=0), **SURFACES[paint.fill]) for paint in scene.skin if paint.fill
    )
    for layer in layers(device, scene):
        if not layer.behind:
            body += "".join(element("path", line=layer.line.data(decimals=0), **paint) for paint in SMALL_LOOKS[layer.look])
    return thumbnail(body)
