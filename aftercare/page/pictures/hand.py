"""A hand seen from the back (or the palm), thumb up, fingers to the right. One outline, and one ladder for each digit."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.page.pictures.ladder import Ladder, Line, Point, Rung, between, smooth

WRIST, ROOT, TIP = LEVEL[Landmark.WRIST], LEVEL[Landmark.KNUCKLES], LEVEL[Landmark.FINGERTIPS]
MIDDLE, LAST = LEVEL[Landmark.MIDDLE_JOINTS], LEVEL[Landmark.TIP_JOINTS]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a drawing made at its own size stands in the picture: `scale` units per own unit, turned clockwise by `turn` degrees."""

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
    """How a digit grows: root, direction and bend in degrees (down is positive), length and half widths, in per cent of the hand."""

    part: Part
    x: float
    y: float
    turn: float
    bend: float
    length: float
    root: float
    tip: float


# Proportions of a relaxed open hand, per cent of its length from wrist to middle fingertip; drawn by eye.
DIGITS = (
    Digit(Part.THUMB, 22, -19, -44, 14, 40, 9.5, 6.3),
    Digit(Part.INDEX, 53, -15.6, -11, 4, 43, 6.4, 5.1),
    Digit(Part.MIDDLE, 56, -4.2, -2, 1, 46, 6.4, 5.2),
    Digit(Part.RING, 54, 7, 7, -3, 42, 6.1, 5.0),
    Digit(Part.LITTLE, 49, 17.2, 18, -6, 33, 5.6, 4.6),
)


@dataclass(frozen=True, slots=True)
class Hand:
    """The finished hand: outline pieces from the thumb-side wrist to the other, and where everything lies."""

    edge: tuple[tuple[Point, ...], ...]
    digits: dict[Part, Ladder]
    details: Line
    web: Point  # the fold between thumb and index finger
    heel: tuple[Point, ...]  # little-finger edge of the palm, from the little finger's root to the wrist


def grown(digit: Digit, place: Place, child: bool) -> Ladder:
    """One digit as a ladder: root, middle joint, last joint, and just short of the tip."""
    length = digit.length * (0.84 if child else 1)
    wide = 1.14 if child else 1
    rungs = []
    x, y, turn, done = digit.x, digit.y, digit.turn, 0.0
    for level, part in ((ROOT, 0.0), (MIDDLE, 0.42), (LAST, 0.72), (TIP, 1.0)):
        step = (part - done) * length
        x, y, done = x + step * cos(radians(turn)), y + step * sin(radians(turn)), part
        half = (digit.root + (digit.tip - digit.root) * part) * wide
        across = radians(turn + digit.bend / 4)
        sx, sy = -sin(across) * half, cos(across) * half
        rungs.append(Rung(level, place.point(x + sx, y + sy), place.point(x - sx, y - sy)))
        turn += digit.bend / 2
    return Ladder(tuple(rungs))


def rounded(ladder: Ladder, start: float, end: float, pad: float = 0) -> list[Point]:
    """Round a digit from its over side to its under side, with a soft end at level `end`."""
    over, under = ladder.rail(start, end, 1, pad), ladder.rail(end, start, 0, pad)
    wide = abs(complex(*over[-1]) - complex(*under[0]))
    back = 0.62 * wide / max(abs(complex(*ladder.at(end, 0.5)) - complex(*ladder.at(start, 0.5))), wide)
    return [
        *over[:-1],
        between(over[-1], ladder.at(start, 1, pad), back),
        over[-1],
        under[0],
        between(under[0], ladder.at(start, 0, pad), back),
        *under[1:],
    ]


def hand(place: Place, *, child: bool = False, palm: bool = False) -> Hand:
    """The hand at a place; `palm` shows creases instead of nails."""
    ladders = {digit.part: grown(digit, place, child) for digit in DIGITS}
    thumb, index, little = ladders[Part.THUMB], ladders[Part.INDEX], ladders[Part.LITTLE]
    web = place.point(43, -24)
    heel = (little.at(ROOT, 0), place.point(38, 22.5), place.point(18, 19.5), place.point(4, 15.5))
    ball = (place.point(0, -15), place.point(10, -18))
    edge = (
        (*ball, *rounded(thumb, MIDDLE - 2, TIP)[0:], web),
        (web, *rounded(index, ROOT, TIP)),
        *(tuple(rounded(ladders[part], ROOT, TIP)) for part in (Part.MIDDLE, Part.RING)),
        (*rounded(little, ROOT, TIP), *heel[1:]),
    )
    return Hand(edge, ladders, palm_lines(place) if palm else nails(ladders), web, heel)


def nails(ladders: dict[Part, Ladder]) -> Line:
    """A small nail near each tip."""
    drawn = Line(())
    for ladder in ladders.values():
        drawn += smooth([ladder.at(level, across) for level, across in ((99, 0.24), (97, 0.2), (97, 0.8), (99, 0.76))])
    return drawn


def palm_lines(place: Place) -> Line:
    """The two creases of a palm and the line round the ball of the thumb."""
    lines = (((50, -14), (36, -8), (30, 16)), ((46, 14), (40, 4), (44, -6)), ((44, -18), (26, -12), (14, 2)))
    return sum((smooth([place.point(x, y) for x, y in line]) for line in lines), Line(()))
