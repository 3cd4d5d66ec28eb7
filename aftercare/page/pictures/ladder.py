"""A limb as a ladder: rungs across it at known levels. Where a device lies on the limb follows from levels alone.

Every rung joins the `under` side (little finger, back of the leg, sole) to the `over` side (thumb, shin, instep).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Point = tuple[float, float]


def between(one: Point, other: Point, part: float) -> Point:
    """The point a `part` (0 to 1) of the way from one to the other."""
    return one[0] + (other[0] - one[0]) * part, one[1] + (other[1] - one[1]) * part


@dataclass(frozen=True, slots=True)
class Rung:
    """One level of a limb (per cent from the trunk) with its two edges, in picture units."""

    level: float
    under: Point
    over: Point


@dataclass(frozen=True, slots=True)
class Ladder:
    """Rungs from the trunk outward; at least two, levels rising."""

    rungs: tuple[Rung, ...]

    @property
    def first(self) -> float:
        """The level nearest the trunk."""
        return self.rungs[0].level

    @property
    def last(self) -> float:
        """The level nearest the tips."""
        return self.rungs[-1].level

    def edges(self, level: float) -> tuple[Point, Point]:
        """Both edges at a level; a level off the ladder gives its nearest rung."""
        level = min(max(level, self.first), self.last)
        place = min(max(bisect_right([rung.level for rung in self.rungs], level), 1), len(self.rungs) - 1)
        low, high = self.rungs[place - 1], self.rungs[place]
        part = (level - low.level) / (high.level - low.level)
        return between(low.under, high.under, part), between(low.over, high.over, part)

    def at(self, level: float, across: float, pad: float = 0) -> Point:
        """A point on the limb: `across` runs from 0 (under) to 1 (over); `pad` pushes both edges outward."""
        under, over = self.edges(level)
        width = ((over[0] - under[0]) ** 2 + (over[1] - under[1]) ** 2) ** 0.5
        return between(under, over, across + (2 * across - 1) * pad / width)

    def rail(self, start: float, end: float, across: float, pad: float = 0) -> list[Point]:
        """The points along the limb from one level to another (either way round) at one place across it."""
        low, high = sorted((start, end))
        levels = [low, *(rung.level for rung in self.rungs if low < rung.level < high), high]
        if start > end:
            levels.reverse()
        return [self.at(level, across, pad) for level in levels]


Step = tuple[str, tuple[Point, ...]]


@dataclass(frozen=True, slots=True)
class Line:
    """A drawn line as SVG path commands with absolute points: M, L, Q and Z."""

    steps: tuple[Step, ...]

    def __add__(self, other: Line) -> Line:
        return Line(self.steps + other.steps)

    @property
    def points(self) -> tuple[Point, ...]:
        """Every point of the path, control points included."""
        return tuple(point for _, points in self.steps for point in points)

    def data(self, mirror_at: float = 0) -> str:
        """The `d` attribute in relative commands with at most one decimal; `mirror_at` is the width to mirror within."""
        written: list[str] = []
        here, begun, before = (0.0, 0.0), (0.0, 0.0), ""
        for letter, points in self.steps:
            numbers: list[str] = []
            placed = [(round(mirror_at - x if mirror_at else x, 1), round(y, 1)) for x, y in points]
            for point in placed:  # every point of one relative command counts from where it began
                numbers += [_number(point[axis] - here[axis]) for axis in (0, 1)]
            command = letter.lower()
            joined = _packed(numbers)
            if command == before and command != "m":
                joined = joined if joined.startswith("-") else f" {joined}"
            else:
                joined = command + joined
            written.append(joined)
            here, before = (placed[-1] if placed else begun), command
            begun = here if letter == "M" else begun
        return "".join(written)


def _number(value: float) -> str:
    text = f"{value:.1f}".removesuffix(".0")
    text = text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text
    return "0" if text in ("-0", "") else text


def _packed(numbers: Iterable[str]) -> str:
    packed = ""
    for number in numbers:
        packed += number if not packed or number.startswith("-") else f" {number}"
    return packed


def smooth(points: Sequence[Point], *, on: bool = False) -> Line:
    """A soft line from the first point to the last, drawn toward those between; `on` continues a line begun before."""
    steps: list[Step] = [("L" if on else "M", (points[0],))]
    inner = points[1:-1]
    for place, control in enumerate(inner):
        end = points[-1] if place == len(inner) - 1 else between(control, inner[place + 1], 0.5)
        steps.append(("Q", (control, end)))
    if not inner:
        steps.append(("L", (points[-1],)))
    return Line(tuple(steps))


def closed(*pieces: Sequence[Point]) -> Line:
    """A closed shape of soft lines with corners only where two pieces meet."""
    line = Line(())
    for place, piece in enumerate(pieces):
        line += smooth(piece, on=place > 0) if len(piece) > 1 else Line((("L" if place else "M", (piece[0],)),))
    return line + Line((("Z", ()),))
