"""What the phone page needs to work out a patient's own dates: the waits of the sheet's schedule, in minutes."""

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

# The figures whose dates stand on a sheet only where its advice names them (sheet/schedule.py).
ADVISED = frozenset({"ice_days", "raise_hours"})


@dataclass(frozen=True, slots=True)
class Wait:
    """One date of the schedule: its field, the wait since it was put on, and for whom.

    `only` are the ids of options or weight orders of which one must be true, empty meaning everyone; of `without` none may.
    `whole_days` dates are said without a time of day.
    """

    name: str
    minutes: int
    only: tuple[str, ...]
    without: tuple[str, ...]
    whole_days: bool


def waits(library: Library, sheet: FullSheet) -> tuple[Wait, ...]:
    """The dates a phone can work out from a sheet for everyone, read off the schedule itself so that the two cannot differ.

    Raises Refused where two passages name the figure of a date under different conditions: it could not say whose it is.
    """
    device, material = sheet.device, sheet.material
    advised = _advised(sheet)
    walking = tuple(library.weights[id_] for id_ in device.weights if library.weights[id_].walks)
    early = tuple(option for option in library.options.values() if option.early_visit)
    put_on = datetime(2001, 1, 1, tzinfo=UTC)  # any moment; in UTC no clock changes
    reference = Choices(device, material, options=early, weight=walking[0] if walking else None, applied=put_on)
    found = schedule(reference, library.figures, advised)
    ice, high = advised.get("ice_days", Condition()), advised.get("raise_hours", Condition())
    dates = (
        ("ice_until", found.ice_until, ice),
        ("raise_until", found.raise_until, high),
        ("dry_by", found.dry_by, Condition()),
        ("walk_from", found.walk_from, Condition(weights=tuple(weight.id for weight in walking))),
        ("early_until", found.early_until, Condition(options=tuple(option.id for option in early))),
    )
    return tuple(
        Wait(
            name, int((date - put_on).total_seconds()) // 60, asked.options or asked.weights, asked.without, name in WHOLE_DAYS
        )
        for name, date, asked in dates
        if date
    )


def _advised(sheet: FullSheet) -> dict[str, Condition]:
    """The figures of dates that the advice names, and for whom."""
    found: dict[str, Condition] = {}
    for section in sheet.sections:
        for entry in section.passages:
            for block in entry.item.blocks:
                for name in set(placeholders(block.text.message)) & ADVISED:
                    if found.setdefault(name, entry.condition) != entry.condition:
                        what = f"'{{{name}}}' stands here under another condition than elsewhere on this page."
                        advice = "Name it for the same patients in both places, or in one place only."
                        raise Refused([Problem(Fault.CONTRADICTION, what, advice=advice, where=block.text.where)])
    return found


def opening(hours: Iterable[OpeningHours]) -> str:
    """Opening hours for the script: `0,4,08:00,16:30` is Monday to Friday; a blank between."""
    return " ".join(f"{part.first},{part.last},{part.opens:%H:%M},{part.closes:%H:%M}" for part in hours)
