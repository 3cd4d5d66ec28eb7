"""Figures: every clinical number, once, with its unit, published range and source."""

from __future__ import annotations

from dataclasses import dataclass

from aftercare.errors import Where


@dataclass(frozen=True, slots=True)
class Figure:
    """One number or range, as content/figures.yaml or the clinic file sets it.

    `low` and `high` are equal for a single number; `unit` is one of UNITS. `published` is the (least, greatest) value
    found in print and `source` says where; `memory` marks a range that rests on memory and so cannot be the only ground.
    """

    id: str
    low: float
    high: float
    unit: str
    published: tuple[float, float]
    source: str
    memory: bool
    where: Where


# CLDR duration and temperature units, plus a bare count; anything else would need wording we could not translate.
UNITS = ("minute", "hour", "day", "week", "celsius", "count")
