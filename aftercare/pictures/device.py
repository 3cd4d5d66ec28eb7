"""The drawing of a device on a limb, from the lines of the limb and the layers of the device."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from aftercare.library.body import EXTREMITY, LEVEL, Extremity, Landmark, Limb, Part
from aftercare.library.devices import Device, Family, Material, Shape
from aftercare.pictures.arm import arm_view
from aftercare.pictures.cover import Layer, Look
from aftercare.pictures.finger import finger_view, toe_view
from aftercare.pictures.leg import foot_view, leg_view
from aftercare.pictures.line import Line, closed_shape, moved, smooth
from aftercare.pictures.scene import Pointer, Scene
from aftercare.pictures.shapes import BULKY_PAD, HANGING, layers
from aftercare.pictures.style import CLOTH, FINE, POINTER, SHELL, SHIRT, SKIN, STRAP, WIDTH, element, picture, thumbnail
from aftercare.pictures.texture import draw_texture
from aftercare.pictures.torso import body_view, trunk_view
from aftercare.sheet.choices import Side


def scene_for(device: Device, *, child: bool = False, plain: bool = False) -> Scene:
    """The view of the limb for a device; `plain` omits what is too fine for a thumbnail."""
    start = LEVEL[device.start]
    if device.limb is Limb.TRUNK:
        return trunk_view()
    if device.limb is Limb.SHOULDER or device.shape in HANGING:
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


# Attributes of the path elements: of a body line by its fill, of a layer by its look. Two dictionaries draw a line twice, the
# second stroke inside the first.
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
# The same for thumbnails: darker bands of one stroke each; rolled edges are too fine to be drawn.
SMALL_LOOKS: Mapping[Look, tuple[Mapping[str, str | float], ...]] = {
    Look.SHELL: ({"fill": SHELL},),
    Look.CLOTH: ({"fill": STRAP, "stroke_width": 2},),
    Look.STRAP: ({"fill": STRAP, "stroke_width": 2},),
    Look.ROLL: (),
    Look.BELT: ({"stroke": STRAP, "stroke_width": 8},),
    Look.TONG: ({"stroke": STRAP, "stroke_width": 8},),
}


def draw_body(scene: Scene, mirror: float) -> str:
    """The body without the device, as path elements; `mirror` is the `mirror_at` of `Line.data`."""
    body = "".join(element("path", line=part.line.data(mirror), **SURFACES[part.fill]) for part in scene.skin)
    return body + (element("path", line=scene.details.data(mirror), stroke_width=FINE) if scene.details.commands else "")


def draw_layer(layer: Layer, mirror: float) -> str:
    """One layer of the device, without its texture, as path elements."""
    line = layer.line.data(mirror)
    return "".join(element("path", line=line, **paint) for paint in LOOKS[layer.look])


def draw_pointers(pointers: Iterable[Pointer], mirror: float) -> str:
    """An arrow to each tip, as one path element. The phone page mirrors drawings, and an arrow reads the same mirrored."""
    drawn = Line()
    for pointer in pointers:
        neck, tail = moved(pointer.at, pointer.out, 6), moved(pointer.at, pointer.out, 12)
        side = pointer.out[1], -pointer.out[0]
        drawn += closed_shape([moved(neck, side, 4)], [pointer.at], [moved(neck, side, -4)]) + smooth([neck, tail])
    return element("path", line=drawn.data(mirror), fill=POINTER, stroke=POINTER, stroke_width=2.6)


def device_picture(device: Device, material: Material, side: Side | None, title: str, *, child: bool = False) -> str:
    """The limb with the device over exactly the stretch it covers, as inline SVG; arrows point to the tips to check.

    `side` is the patient's; None is drawn as the right side. `title` is the alternative text, plain and in the page's language.
    """
    return picture(title, _drawing(device, material.family, side, child))


@lru_cache(maxsize=1024)  # every device in every family on both sides; drawing one takes about 1 ms
def _drawing(device: Device, family: Family, side: Side | None, child: bool) -> str:
    scene = scene_for(device, child=child)
    mirror = WIDTH if (side is Side.LEFT) is not scene.shows_left else 0
    device_layers = layers(device, scene)
    body = "".join(draw_layer(layer, mirror) for layer in device_layers if layer.behind) + draw_body(scene, mirror)
    for layer in device_layers:
        if not layer.behind:
            body += draw_layer(layer, mirror) + draw_texture(family, layer.textured, mirror)
    pointers = dict.fromkeys(  # several parts may share a pointer, which is drawn once
        clear_of_device(pointer, device, part) for part in device.tips for pointer in scene.pointers.get(part, ())
    )
    return body + (draw_pointers(pointers, mirror) if pointers else "")


def clear_of_device(pointer: Pointer, device: Device, part: Part) -> Pointer:
    """The pointer, moved outward by the padding of the device where the device covers the tip."""
    covered = part in device.enclosed and device.end is Landmark.FINGERTIPS
    return Pointer(moved(pointer.at, pointer.out, BULKY_PAD), pointer.out) if covered else pointer


def device_thumbnail(device: Device) -> str:
    """A small decorative drawing for the choices at the desk, as inline SVG without a title.

    To be short, it is rounded to whole units and has no lines inside the body.
    """
    scene = scene_for(device, plain=True)
    body = "".join(element("path", line=part.line.data(decimals=0), **SURFACES[part.fill]) for part in scene.skin if part.fill)
    for layer in layers(device, scene):
        if not layer.behind:
            body += "".join(element("path", line=layer.line.data(decimals=0), **paint) for paint in SMALL_LOOKS[layer.look])
    return thumbnail(body)
