"""Views of the leg from its outer side: lower leg and foot lying, the whole leg lying, and the foot on the floor."""

from __future__ import annotations

from collections.abc import Callable

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.line import Point, cap, join, moved, smooth
from aftercare.pictures.profile import CrossSection, Profile, Rows, thickened
from aftercare.pictures.scene import BodyLine, Pointer, Scene

Transform = Callable[[float, float], Point]  # from the units of FOOT and TOES to picture units

# Level, under edge (back, sole), over edge (front, instep); the leg lies, the foot points up. In picture units, drawn by eye.
SHIN: Rows = (
    (38, (-10, 108), (-10, 52)),
    (46, (16, 105), (20, 48)),
    (53, (46, 110), (48, 56)),
    (64, (96, 113), (92, 60)),
    (75, (150, 103), (146, 69)),
)
THIGH: Rows = (
    (8, (-14, 112), (-14, 36)),
    (30, (44, 108), (50, 42)),
    (40, (78, 100), (82, 47)),
    (46, (100, 97), (105, 46)),
    (52, (118, 101), (122, 55)),
    (64, (152, 107), (154, 64)),
    (75, (187, 101), (186, 76)),
)
# The same for the foot, in units of its own, which each view transforms to picture units.
FOOT: Rows = (
    (79, (182, 103), (166, 71)),
    (82, (200, 109), (177, 68)),
    (85, (215, 107), (186, 61)),
    (87, (219, 94), (191, 53)),
    (89, (217, 74), (194, 46)),
    (94, (224, 44), (196, 34)),
)
# Each toe: where its round end starts and stops, and its direction; the big toe, farthest from the viewer, first.
TOES = (
    ((192, 24), (205, 22), (0, -1)),
    ((206, 22), (212.5, 23), (0.1, -1)),
    ((212.5, 26), (218.5, 28), (0.2, -1)),
    ((218, 31), (223.5, 34), (0.3, -1)),
    ((222, 38), (226.5, 43), (0.6, -1)),
)
SPANS = ((0, 77), (88, 95))  # levels of the leg, and of the foot beyond the heel


def leg_view(start: int, *, child: bool) -> Scene:
    """The view for a device that begins at the level `start`: the closest one that shows all of it."""
    if start < LEVEL[Landmark.KNEE]:
        return _scene(THIGH, lambda x, y: (236 + (x - 228) * 0.68, 107 + (y - 109) * 0.68), child)
    if start < LEVEL[Landmark.ABOVE_ANKLE]:
        return _scene(SHIN, lambda x, y: (x - 5, y), child)
    return foot_view(child=child)


def foot_view(*, child: bool) -> Scene:
    """Foot and ankle standing on the floor, toes to the right."""

    def move(x: float, y: float) -> Point:
        return 201 - y * 1.1, -146 + x * 1.1

    return _scene(tuple((level, move(*under), move(*over)) for level, under, over in SHIN[3:]), move, child)


def _scene(rows: Rows, move: Transform, child: bool) -> Scene:
    rows = thickened(rows) if child else rows
    sections = [CrossSection(*row) for row in rows] + [
        CrossSection(level, move(*under), move(*over)) for level, under, over in FOOT
    ]
    skin = smooth([*(section.over for section in sections), move(*TOES[0][0])])
    for start, stop, toward in TOES:
        tip, origin = move(*toward), move(0, 0)
        direction = tip[0] - origin[0], tip[1] - origin[1]
        skin = join(skin, smooth([move(*start)]), cap(move(*start), move(*stop), direction), close=False)
    skin = join(skin, smooth([move(*TOES[-1][1]), move(225, 56), *(section.under for section in reversed(sections[:-1]))]))
    details = smooth([move(195, 22), move(196, 16), move(202, 17)]) + smooth([move(190, 92), move(198, 94), move(197, 84)])
    tips = Profile((CrossSection(94, sections[-1].under, sections[-1].over), CrossSection(100, move(226, 12), move(194, 14))))
    toe, beside = move(192, 20), move(180, 15)
    out = beside[0] - toe[0], beside[1] - toe[1]
    pointers = {Part.TOES: (Pointer(moved(toe, out, 6), out),)}
    return Scene(
        Profile((*sections, tips.sections[-1])),
        (BodyLine(skin, "skin"),),
        details,
        {Part.TOES: tips},
        pointers,
        spans=SPANS,
        bend=(79, 87),
    )
