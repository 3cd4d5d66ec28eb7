"""A limb as a ladder: rungs across it at known levels. Where a device lies on the limb follows from levels alone.

Every rung joins the `under` side (little finger, back of the leg, sole) to the `over` side (thumb, shin, instep).
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise

from aftercare.pictures.line import Line, Point, between, cap, moved, onto, smooth

Rows = tuple[tuple[float, Point, Point], ...]  # level, under edge, over edge


def plump(rows: Rows) -> Rows:
    """A child's limb: the same length, a tenth thicker."""
    return tuple((level, between(over, under, 1.05), between(under, over, 1.05)) for level, under, over in rows)


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
        width = abs(complex(over[0] - under[0], over[1] - under[1]))
        return between(under, over, across + (2 * across - 1) * pad / width)

    def rail(self, start: float, end: float, across: float, pad: float = 0) -> list[Point]:
        """The points along the limb from one level to another (either way round) at one place across it."""
        low, high = sorted((start, end))
        levels = [low, *(rung.level for rung in self.rungs if low < rung.level < high), high]
        if start > end:
            levels.reverse()
        return [self.at(level, across, pad) for level in levels]

    def length(self, start: float, end: float) -> float:
        """How long a stretch is along its middle, in picture units."""
        points = self.rail(start, end, 0.5)
        return sum(abs(complex(a[0] - b[0], a[1] - b[1])) for a, b in pairwise(points))

    def onward(self, level: float) -> Point:
        """The direction toward the tips at a level."""
        level = min(max(level, self.first + 2), self.last)
        here, back = self.at(level, 0.5), self.at(level - 2, 0.5)
        return here[0] - back[0], here[1] - back[1]

    def end(self, level: float, pad: float = 0) -> tuple[Point, Point, Point]:
        """Where a soft end at a level begins and stops (over side, under side), and the direction it bulges."""
        onward = self.onward(level)
        over, under = self.at(level, 1, pad), self.at(level, 0, pad)
        half = abs(complex(over[0] - under[0], over[1] - under[1])) / 2
        return moved(over, onward, pad - half), moved(under, onward, pad - half), onward

    def rounded(self, start: float, level: float, pad: float = 0) -> Line:
        """Out along the over side, round a soft end at `level`, and back along the under side: the cover of a finger."""
        over, under, onward = self.end(level, pad)
        out, home = self.rail(start, level, 1, pad)[:-1], self.rail(level, start, 0, pad)[1:]
        return onto(smooth([*out, over]), cap(over, under, onward), smooth([under, *home]), close=False)
