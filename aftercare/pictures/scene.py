"""What a view of a limb hands to the drawing of the device."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from aftercare.library.body import Part
from aftercare.pictures.ladder import Ladder
from aftercare.pictures.line import Line, Point

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Paint:
    """One line of the body and the name of its fill, empty for a bare line."""

    line: Line
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where a pointer to a tip stands: its point, and the direction away from the tip."""

    at: Point
    out: Point


@dataclass(frozen=True, slots=True)
class Scene:
    """One view of a limb in picture units.

    `limb` carries the levels a device is laid between; `skin` is the body from the back forward; `details` nails and creases;
    `digits` the ladders of what may be enclosed; `marks` the pointers to the tips that may have to be checked; `web` the fold
    beside the thumb; `pair` two neighboring digits that may be taped together; `spans` the levels where a bandage can go
    round; `bend` where elbow or heel turn too sharply for threads. `flipped` says that as it stands it shows a left limb.
    """

    limb: Ladder
    skin: tuple[Paint, ...]
    details: Line
    digits: Mapping[Part, Ladder] = field(default_factory=dict)
    marks: Mapping[Part, tuple[Pointer, ...]] = field(default_factory=dict)
    web: Point | None = None
    pair: tuple[Ladder, Ladder] | None = None
    spans: tuple[Span, ...] = ((0, 100),)
    bend: Span = (0, 0)
    flipped: bool = False
