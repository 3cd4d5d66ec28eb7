"""What the phone page needs to work out a patient's own dates: the waits of the sheet's schedule, in minutes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from aftercare.language.speak import WHOLE_DAYS
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Opening
from aftercare.library.words import placeholders
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import schedule
from aftercare.sheet.sheet import Condition, Sheet


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


def waits(library: Library, sheet: Sheet) -> tuple[Wait, ...]:
    """The dates a phone can work out from a sheet for everyone, read off the schedule itself so that the two cannot differ."""
    device, material = sheet.choices.device, sheet.choices.material
    advised = dict(_advised(sheet))
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


def _advised(sheet: Sheet) -> Iterator[tuple[str, Condition]]:
    """Each value that the advice names, and for whom."""
    for section in sheet.sections:
        for passage in section.passages:
            for block in passage.blocks:
                yield from ((name, passage.condition) for name in placeholders(block.text.message))


def opening(hours: Iterable[Opening]) -> str:
    """Opening hours for the script: `0,4,08:00,16:30` is Monday to Friday; a blank between."""
    return " ".join(f"{part.first},{part.last},{part.opens:%H:%M},{part.closes:%H:%M}" for part in hours)
