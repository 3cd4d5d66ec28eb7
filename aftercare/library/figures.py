"""Type of a clinical number with its unit, published range and source."""

from __future__ import annotations

from dataclasses import dataclass

from aftercare.errors import Where


@dataclass(frozen=True, slots=True)
class Figure:
    """One number or range, as content/figures.yaml or the clinic file sets it.

    `low` and `high` are equal for a single number; `unit` is one of UNITS. `published` is the (least, greatest) value
    in print and `source` the publication; `memory` marks a range quoted from memory, which cannot be the only source.
    """

    id: str
    low: float
    high: float
    unit: str
    published: tuple[float, float]
    source: str
    memory: bool
    where: Where


# CLDR duration and temperature units, which can be translated, and a number without a unit.
UNITS = ("minute", "hour", "day", "week", "celsius", "count")
