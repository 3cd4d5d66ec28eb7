"""Computes data for the phone page's script: the waits of a sheet's schedule, and the clinic's opening hours."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.translate import WHOLE_DAYS
from aftercare.library.catalogue import Library
from aftercare.library.clinic import OpeningHours
from aftercare.library.words import placeholders
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import schedule
from aftercare.sheet.sheet import Condition, FullSheet

# A sheet shows the dates of these figures only if its advice names them (sheet/schedule.py).
DATE_FIGURES = frozenset({"ice_days", "raise_hours"})


@dataclass(frozen=True, slots=True)
class Wait:
    """The time in minutes from application to a date of the schedule, and the condition for patients who have that date.

    `name` is the field of `Schedule`. A date with `whole_days` is shown without a time of day.
    """

    name: str
    minutes: int
    condition: Condition
    whole_days: bool


def waits(library: Library, sheet: FullSheet) -> tuple[Wait, ...]:
    """Return the waits of all dates that the phone page of a full sheet can compute.

    They are measured on a computed schedule, so that paper and phone cannot differ. Raises Refused where two passages name the
    figure of a date under different conditions, because it is then unclear which patients have that date.
    """
    device, material = sheet.device, sheet.material
    conditions = _advice_conditions(sheet)
    walking = tuple(library.weights[id_] for id_ in device.weights if library.weights[id_].walks)
    early = tuple(option for option in library.options.values() if option.early_visit)
    applied = datetime(2001, 1, 1, tzinfo=UTC)  # any moment: UTC has no clock changes
    reference = Choices(device, material, options=early, weight=walking[0] if walking else None, applied=applied)
    times = schedule(reference, library.figures, conditions)
    dates = (
        ("ice_until", times.ice_until, conditions.get("ice_days", Condition())),
        ("raise_until", times.raise_until, conditions.get("raise_hours", Condition())),
        ("dry_by", times.dry_by, Condition()),
        ("walk_from", times.walk_from, Condition(weights=tuple(weight.id for weight in walking))),
        ("early_until", times.early_until, Condition(options=tuple(option.id for option in early))),
    )
    return tuple(
        Wait(name, int((date - applied).total_seconds()) // 60, condition, name in WHOLE_DAYS)
        for name, date, condition in dates
        if date
    )


def _advice_conditions(sheet: FullSheet) -> dict[str, Condition]:
    """Return, for each figure of `DATE_FIGURES` that the advice names, the condition of the passages that name it."""
    conditions: dict[str, Condition] = {}
    problems = []
    for section in sheet.sections:
        for entry in section.passages:
            for block in entry.item.blocks:
                for name in sorted(set(placeholders(block.text.message)) & DATE_FIGURES):
                    if conditions.setdefault(name, entry.condition) != entry.condition:
                        problems.append(
                            Problem(
                                Fault.CONTRADICTION,
                                "{} has another condition here than elsewhere on this page.",
                                subject=(f"{{{name}}}",),
                                advice="Name it for the same patients in both places, or in one place only.",
                                where=block.text.where,
                            )
                        )
    if problems:
        raise Refused(problems)
    return conditions


def opening_hours_code(hours: Iterable[OpeningHours]) -> str:
    """Format opening hours for `isOpen` in page.js: `0,4,08:00,16:30` is Monday to Friday; entries are separated by spaces."""
    return " ".join(f"{part.first},{part.last},{part.opens:%H:%M},{part.closes:%H:%M}" for part in hours)
