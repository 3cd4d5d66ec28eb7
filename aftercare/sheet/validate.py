"""Validates the words of a form or a command line as Choices, and reports every problem at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from aftercare.errors import Fault, Problem, Refused, nearest
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material, Removal
from aftercare.library.modules import Option, Weight
from aftercare.sheet.choices import Choices, Side


@dataclass(frozen=True, slots=True)
class Picked:
    """Words as given, "" where none was. Times are local to the clinic: 2026-11-25T14:30; `removal` is a day."""

    device: str
    material: str = ""
    side: str = ""
    options: tuple[str, ...] = ()
    weight: str = ""
    applied: str = ""
    visit: str = ""
    removal: str = ""


def choose(library: Library, picked: Picked) -> Choices:
    """Validate the words, each alone and against the others. Raises Refused with every problem."""
    problems: list[Problem] = []
    device = library.devices.get(picked.device)
    if device is None:
        raise _no_device(library, picked.device)
    material = _material(library, device, picked.material, problems)
    options = _options(library, device, material, picked.options, problems)
    weight = _weight(library, device, picked.weight, problems)
    problems += _contradictions(options, weight)
    zone = library.clinic.time_zone
    applied = _moment("applied", picked.applied, zone, problems)
    visit = _moment("visit", picked.visit, zone, problems)
    removal = _day(picked.removal, problems)
    problems += _removal_problems(device, options, picked.removal)
    problems += _order_problems(applied, visit, removal)
    side = _side(device, picked.side, problems)
    if problems or material is None:
        raise Refused(problems)
    return Choices(device, material, side, options, weight, applied, visit, removal)


def options_for(library: Library, device: Device, material: Material) -> tuple[Option, ...]:
    """The options that can apply to this device in this material, in the order of their bits."""
    return tuple(
        option
        for option in library.options.values()
        if option.applies.fits(device, material) and not (option.unless.about_device and option.unless.fits(device, material))
    )


def weights_for(library: Library, device: Device) -> tuple[Weight, ...]:
    """The weight orders that can apply to this device."""
    return tuple(weight for weight in library.weights.values() if weight.id in device.weights)


def _no_device(library: Library, word: str) -> Refused:
    devices = tuple(library.devices)
    if not word:
        return Refused.one(Fault.UNKNOWN_DEVICE, "No device was chosen.", allowed=devices, field="device")
    what, suggestion = "No device is called {}.", nearest(word, devices)
    return Refused.one(Fault.UNKNOWN_DEVICE, what, subject=(word,), allowed=devices, suggestion=suggestion, field="device")


def _material(library: Library, device: Device, word: str, problems: list[Problem]) -> Material | None:
    materials, field = device.materials, "material"
    if not word and len(materials) == 1:
        return library.materials[materials[0]]
    if not word:
        what, advice = "No material was chosen.", "Choose what it was made from."
        problems.append(Problem(Fault.NEEDED, what, allowed=materials, advice=advice, field=field))
    elif word not in library.materials:
        fault, what, suggestion = Fault.UNKNOWN_MATERIAL, "No material is called {}.", nearest(word, materials)
        problems.append(Problem(fault, what, subject=(word,), allowed=materials, suggestion=suggestion, field=field))
    elif word not in materials:
        what, subject = "{} is not made in {}.", (device.id, word)
        advice = "Choose the material again, or another device."
        problems.append(Problem(Fault.NOT_MADE_IN, what, subject=subject, allowed=materials, advice=advice, field=field))
    else:
        return library.materials[word]
    return None


def _options(
    library: Library, device: Device, material: Material | None, words: Iterable[str], problems: list[Problem]
) -> tuple[Option, ...]:
    """The options with these ids in the order of their bits, each once; without a material, what fits it is not checked."""
    known, field = tuple(library.options), "options"
    fitting = tuple(option.id for option in options_for(library, device, material)) if material else known
    options: dict[str, Option] = {}
    for word in words:
        option = library.options.get(word)
        if option is None:
            fault, what, suggestion = Fault.UNKNOWN_OPTION, "No option is called {}.", nearest(word, known)
            problems.append(Problem(fault, what, subject=(word,), allowed=known, suggestion=suggestion, field=field))
            continue
        options[word] = option
        if material and word not in fitting:
            what, subject = "{} cannot apply to {} in {}.", (word, device.id, material.id)
            advice = "Leave it out."
            problems.append(Problem(Fault.CANNOT_APPLY, what, subject=subject, allowed=fitting, advice=advice, field=field))
    return tuple(sorted(options.values(), key=lambda option: option.bit))


def _weight(library: Library, device: Device, word: str, problems: list[Problem]) -> Weight | None:
    weights, field = device.weights, "weight"
    if not weights:
        if word:
            what, advice = "{} takes no weight order, but {} was given.", "Leave the weight order out."
            problems.append(Problem(Fault.CANNOT_APPLY, what, subject=(device.id, word), advice=advice, field=field))
        return None
    if not word:
        what, advice = "No weight order was chosen.", "Choose what the clinician ordered; the sheet never guesses."
        problems.append(Problem(Fault.NEEDED, what, allowed=weights, advice=advice, field=field))
    elif word not in library.weights:
        fault, what, suggestion = Fault.UNKNOWN_WEIGHT, "No weight order is called {}.", nearest(word, library.weights)
        problems.append(Problem(fault, what, subject=(word,), allowed=weights, suggestion=suggestion, field=field))
    elif word not in weights:
        what, subject = "{} cannot carry the weight order {}.", (device.id, word)
        advice = "Check the order, or choose the device that may be walked on."
        problems.append(Problem(Fault.CONTRADICTION, what, subject=subject, allowed=weights, advice=advice, field=field))
    else:
        return library.weights[word]
    return None


def _contradictions(options: tuple[Option, ...], weight: Weight | None) -> list[Problem]:
    """One problem for each two of the options and the weight order that conflict, whichever of the two declares it."""
    chosen = {option.id for option in options} | ({weight.id} if weight else set())
    pairs: dict[frozenset[str], tuple[str, str]] = {}
    for option in options:
        for other in option.conflicts:
            if other in chosen:
                pairs.setdefault(frozenset((option.id, other)), (option.id, other))
    what, advice = "{} and {} cannot stand on one sheet.", "Keep the one that is true."
    return [Problem(Fault.CONTRADICTION, what, subject=pair, advice=advice, field="options") for pair in pairs.values()]


def _side(device: Device, word: str, problems: list[Problem]) -> Side | None:
    if not word:
        return None
    sides = tuple(Side)
    if not device.sided:
        what, advice = "{} has no left or right.", "Leave the side out."
        problems.append(Problem(Fault.CANNOT_APPLY, what, subject=(device.id,), advice=advice, field="side"))
        return None
    if word not in sides:
        fault, what, suggestion = Fault.UNKNOWN_SIDE, "No side is called {}.", nearest(word, sides)
        problems.append(Problem(fault, what, subject=(word,), allowed=sides, suggestion=suggestion, field="side"))
        return None
    return Side(word)


def _moment(key: str, word: str, zone: ZoneInfo, problems: list[Problem]) -> datetime | None:
    """Parse a local time; one that does not exist, because the clocks skip it in spring, is a problem."""
    if not word:
        return None
    try:
        naive = datetime.strptime(word.replace(" ", "T"), "%Y-%m-%dT%H:%M")  # noqa: DTZ007 - its zone comes next
    except ValueError:
        what, allowed = "{} is {}, which is no day and time.", ("a day and time such as 2026-11-25T14:30",)
        problems.append(Problem(Fault.BAD_DATE, what, subject=(key, word), allowed=allowed, field=key))
        return None
    aware = naive.replace(tzinfo=zone)
    if aware.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != naive:
        what, subject = "{} is {}, a time that the change to summer time skips in {}.", (key, word, zone.key)
        advice = "Give the time the clock showed."
        problems.append(Problem(Fault.BAD_DATE, what, subject=subject, advice=advice, field=key))
        return None
    return aware


# The form of a day of removal, as problems name it.
_DAY = ("a day such as 2026-12-23",)


def _day(word: str, problems: list[Problem]) -> date | None:
    if not word:
        return None
    try:
        return datetime.strptime(word, "%Y-%m-%d").date()  # noqa: DTZ007 - a day has no zone
    except ValueError:
        what, subject = "{} is {}, which is no day.", ("removal", word)
        problems.append(Problem(Fault.BAD_DATE, what, subject=subject, allowed=_DAY, field="removal"))
        return None


def _removal_problems(device: Device, options: tuple[Option, ...], word: str) -> list[Problem]:
    """Require a day of removal where an option depends on it; refuse one for a device that only staff may take off."""
    dated = [option.id for option in options if option.needs_removal]
    if dated and not word:
        what, advice = "{} needs the day it comes off.", "Give the day, or leave the option out."
        return [Problem(Fault.NEEDED, what, subject=(dated[0],), allowed=_DAY, advice=advice, field="removal")]
    if word and not dated and device.removal is Removal.NEVER:
        what, advice = "{} is taken off by staff only, but a day of removal was given.", "Leave the day out."
        return [Problem(Fault.CANNOT_APPLY, what, subject=(device.id,), advice=advice, field="removal")]
    return []


def _order_problems(applied: datetime | None, visit: datetime | None, removal: date | None) -> list[Problem]:
    """Require the visit and the removal to be after the application."""
    problems, advice = [], "Check both dates."
    if applied and visit and visit <= applied:
        what, allowed = "The visit at {} is not after it was put on, at {}.", ("a visit after that",)
        subject = (f"{visit:%Y-%m-%d %H:%M}", f"{applied:%Y-%m-%d %H:%M}")
        problems.append(Problem(Fault.DATE_ORDER, what, subject=subject, allowed=allowed, advice=advice, field="visit"))
    if applied and removal and removal <= applied.date():
        what, allowed = "It comes off on {}, no later than it was put on, on {}.", ("a later day",)
        subject = (f"{removal}", f"{applied:%Y-%m-%d}")
        problems.append(Problem(Fault.DATE_ORDER, what, subject=subject, allowed=allowed, advice=advice, field="removal"))
    return problems
