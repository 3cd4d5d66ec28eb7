"""Leg views: lower leg and foot lying raised, the whole leg, and the foot on the floor."""

from __future__ import annotations

from collections.abc import Callable

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.page.pictures.ladder import Ladder, Line, Point, Rung, closed, smooth
from aftercare.page.pictures.scene import Scene

# level, back (sole) edge, front (instep) edge; the lower leg lies, foot up
SHIN = (
    (36, (-10, 106), (-10, 50)),
    (46, (18, 104), (22, 48)),
    (52, (44, 106), (48, 54)),
    (64, (98, 110), (96, 60)),
    (75, (156, 100), (150, 66)),
)
FOOT = (
    (80, (188, 102), (174, 68)),
    (82, (204, 108), (184, 64)),
    (85, (221, 104), (191, 57)),
    (87, (223, 88), (195, 50)),
    (89, (219, 70), (198, 43)),
    (94, (224, 40), (199, 26)),
    (96, (228, 32), (199, 20)),
)
BIG_TOE = ((199, 26), (195, 14), (198, 3), (208, 3), (209, 14))
TOES = (
    ((209, 14), (208, 7), (215, 5), (216, 17)),
    ((216, 17), (215, 11), (221, 9), (222, 21)),
    ((222, 21), (221, 15), (227, 14), (227, 26)),
    ((227, 26), (227, 21), (233, 22), (232, 31), (226, 40), (224, 46)),
)
THIGH = (
    (8, (-14, 110), (-14, 38)),
    (30, (46, 106), (52, 44)),
    (40, (80, 99), (82, 47)),
    (46, (100, 95), (104, 46)),
    (52, (116, 99), (120, 53)),
    (64, (152, 105), (154, 62)),
    (75, (190, 100), (188, 72)),
)


def leg_view(start: int, *, child: bool) -> Scene:
    """The view that shows a device beginning at level `start` best."""
    if start < LEVEL[Landmark.KNEE]:
        return _scene(THIGH, lambda x, y: (238 + (x - 232) * 0.66, 106 + (y - 108) * 0.66))
    if start < LEVEL[Landmark.ABOVE_ANKLE]:
        return _scene(SHIN, lambda x, y: (x, y))
    return foot_view(child=child)


def foot_view(*, child: bool) -> Scene:
    """Foot and ankle on the floor, toes to the right."""
    return _scene(SHIN[2:], lambda x, y: (208 - y * 1.3, -186 + x * 1.3), turned=True)


def _scene(rows: tuple[tuple[float, Point, Point], ...], move: Callable[[float, float], Point], *, turned: bool = False) -> Scene:
    still = move if turned else (lambda x, y: (x, y))
    rungs = [Rung(level, still(*under), still(*over)) for level, under, over in rows]
    rungs += [Rung(level, move(*under), move(*over)) for level, under, over in FOOT]
    big = [move(*point) for point in BIG_TOE]
    toes = [[move(*point) for point in toe] for toe in TOES]
    over = [rung.over for rung in rungs[:-1]]
    under = [rung.under for rung in reversed(rungs[:-2])]
    skin = closed([*over, *big], *toes[:-1], [*toes[-1], *under])
    tip = Ladder((Rung(94, rungs[-2].under, rungs[-2].over), Rung(100, toes[-1][2], big[2])))
    details = smooth([move(198, 10), move(200, 5), move(205, 6)])
    mark = move(216, -1) if not turned else move(214, -4)
    return Scene(Ladder((*rungs, Rung(100, toes[-1][2], big[2]))), skin, details, {Part.TOES: tip}, {Part.TOES: mark})
