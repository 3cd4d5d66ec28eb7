"""A device laid over the limb, from its data: where it begins and ends, its shape, what it encloses."""

from __future__ import annotations

from aftercare.library.body import EXTREMITY, FINGERS, LEVEL, Extremity, Landmark, Limb, Part
from aftercare.library.devices import Device, Family, Kind, Material, Shape
from aftercare.page.pictures.arm import arm_view
from aftercare.page.pictures.ladder import Line, Point, closed, smooth
from aftercare.page.pictures.leg import foot_view, leg_view
from aftercare.page.pictures.scene import Scene
from aftercare.page.pictures.style import FINE, PAD, WIDTH, element, picture
from aftercare.page.pictures.torso import body_view, trunk_view
from aftercare.sheet.choices import Side

# How much of the limb's width each open shape covers, from the under side (0) to the over side (1).
COVER = {
    Shape.ULNAR: (0.0, 0.48),
    Shape.RADIAL: (0.48, 1.0),
    Shape.POSTERIOR: (0.0, 0.4),
    Shape.ANTERIOR: (0.6, 1.0),
    Shape.STIRRUP: (0.25, 0.75),
    Shape.POSTERIOR_STIRRUP: (0.0, 0.7),
    Shape.VOLAR: (0.16, 0.84),
    Shape.DORSAL: (0.16, 0.84),
    Shape.SANDWICH: (0.16, 0.84),
    Shape.SUGAR_TONG: (0.16, 0.84),
    Shape.U_SLAB: (0.0, 0.3),
    Shape.THUMB: (0.4, 1.0),
}


def scene_for(device: Device, *, child: bool = False) -> Scene:
    """The view of the limb for a device."""
    start = LEVEL[device.start]
    if device.limb is Limb.TRUNK:
        return trunk_view()
    if device.limb is Limb.SHOULDER:
        return body_view()
    if device.limb in (Limb.FOOT, Limb.TOE):
        return foot_view(child=child)
    if EXTREMITY[device.limb] is Extremity.LOWER:
        return leg_view(start, child=child)
    return arm_view(start, palm=device.shape is Shape.VOLAR, child=child)


def outline(device: Device, scene: Scene) -> Line:
    """The edge of the rigid part."""
    low, high = (0.0, 1.0) if device.kind is Kind.CAST else COVER.get(device.shape, (0.0, 1.0))
    start, end = LEVEL[device.start], LEVEL[device.end]
    over = scene.limb.rail(start, end, high, PAD if high == 1 else 0)
    under = scene.limb.rail(end, start, low, PAD if low == 0 else 0)
    return closed(over, under)


def wraps(device: Device, scene: Scene) -> Line:
    """Turns of bandage across the device."""
    drawn = Line(())
    start, end = LEVEL[device.start], min(LEVEL[device.end], 87)
    for turn in range(1, 6):
        level = start + (end - start) * turn / 6
        drawn += smooth([scene.limb.at(level - 1, 0, PAD), scene.limb.at(level + 2, 0.5), scene.limb.at(level + 1, 1, PAD)])
    return drawn


def tick(point: Point, mirror: float) -> str:
    """A ring with a tick, six units wide either way."""
    x, y = round(mirror - point[0] if mirror else point[0], 1), round(point[1], 1)
    return f"M{x:g} {y - 6:g}a6 6 0 1 0 .1 0zm-2.6 6.2l2 2.2 3.4-4.4"


def device_picture(device: Device, material: Material, side: Side | None, title: str, *, child: bool = False) -> str:
    """The limb with the device over exactly the stretch it covers, as inline SVG with `title` first.

    `side` is the patient's; None is drawn as the right one. The tips to check carry a ring with a tick.
    """
    scene = scene_for(device, child=child)
    mirror = WIDTH if (side is Side.LEFT) is not scene.palm else 0
    body = element("path", line=scene.skin.data(mirror), fill="#f0cfae")
    body += element("path", line=scene.details.data(mirror), stroke_width=FINE)
    body += element("path", line=outline(device, scene).data(mirror), fill="#fdfdf8")
    body += element("path", line=wraps(device, scene).data(mirror), stroke_width=FINE)
    marks = "".join(tick(scene.marks[part], mirror) for part in device.tips if part in scene.marks)
    return picture(title, body + (element("path", line=marks, stroke_width=1.6) if marks else ""))


def device_thumbnail(device: Device) -> str:
    """A small decorative drawing for picking at the desk, without a title."""
    scene = scene_for(device)
    body = element("path", line=scene.skin.data(), fill="#f0cfae")
    return picture("", body + element("path", line=outline(device, scene).data(), fill="#fdfdf8"), hidden=True)
