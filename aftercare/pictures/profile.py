"""Limbs and digits as profiles: cross-sections at known levels, so that the place of a device follows from levels alone.

A level is a per cent of the way from the trunk (0) to the tips (100); landmarks have their levels in library/body.py. Each
cross-section joins the `under` edge (little finger, back of the leg, sole) to the `over` edge (thumb, shin, instep). A place
across the limb is a fraction from 0 (under) to 1 (over).
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise

from aftercare.pictures.line import Line, Point, cap, interpolate, join, moved, smooth

Rows = tuple[tuple[float, Point, Point], ...]  # level, under edge, over edge; levels rising


def thickened(rows: Rows) -> Rows:
    """A child's limb: the same length, a tenth wider."""
    return tuple((level, interpolate(over, under, 1.05), interpolate(under, over, 1.05)) for level, under, over in rows)


@dataclass(frozen=True, slots=True)
class CrossSection:
    """The two edges of a limb at one level, in picture units."""

    level: float
    under: Point
    over: Point


@dataclass(frozen=True, slots=True)
class Profile:
    """Cross-sections from the trunk outward; at least two, levels rising."""

    sections: tuple[CrossSection, ...]

    @property
    def first(self) -> float:
        """The level nearest the trunk."""
        return self.sections[0].level

    @property
    def last(self) -> float:
        """The level nearest the tips."""
        return self.sections[-1].level

    def edges(self, level: float) -> tuple[Point, Point]:
        """The under and the over edge at a level; a level beyond the profile gives the cross-section at its end."""
        level = min(max(level, self.first), self.last)
        place = min(max(bisect_right([section.level for section in self.sections], level), 1), len(self.sections) - 1)
        low, high = self.sections[place - 1], self.sections[place]
        fraction = (level - low.level) / (high.level - low.level)
        return interpolate(low.under, high.under, fraction), interpolate(low.over, high.over, fraction)

    def at(self, level: float, across: float, pad: float = 0) -> Point:
        """The point at a level and a place `across`; `pad` moves both edges outward by so many units."""
        under, over = self.edges(level)
        width = abs(complex(over[0] - under[0], over[1] - under[1]))
        return interpolate(under, over, across + (2 * across - 1) * pad / width)

    def along(self, start: float, end: float, across: float, pad: float = 0) -> list[Point]:
        """The points from one level to another, in either direction, at one place across: one for each cross-section."""
        low, high = sorted((start, end))
        levels = [low, *(section.level for section in self.sections if low < section.level < high), high]
        if start > end:
            levels.reverse()
        return [self.at(level, across, pad) for level in levels]

    def length(self, start: float, end: float) -> float:
        """The length from one level to another along the middle, in picture units."""
        points = self.along(start, end, 0.5)
        return sum(abs(complex(a[0] - b[0], a[1] - b[1])) for a, b in pairwise(points))

    def direction(self, level: float) -> Point:
        """The direction toward the tips at a level, measured over the two levels before it; its length means nothing."""
        level = min(max(level, self.first + 2), self.last)
        here, back = self.at(level, 0.5), self.at(level - 2, 0.5)
        return here[0] - back[0], here[1] - back[1]

    def rounded_end(self, level: float, pad: float = 0) -> tuple[Point, Point, Point]:
        """The arguments of `cap` for a round end whose tip lies `pad` units beyond `level`: over, under, direction."""
        direction = self.direction(level)
        over, under = self.at(level, 1, pad), self.at(level, 0, pad)
        half = abs(complex(over[0] - under[0], over[1] - under[1])) / 2
        return moved(over, direction, pad - half), moved(under, direction, pad - half), direction

    def rounded_cover(self, start: float, level: float, pad: float = 0) -> Line:
        """The open outline of a cover over a fingertip: out on the over side, around the end at `level`, back."""
        over, under, direction = self.rounded_end(level, pad)
        out, back = self.along(start, level, 1, pad)[:-1], self.along(level, start, 0, pad)[1:]
        return join(smooth([*out, over]), cap(over, under, direction), smooth([under, *back]), close=False)
