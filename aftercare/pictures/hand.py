"""A hand from its back or its palm, thumb up, fingers to the right: one outline, and a profile for each digit.

A hand is computed in units of its own, each a hundredth of its length from the wrist to the tip of the middle finger: x along
the hand, y toward the little finger, (0, 0) at the middle of the wrist.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.line import Line, Point, cap, interpolate, join, smooth
from aftercare.pictures.profile import CrossSection, Profile

WRIST, ROOT, TIP = LEVEL[Landmark.WRIST], LEVEL[Landmark.KNUCKLES], LEVEL[Landmark.FINGERTIPS]
MIDDLE, LAST = LEVEL[Landmark.MIDDLE_JOINTS], LEVEL[Landmark.TIP_JOINTS]


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a drawing in units of its own stands in the picture: its origin, picture units per own unit, and its turn.

    The turn is clockwise, in degrees.
    """

    x: float
    y: float
    scale: float
    turn: float = 0

    def point(self, x: float, y: float) -> Point:
        """A point in own units as a point in picture units."""
        angle = radians(self.turn)
        right, down = x * self.scale, y * self.scale
        return self.x + right * cos(angle) - down * sin(angle), self.y + right * sin(angle) + down * cos(angle)


@dataclass(frozen=True, slots=True)
class Digit:
    """One digit in the units of the hand: its root (x, y), length, and half widths at `root` and `tip`.

    `turn` is its direction at the root and `bend` how much it turns up to the tip, both clockwise, in degrees.
    """

    part: Part
    x: float
    y: float
    turn: float
    bend: float
    length: float
    root: float
    tip: float


# Proportions of a relaxed open hand; drawn by eye.
THUMB = Digit(Part.THUMB, 18, -14, -52, 20, 47, 9.5, 6.2)
FINGERS = (
    Digit(Part.INDEX, 51, -16.5, -13, 8, 43, 6.2, 5.5),
    Digit(Part.MIDDLE, 54, -4.6, -4, 4, 47, 6.2, 5.6),
    Digit(Part.RING, 52, 7.4, 6, -2, 44, 6.0, 5.4),
    Digit(Part.LITTLE, 46, 18.6, 18, -8, 36, 5.6, 4.9),
)


@dataclass(frozen=True, slots=True)
class Hand:
    """A hand in picture units: its closed outline, which includes the forearm, and its landmarks."""

    skin: Line
    digits: dict[Part, Profile]
    details: Line
    web: Point  # the fold between thumb and index finger
    wrist: tuple[Point, Point]  # little-finger side, thumb side
    heel: Point  # the little-finger edge of the palm


def digit_profile(digit: Digit, place: Placement, child: bool) -> Profile:
    """The profile of a digit, with cross-sections at root, middle joint, last joint and tip; a child's is shorter and wider."""
    length = digit.length * (0.82 if child else 1)
    wide = 1.1 if child else 1
    sections = []
    x, y, turn, reached = digit.x, digit.y, digit.turn, 0.0
    for level, fraction in ((ROOT, 0.0), (MIDDLE, 0.42), (LAST, 0.72), (TIP, 1.0)):
        step = (fraction - reached) * length
        x, y, reached = x + step * cos(radians(turn)), y + step * sin(radians(turn)), fraction
        half = (digit.root + (digit.tip - digit.root) * fraction) * wide
        across = radians(turn + digit.bend / 6)
        sx, sy = -sin(across) * half, cos(across) * half
        sections.append(CrossSection(level, place.point(x + sx, y + sy), place.point(x - sx, y - sy)))
        turn += digit.bend / 2
    return Profile(tuple(sections))


def hand(place: Placement, over: Sequence[Point], under: Sequence[Point], *, child: bool = False, palm: bool = False) -> Hand:
    """The hand at a place. Its outline continues the edges of the forearm, `over` and `under`, each given toward the wrist.

    `palm` draws creases instead of nails.
    """
    thumb = digit_profile(THUMB, place, child)
    fingers = [digit_profile(digit, place, child) for digit in FINGERS]
    digits = (thumb, *fingers)
    wrist = place.point(0, 16), place.point(0, -15.5)
    folds = [place.point(39, -20)]
    folds += [interpolate(first.at(ROOT, 0), second.at(ROOT, 1), 0.5) for first, second in pairwise(fingers)]
    points = [*over, wrist[1], place.point(8, -17), place.point(15, -25), thumb.at(MIDDLE, 1)]
    edge = Line()
    for number, (profile, fold) in enumerate(zip(digits, [*folds, None], strict=True)):
        start, stop, direction = profile.rounded_end(TIP)
        edge = join(edge, smooth([*points, start]), cap(start, stop, direction), close=False)
        points = [stop, profile.at(MIDDLE, 0)]
        if fold:
            points += [fold, digits[number + 1].at(MIDDLE, 1)]
    heel = place.point(26, 26)
    edge = join(
        edge, smooth([*points, place.point(46, 24), heel, place.point(8, 18.5), wrist[0], *reversed(under)]), close=False
    )
    web = place.point(41, -23)
    profiles = dict(zip((THUMB.part, *(digit.part for digit in FINGERS)), (thumb, *fingers), strict=True))
    return Hand(join(edge), profiles, palm_creases(place) if palm else nails(digits), web, wrist, heel)


def nails(profiles: Iterable[Profile]) -> Line:
    """A nail near the tip of each digit, as open lines."""
    drawn = Line()
    for profile in profiles:
        drawn += smooth([profile.at(level, across) for level, across in ((99, 0.24), (97, 0.2), (97, 0.8), (99, 0.76))])
    return drawn


def palm_creases(place: Placement) -> Line:
    """The crease across the palm and the line around the ball of the thumb, as open lines."""
    lines = (((52, -12), (36, -8), (30, 16)), ((44, -18), (24, -14), (14, 2)))
    return sum((smooth([place.point(x, y) for x, y in line]) for line in lines), Line())
