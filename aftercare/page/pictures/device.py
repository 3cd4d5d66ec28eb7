"""The picture of a device on a limb, painted from its layers."""

from __future__ import annotations

from collections.abc import Iterable

from aftercare.library.body import EXTREMITY, LEVEL, Extremity, Landmark, Limb
from aftercare.library.devices import Device, Material, Shape
from aftercare.page.pictures.arm import arm_view
from aftercare.page.pictures.cover import Layer, Look
from aftercare.page.pictures.finger import finger_view, toe_view
from aftercare.page.pictures.leg import foot_view, leg_view
from aftercare.page.pictures.line import Line, moved
from aftercare.page.pictures.scene import Mark, Scene
from aftercare.page.pictures.shapes import DRAPED, layers
from aftercare.page.pictures.style import CLOTH, FINE, POINTER, SHELL, SHIRT, SKIN, STRAP, WIDTH, element, picture
from aftercare.page.pictures.texture import textured
from aftercare.page.pictures.torso import body_view, trunk_view
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


def bare(scene: Scene, mirror: float, *, plain: bool = False) -> str:
    """The body without the device; `plain` for very small drawings: whole units, and no lines inside."""
    fills = {"skin": SKIN, "shirt": SHIRT, "hair": "currentColor"}
    return "".join(
        element("path", line=paint.line.data(mirror, 0 if plain else 1), **({"fill": fills[paint.fill]} if paint.fill else {}))
        for paint in scene.skin
        if paint.fill or not plain
    )


def painted(layer: Layer, mirror: float, decimals: int = 1) -> str:
    """One layer as SVG."""
    line = layer.line.data(mirror, decimals)
    match layer.look:
        case Look.SHELL:
            return element("path", line=line, fill=SHELL)
        case Look.CLOTH:
            return element("path", line=line, fill=CLOTH, stroke_width=1.4)
        case Look.STRAP:
            return element("path", line=line, fill=STRAP, stroke_width=1.4)
        case Look.ROLL:
            return element("path", line=line, stroke_width=6.5) + element("path", line=line, stroke=SHELL, stroke_width=2.8)
        case Look.BELT:
            return element("path", line=line, stroke_width=9) + element("path", line=line, stroke=CLOTH, stroke_width=5.6)


def pointers(marks: Iterable[Mark], mirror: float) -> str:
    """A small arrow to each tip. Unlike a tick it also reads in a mirror: the phone page turns the whole picture for the left."""
    drawn = Line()
    for mark in marks:
        neck, tail = moved(mark.at, mark.out, 6), moved(mark.at, mark.out, 12)
        side = mark.out[1], -mark.out[0]
        drawn += Line((("M", (moved(neck, side, 4),)), ("L", (mark.at,)), ("L", (moved(neck, side, -4),)), ("Z", ()), ("M", (neck,)), ("L", (tail,))))
    return element("path", line=drawn.data(mirror), fill=POINTER, stroke=POINTER, stroke_width=2.6)


def device_picture(device: Device, material: Material, side: Side | None, title: str, *, child: bool = False) -> str:
    """The limb with the device over exactly the stretch it covers, as inline SVG with `title` first.

    `side` is the patient's; None is drawn as the right one. The tips to check carry an arrow.
    """
    scene = scene_for(device, child=child)
    mirror = WIDTH if (side is Side.LEFT) is not scene.flipped else 0
    worn = layers(device, scene)
    body = "".join(painted(layer, mirror) for layer in worn if layer.behind)
    body += bare(scene, mirror)
    body += element("path", line=scene.details.data(mirror), stroke_width=FINE) if scene.details.steps else ""
    for layer in worn:
        if not layer.behind:
            body += painted(layer, mirror)
            body += textured(material.family, layer.woven, mirror)
    marks = dict.fromkeys(mark for part in device.tips for mark in scene.marks.get(part, ()))
    return picture(title, body + (pointers(marks, mirror) if marks else ""))


def device_thumbnail(device: Device) -> str:
    """A small decorative drawing for picking at the desk, without a title."""
    scene = scene_for(device, plain=True)
    body = bare(scene, 0, plain=True)
    for layer in layers(device, scene):
        body += "" if layer.behind or layer.look is Look.ROLL else painted(layer, 0, 0)
    return picture("", body, hidden=True)
