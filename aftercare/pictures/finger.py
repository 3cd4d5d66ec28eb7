"""Close views of digits: one finger from the side with the others curled, and the front of a foot from above."""

from __future__ import annotations

from aftercare.library.body import Part
from aftercare.pictures.hand import Digit, Placement, digit_profile, nails
from aftercare.pictures.line import Line, Point, cap, interpolate, join, moved, smooth
from aftercare.pictures.profile import CrossSection, Profile
from aftercare.pictures.scene import BodyLine, Pointer, Scene

KNUCKLE = 112.0  # x of the knuckle, where the finger leaves the hand

# Level, under edge (palm), over edge (back of the finger), in picture units; drawn by eye.
FINGER = (
    (76, (20, 96), (20, 24)),
    (84, (92, 70), (78, 24)),
    (87, (112, 67), (100, 33)),
    (92, (148, 64), (146, 33)),
    (96, (178, 62), (178, 37)),
    (100, (208, 59), (208, 41)),
)


def finger_view(*, child: bool) -> Scene:
    """One finger pointing right, seen from the thumb side, its back up; it is a left hand."""
    scale = 0.86 if child else 1.0
    finger = Profile(
        tuple(CrossSection(level, _shortened(under, scale), _shortened(over, scale)) for level, under, over in FINGER)
    )
    start, stop, direction = finger.rounded_end(100)
    skin = join(
        smooth([(-8, 27), (30, 25), (76, 20), *(finger.at(level, 1) for level in (87, 92, 96)), start]),
        cap(start, stop, direction),
        smooth([stop, finger.at(96, 0), finger.at(92, 0), (116, 68)]),
        _curled_finger((116, 68), (118, 92)),
        _curled_finger((118, 92), (108, 114)),
        smooth([(108, 114), (60, 118), (20, 106), (-8, 106)]),
    )
    thumb = join(
        smooth([(24, 54), (52, 52), (88, 66), (104, 72)]),
        cap((104, 72), (98, 90), (1, 0.35)),
        smooth([(98, 90), (70, 90), (40, 100), (26, 104)]),
        close=False,
    )
    nail = smooth([finger.at(level, across) for level, across in ((98, 0.97), (98, 0.62), (95.4, 0.64), (94.6, 0.98))])
    creases = smooth([finger.at(91.6, 0.12), finger.at(92, 0.3)]) + smooth([finger.at(96, 0.1), finger.at(96.3, 0.28)])
    tip = finger.at(100, 0.5)
    others = Pointer((140, 92), (1, 0))
    pointers = {
        Part.THIS_FINGER: (Pointer((tip[0] + 11, tip[1]), (1, 0)),),
        Part.OTHER_FINGERS: (others,),
        Part.THUMB: (others,),
    }
    skin_then_thumb = BodyLine(skin, "skin"), BodyLine(thumb, "skin")
    return Scene(finger, skin_then_thumb, nail + creases, {Part.THIS_FINGER: finger}, pointers, shows_left=True)


def _shortened(point: Point, scale: float) -> Point:
    """A point beyond the knuckle moved toward it, so that the finger is `scale` times as long."""
    return KNUCKLE + (point[0] - KNUCKLE) * (scale if point[0] > KNUCKLE else 1), point[1]


def _curled_finger(start: Point, stop: Point) -> Line:
    """The open outline of a finger curled into the palm, whose end is turned to the right."""
    return join(smooth([start]), cap(start, stop, (1, 0.1)), close=False)


# Toes from the forefoot on, the big toe first, which is the upper one of a right foot; drawn by eye.
TOES = (
    Digit(Part.THIS_TOE, 168, 34, 4, 0, 46, 14.5, 13),
    Digit(Part.THIS_TOE, 172, 55, 3, 2, 40, 8.8, 8.2),
    Digit(Part.THIS_TOE, 168, 71, 7, 2, 34, 8, 7.6),
    Digit(Part.THIS_TOE, 160, 86, 11, 2, 30, 7.6, 7.2),
    Digit(Part.THIS_TOE, 148, 100, 16, 2, 26, 7.4, 7),
)


def toe_view(*, child: bool) -> Scene:
    """The front of the foot from above, big toe up, toes to the right."""
    toes = [digit_profile(toe, Placement(-12, -6, 1.05), child) for toe in TOES]
    edge: list[Point] = [(-8, 28), (50, 26), (96, 14), (140, 14), toes[0].at(91, 1)]
    skin = Line()
    for place, toe in enumerate(toes):
        start, stop, direction = toe.rounded_end(100)
        skin = join(skin, smooth([*edge, start]), cap(start, stop, direction), close=False)
        after = toes[place + 1] if place < 4 else None
        edge = [stop, toe.at(93, 0)]
        edge += [interpolate(toe.at(89, 0), after.at(89, 1), 0.5), after.at(93, 1)] if after else []
    skin = join(skin, smooth([*edge, (120, 110), (70, 98), (30, 90), (-8, 92)]))
    limb = Profile(
        (
            CrossSection(80, (0, 96), (0, 30)),
            CrossSection(94, toes[-1].at(87, 0), toes[0].at(87, 1)),
            CrossSection(100, toes[-1].at(100, 0), toes[0].at(100, 1)),
        )
    )
    tips = [Pointer(moved(toe.at(100, 0.5), toe.direction(100), 4), toe.direction(100)) for toe in toes]
    pointers = {Part.THIS_TOE: (tips[1], tips[2]), Part.OTHER_TOES: (tips[0], *tips[3:]), Part.TOES: tuple(tips)}
    return Scene(limb, (BodyLine(skin, "skin"),), nails(toes), {}, pointers, pair=(toes[1], toes[2]))
