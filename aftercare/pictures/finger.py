"""Close views of one digit: a finger from the side with the others curled under, and the front of a foot from above."""

from __future__ import annotations

from aftercare.library.body import Part
from aftercare.pictures.hand import Digit, Place, grown, nails
from aftercare.pictures.ladder import Ladder, Rung
from aftercare.pictures.line import Line, Point, between, cap, moved, onto, smooth
from aftercare.pictures.scene import Paint, Pointer, Scene

KNUCKLE = 112.0  # where the finger leaves the hand

# level, palm edge, back edge, in picture units; drawn by eye
FINGER = (
    (76, (20, 96), (20, 24)),
    (84, (92, 70), (78, 24)),
    (87, (112, 67), (100, 33)),
    (92, (148, 64), (146, 33)),
    (96, (178, 62), (178, 37)),
    (100, (208, 59), (208, 41)),
)


def finger_view(*, child: bool) -> Scene:
    """One finger pointing, seen from the thumb side, back of the finger up."""
    reach = 0.86 if child else 1.0
    finger = Ladder(tuple(Rung(level, _drawn_in(under, reach), _drawn_in(over, reach)) for level, under, over in FINGER))
    start, stop, onward = finger.end(100)
    skin = onto(
        smooth([(-8, 27), (30, 25), (76, 20), *(finger.at(level, 1) for level in (87, 92, 96)), start]),
        cap(start, stop, onward),
        smooth([stop, finger.at(96, 0), finger.at(92, 0), (116, 68)]),
        _curl((116, 68), (118, 92)),
        _curl((118, 92), (108, 114)),
        smooth([(108, 114), (60, 118), (20, 106), (-8, 106)]),
    )
    thumb = onto(
        smooth([(24, 54), (52, 52), (88, 66), (104, 72)]),
        cap((104, 72), (98, 90), (1, 0.35)),
        smooth([(98, 90), (70, 90), (40, 100), (26, 104)]),
        close=False,
    )
    nail = smooth([finger.at(level, across) for level, across in ((98, 0.97), (98, 0.62), (95.4, 0.64), (94.6, 0.98))])
    creases = smooth([finger.at(91.6, 0.12), finger.at(92, 0.3)]) + smooth([finger.at(96, 0.1), finger.at(96.3, 0.28)])
    tip = finger.at(100, 0.5)
    others = Pointer((140, 92), (1, 0))
    marks = {Part.THIS_FINGER: (Pointer((tip[0] + 11, tip[1]), (1, 0)),), Part.OTHER_FINGERS: (others,), Part.THUMB: (others,)}
    skin_then_thumb = Paint(skin, "skin"), Paint(thumb, "skin")
    return Scene(finger, skin_then_thumb, nail + creases, {Part.THIS_FINGER: finger}, marks, flipped=True)


def _drawn_in(point: Point, reach: float) -> Point:
    """A point of the finger nearer to the knuckle."""
    return KNUCKLE + (point[0] - KNUCKLE) * (reach if point[0] > KNUCKLE else 1), point[1]


def _curl(start: Point, stop: Point) -> Line:
    return onto(smooth([start]), cap(start, stop, (1, 0.1)), close=False)


# Toes as they leave the forefoot, in picture units; the big toe of a right foot is on the upper side. Drawn by eye.
TOES = (
    Digit(Part.THIS_TOE, 168, 34, 4, 0, 46, 14.5, 13),
    Digit(Part.THIS_TOE, 172, 55, 3, 2, 40, 8.8, 8.2),
    Digit(Part.THIS_TOE, 168, 71, 7, 2, 34, 8, 7.6),
    Digit(Part.THIS_TOE, 160, 86, 11, 2, 30, 7.6, 7.2),
    Digit(Part.THIS_TOE, 148, 100, 16, 2, 26, 7.4, 7),
)


def toe_view(*, child: bool) -> Scene:
    """The front of the foot from above, big toe up, toes to the right."""
    toes = [grown(toe, Place(-12, -6, 1.05), child) for toe in TOES]
    away: list[Point] = [(-8, 28), (50, 26), (96, 14), (140, 14), toes[0].at(91, 1)]
    skin = Line()
    for place, toe in enumerate(toes):
        start, stop, onward = toe.end(100)
        skin = onto(skin, smooth([*away, start]), cap(start, stop, onward), close=False)
        after = toes[place + 1] if place < 4 else None
        away = [stop, toe.at(93, 0)]
        away += [between(toe.at(89, 0), after.at(89, 1), 0.5), after.at(93, 1)] if after else []
    skin = onto(skin, smooth([*away, (120, 110), (70, 98), (30, 90), (-8, 92)]))
    limb = Ladder(
        (
            Rung(80, (0, 96), (0, 30)),
            Rung(94, toes[-1].at(87, 0), toes[0].at(87, 1)),
            Rung(100, toes[-1].at(100, 0), toes[0].at(100, 1)),
        )
    )
    tips = [Pointer(moved(toe.at(100, 0.5), toe.onward(100), 4), toe.onward(100)) for toe in toes]
    marks = {Part.THIS_TOE: (tips[1], tips[2]), Part.OTHER_TOES: (tips[0], *tips[3:]), Part.TOES: tuple(tips)}
    return Scene(limb, (Paint(skin, "skin"),), nails(toes), {}, marks, pair=(toes[1], toes[2]))
