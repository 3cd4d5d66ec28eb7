"""Leg views: lower leg and foot lying raised, the whole leg, and the foot on the floor. Outer side, toes fanned out."""

from __future__ import annotations

from collections.abc import Callable

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.ladder import Ladder, Rows, Rung, plump
from aftercare.pictures.line import Point, cap, moved, onto, smooth
from aftercare.pictures.scene import Paint, Pointer, Scene

Move = Callable[[float, float], Point]

# level, back (sole) edge, front (instep) edge; the leg lies, the foot points up; drawn by eye
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
FOOT: Rows = (
    (79, (182, 103), (166, 71)),
    (82, (200, 109), (177, 68)),
    (85, (215, 107), (186, 61)),
    (87, (219, 94), (191, 53)),
    (89, (217, 74), (194, 46)),
    (94, (224, 44), (196, 34)),
)
# each toe: where its end begins, where it stops, which way it points; the big toe farthest from us
TOES = (
    ((192, 24), (205, 22), (0, -1)),
    ((206, 22), (212.5, 23), (0.1, -1)),
    ((212.5, 26), (218.5, 28), (0.2, -1)),
    ((218, 31), (223.5, 34), (0.3, -1)),
    ((222, 38), (226.5, 43), (0.6, -1)),
)
SPANS = ((0, 77), (88, 95))  # leg, and the foot beyond the heel


def leg_view(start: int, *, child: bool) -> Scene:
    """The view that shows a device beginning at level `start` best."""
    if start < LEVEL[Landmark.KNEE]:
        return _scene(THIGH, lambda x, y: (236 + (x - 228) * 0.68, 107 + (y - 109) * 0.68), child)
    if start < LEVEL[Landmark.ABOVE_ANKLE]:
        return _scene(SHIN, lambda x, y: (x - 5, y), child)
    return foot_view(child=child)


def foot_view(*, child: bool) -> Scene:
    """Foot and ankle on the floor, toes to the right."""

    def move(x: float, y: float) -> Point:
        return 201 - y * 1.1, -146 + x * 1.1

    return _scene(tuple((level, move(*under), move(*over)) for level, under, over in SHIN[3:]), move, child)


def _scene(rows: Rows, move: Move, child: bool) -> Scene:
    rows = plump(rows) if child else rows
    rungs = [Rung(*row) for row in rows] + [Rung(level, move(*under), move(*over)) for level, under, over in FOOT]
    skin = smooth([*(rung.over for rung in rungs), move(*TOES[0][0])])
    for start, stop, toward in TOES:
        tip, origin = move(*toward), move(0, 0)
        onward = tip[0] - origin[0], tip[1] - origin[1]
        skin = onto(skin, smooth([move(*start)]), cap(move(*start), move(*stop), onward), close=False)
    skin = onto(skin, smooth([move(*TOES[-1][1]), move(225, 56), *(rung.under for rung in reversed(rungs[:-1]))]))
    details = smooth([move(195, 22), move(196, 16), move(202, 17)]) + smooth([move(190, 92), move(198, 94), move(197, 84)])
    tips = Ladder((Rung(94, rungs[-1].under, rungs[-1].over), Rung(100, move(226, 12), move(194, 14))))
    toe, beside = move(192, 20), move(180, 15)
    out = beside[0] - toe[0], beside[1] - toe[1]
    marks = {Part.TOES: (Pointer(moved(toe, out, 6), out),)}
    return Scene(
        Ladder((*rungs, tips.rungs[-1])), (Paint(skin, "skin"),), details, {Part.TOES: tips}, marks, spans=SPANS, bend=(79, 87)
    )
