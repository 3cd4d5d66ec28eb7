"""Computes the dates of a sheet from the time when the device was put on: a pure function of choices and figures."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from aftercare.errors import Fault, Refused
from aftercare.library.figures import Figure
from aftercare.sheet.choices import Choices

_UNIT = {"minute": timedelta(minutes=1), "hour": timedelta(hours=1), "day": timedelta(days=1), "week": timedelta(weeks=1)}


@dataclass(frozen=True, slots=True)
class Schedule:
    """Times in the clinic's time zone; None where unknown or not needed.

    `visit_early` is true where a swelling risk requires a check within 24-48 hours and the visit given is later or
    missing, which the sheet then states. `early_from` and `early_until` are the ends of that window.
    """

    applied: datetime | None = None
    ice_until: datetime | None = None
    raise_until: datetime | None = None
    dry_by: datetime | None = None
    walk_from: datetime | None = None
    visit: datetime | None = None
    removal: date | None = None
    visit_early: bool = False
    early_from: datetime | None = None
    early_until: datetime | None = None


def schedule(choices: Choices, figures: Mapping[str, Figure], mentioned: Collection[str]) -> Schedule:
    """Compute the dates of a sheet. `mentioned` are the names in braces in its advice: other dates would have no advice.

    Hours are elapsed hours, so a clock change in between changes the time shown and not the wait. Each wait is the
    upper end of its figure, since a longer wait is safer. Raises Refused where a figure is missing or has no unit of time.
    """
    material, applied = choices.material, choices.applied

    def later(figure_id: str | None, *, least: bool = False) -> datetime | None:
        """The time of putting on plus the upper end of a figure, or the lower end with `least`."""
        if figure_id is None:
            return None
        figure = figures.get(figure_id)
        if figure is None or figure.unit not in _UNIT:
            what = "The dates of a sheet need a figure {} in minutes, hours, days or weeks."
            raise Refused.one(Fault.MISSING_KEY, what, subject=(figure_id,), advice="Add it to content/figures.yaml.")
        if applied is None:
            return None
        wait = (figure.low if least else figure.high) * _UNIT[figure.unit]
        return (applied.astimezone(UTC) + wait).astimezone(applied.tzinfo)

    early = any(option.early_visit for option in choices.options)
    early_until = later("early_visit_hours") if early else None
    on_time = (  # compared in UTC: Python compares times of one zone by the wall clock
        choices.visit is not None and early_until is not None and choices.visit.astimezone(UTC) <= early_until.astimezone(UTC)
    )
    walks = choices.weight is not None and choices.weight.walks
    return Schedule(
        applied=applied,
        ice_until=later("ice_days") if "ice_days" in mentioned else None,
        raise_until=later("raise_hours") if "raise_hours" in mentioned else None,
        dry_by=later(material.dry_after),
        walk_from=later(material.walk_after) if walks else None,
        visit=choices.visit,
        removal=choices.removal,
        visit_early=early and not on_time,
        early_from=later("early_visit_hours", least=True) if early else None,
        early_until=early_until,
    )
