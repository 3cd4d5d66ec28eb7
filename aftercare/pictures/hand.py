"""A hand seen from the back (or the palm), thumb up, fingers to the right. One outline, and one ladder for each digit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.ladder import Ladder, Rung
from aftercare.pictures.line import Line, Point, between, cap, onto, smooth

WRIST, ROOT, TIP = LEVEL[Landmark.WRIST], LEVEL[Landmark.KNUCKLES], LEVEL[Landmark.FINGERTIPS]
MIDDLE, LAST = LEVEL[Landmark.MIDDLE_JOINTS], LEVEL[Landmark.TIP_JOINTS]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a drawing made at its own size stands in the picture: `scale` units per own unit, turned clockwise."""

    x: float
    y: float
    scale: float
    turn: float = 0

    def point(self, x: float, y: float) -> Point:
        """The place in the picture of one own point."""
        angle = radians(self.turn)
        right, down = x * self.scale, y * self.scale
        return self.x + right * cos(angle) - down * sin(angle), self.y + right * sin(angle) + down * cos(angle)


@dataclass(frozen=True, slots=True)
class Digit:
    """How a digit grows: root, direction and bend in degrees (clockwise), length and half widths, in per cent of the hand."""

    part: Part
    x: float
    y: float
    turn: float
    bend: float
    length: float
    root: float
    tip: float


# Proportions of a relaxed open hand, per cent of its length from wrist to middle fingertip; drawn by eye.
THUMB = Digit(Part.THUMB, 18, -14, -52, 20, 47, 9.5, 6.2)
FINGERS = (
    Digit(Part.INDEX, 51, -16.5, -13, 8, 43, 6.2, 5.5),
    Digit(Part.MIDDLE, 54, -4.6, -4, 4, 47, 6.2, 5.6),
    Digit(Part.RING, 52, 7.4, 6, -2, 44, 6.0, 5.4),
    Digit(Part.LITTLE, 46, 18.6, 18, -8, 36, 5.6, 4.9),
)


@dataclass(frozen=True, slots=True)
class Hand:
    """The finished hand: its outline from the thumb side of the forearm round to the other, and where everything lies."""

    skin: Line
    digits: dict[Part, Ladder]
    details: Line
    web: Point  # the fold between thumb and index finger
    wrist: tuple[Point, Point]  # little-finger side, thumb side
    heel: Point  # the little-finger edge of the palm


def grown(digit: Digit, place: Place, child: bool) -> Ladder:
    """One digit as a ladder: root, middle joint, last joint, tip. A child's are shorter and plumper."""
    length = digit.length * (0.82 if child else 1)
    wide = 1.1 if child else 1
    rungs = []
    x, y, turn, done = digit.x, digit.y, digit.turn, 0.0
    for level, part in ((ROOT, 0.0), (MIDDLE, 0.42), (LAST, 0.72), (TIP, 1.0)):
        step = (part - done) * length
        x, y, done = x + step * cos(radians(turn)), y + step * sin(radians(turn)), part
        half = (digit.root + (digit.tip - digit.root) * part) * wide
        across = radians(turn + digit.bend / 6)
        sx, sy = -sin(across) * half, cos(across) * half
        rungs.append(Rung(level, place.point(x + sx, y + sy), place.point(x - sx, y - sy)))
        turn += digit.bend / 2
    return Ladder(tuple(rungs))


def hand(place: Place, over: Sequence[Point], under: Sequence[Point], *, child: bool = False, palm: bool = False) -> Hand:
    """The hand at a place, its outline running on from the forearm's edges (`over` and `under`, both toward the wrist).

    `palm` shows creases instead of nails.
    """
    thumb = grown(THUMB, place, child)
    fingers = [grown(digit, place, child) for digit in FINGERS]
    digits = (thumb, *fingers)
    wrist = place.point(0, 16), place.point(0, -15.5)
    folds = [place.point(39, -20)]
    folds += [between(one.at(ROOT, 0), two.at(ROOT, 1), 0.5) for one, two in pairwise(fingers)]
    away = [*over, wrist[1], place.point(8, -17), place.point(15, -25), thumb.at(MIDDLE, 1)]
    edge = Line()
    for turn, (ladder, fold) in enumerate(zip(digits, [*folds, None], strict=True)):
        start, stop, onward = ladder.end(TIP)
        edge = onto(edge, smooth([*away, start]), cap(start, stop, onward), close=False)
        away = [stop, ladder.at(MIDDLE, 0)]
        if fold:
            away += [fold, digits[turn + 1].at(MIDDLE, 1)]
    heel = place.point(26, 26)
    edge = onto(edge, smooth([*away, place.point(46, 24), heel, place.point(8, 18.5), wrist[0], *reversed(under)]), close=False)
    web = place.point(41, -23)
    ladders = dict(zip((THUMB.part, *(digit.part for digit in FINGERS)), (thumb, *fingers), strict=True))
    return Hand(onto(edge), ladders, palm_lines(place) if palm else nails(digits), web, wrist, heel)


def nails(ladders: Iterable[Ladder]) -> Line:
    """A small nail near each tip."""
    drawn = Line()
    for ladder in ladders:
        drawn += smooth([ladder.at(level, across) for level, across in ((99, 0.24), (97, 0.2), (97, 0.8), (99, 0.76))])
    return drawn


def palm_lines(place: Place) -> Line:
    """The creases of a palm and the line round the ball of the thumb."""
    lines = (((52, -12), (36, -8), (30, 16)), ((44, -18), (24, -14), (14, 2)))
    return sum((smooth([place.point(x, y) for x, y in line]) for line in lines), Line())
