"""From the words a nurse or a command line gives to Choices; refuses with every problem at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material, Removal
from aftercare.library.modules import Option, Weight
from aftercare.sheet.choices import Choices, Side


@dataclass(frozen=True, slots=True)
class Picked:
    """Raw words, "" where nothing was given. Times are local to the clinic: 2026-11-25T14:30; `removal` is a day."""

    device: str
    material: str = ""
    side: str = ""
    options: tuple[str, ...] = ()
    weight: str = ""
    applied: str = ""
    visit: str = ""
    removal: str = ""


def choose(library: Library, picked: Picked) -> Choices:
    """The choices, checked against each other. Raises Refused."""
    problems: list[Problem] = []
    device = library.devices.get(picked.device)
    if device is None:
        known = tuple(library.devices)
        what = f"No device is called '{picked.device}'." if picked.device else "No device was chosen."
        raise Refused([Problem(Fault.UNKNOWN_DEVICE, what, listed(known), did_you_mean(picked.device, known), field="device")])
    material = _material(library, device, picked.material, problems)
    options = _options(library, device, material, picked.options, problems)
    weight = _weight(library, device, picked.weight, problems)
    _contradictions(options, weight, problems)
    zone = library.clinic.time_zone
    applied = _moment("applied", picked.applied, zone, problems)
    visit = _moment("visit", picked.visit, zone, problems)
    removal = _day(picked.removal, problems)
    _removal_asked(device, options, picked.removal, problems)
    _order(applied, visit, removal, problems)
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


def _material(library: Library, device: Device, word: str, problems: list[Problem]) -> Material | None:
    made_in = listed(device.materials)
    if not word and len(device.materials) == 1:
        return library.materials[device.materials[0]]
    if not word:
        problems.append(
            Problem(Fault.NEEDED, "No material was chosen.", made_in, "Choose what it was made from.", field="material")
        )
    elif word not in library.materials:
        what = f"No material is called '{word}'."
        problems.append(Problem(Fault.UNKNOWN_MATERIAL, what, made_in, did_you_mean(word, device.materials), field="material"))
    elif word not in device.materials:
        what = f"'{device.id}' is not made in '{word}'."
        problems.append(
            Problem(Fault.NOT_MADE_IN, what, made_in, "Choose the material again, or another device.", field="material")
        )
    else:
        return library.materials[word]
    return None


def _options(
    library: Library, device: Device, material: Material | None, words: Iterable[str], problems: list[Problem]
) -> tuple[Option, ...]:
    found: dict[str, Option] = {}
    for word in words:
        option = library.options.get(word)
        if option is None:
            known = tuple(library.options)
            what = f"No option is called '{word}'."
            problems.append(Problem(Fault.UNKNOWN_OPTION, what, listed(known), did_you_mean(word, known), field="options"))
            continue
        found[word] = option
        if material and option not in (can := options_for(library, device, material)):
            what = f"'{word}' cannot apply to '{device.id}' in '{material.id}'."
            problems.append(Problem(Fault.CANNOT_APPLY, what, listed(o.id for o in can), "Leave it out.", field="options"))
    return tuple(sorted(found.values(), key=lambda option: option.bit))


def _weight(library: Library, device: Device, word: str, problems: list[Problem]) -> Weight | None:
    allowed = listed(device.weights)
    if not device.weights:
        if word:
            what = f"'{device.id}' takes no weight order, but '{word}' was given."
            problems.append(Problem(Fault.CANNOT_APPLY, what, advice="Leave the weight order out.", field="weight"))
        return None
    if not word:
        what = "No weight order was chosen."
        problems.append(
            Problem(Fault.NEEDED, what, allowed, "Choose what the clinician ordered; the sheet never guesses.", field="weight")
        )
    elif word not in library.weights:
        what = f"No weight order is called '{word}'."
        problems.append(Problem(Fault.UNKNOWN_WEIGHT, what, allowed, did_you_mean(word, library.weights), field="weight"))
    elif word not in device.weights:
        what = f"'{device.id}' cannot carry the weight order '{word}'."
        problems.append(
            Problem(
                Fault.CONTRADICTION,
                what,
                allowed,
                "Check the order, or choose the device that may be walked on.",
                field="weight",
            )
        )
    else:
        return library.weights[word]
    return None


def _contradictions(options: tuple[Option, ...], weight: Weight | None, problems: list[Problem]) -> None:
    ids = {option.id for option in options} | ({weight.id} if weight else set())
    said: set[frozenset[str]] = set()
    for option in options:
        for other in option.conflicts:
            if other in ids and frozenset((option.id, other)) not in said:
                said.add(frozenset((option.id, other)))
                what = f"'{option.id}' and '{other}' cannot stand on one sheet."
                problems.append(Problem(Fault.CONTRADICTION, what, advice="Keep the one that is true.", field="options"))


def _side(device: Device, word: str, problems: list[Problem]) -> Side | None:
    if not word:
        return None
    if not device.sided:
        problems.append(
            Problem(Fault.CANNOT_APPLY, f"'{device.id}' has no left or right.", advice="Leave the side out.", field="side")
        )
        return None
    if word not in tuple(Side):
        problems.append(
            Problem(
                Fault.UNKNOWN_SIDE, f"No side is called '{word}'.", listed(Side), did_you_mean(word, tuple(Side)), field="side"
            )
        )
        return None
    return Side(word)


def _moment(key: str, word: str, zone: ZoneInfo, problems: list[Problem]) -> datetime | None:
    """A local time with its zone; one that the clocks skip in spring does not exist and is refused."""
    if not word:
        return None
    allowed = "A day and time such as 2026-11-25T14:30."
    try:
        naive = datetime.strptime(word.replace(" ", "T"), "%Y-%m-%dT%H:%M")  # noqa: DTZ007 - its zone comes next
    except ValueError:
        problems.append(Problem(Fault.BAD_DATE, f"'{key}' is '{word}', which is no day and time.", allowed, field=key))
        return None
    aware = naive.replace(tzinfo=zone)
    if aware.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != naive:
        what = f"'{key}' is '{word}', a time that the change to summer time skips in {zone.key}."
        problems.append(Problem(Fault.BAD_DATE, what, advice="Give the time the clock showed.", field=key))
        return None
    return aware


def _day(word: str, problems: list[Problem]) -> date | None:
    if not word:
        return None
    try:
        return datetime.strptime(word, "%Y-%m-%d").date()  # noqa: DTZ007 - a day has no zone
    except ValueError:
        problems.append(
            Problem(Fault.BAD_DATE, f"'removal' is '{word}', which is no day.", "A day such as 2026-12-23.", field="removal")
        )
        return None


def _removal_asked(device: Device, options: tuple[Option, ...], word: str, problems: list[Problem]) -> None:
    """A day of removal where an option hangs on it, and none on what only staff may take off."""
    asking = [option.id for option in options if option.needs_removal]
    if asking and not word:
        what = f"'{asking[0]}' needs the day it comes off."
        problems.append(
            Problem(Fault.NEEDED, what, "A day such as 2026-12-23.", "Give the day, or leave the option out.", field="removal")
        )
    elif word and not asking and device.removal is Removal.NEVER:
        what = f"'{device.id}' is taken off by staff only, but a day of removal was given."
        problems.append(Problem(Fault.CANNOT_APPLY, what, advice="Leave the day out.", field="removal"))


def _order(applied: datetime | None, visit: datetime | None, removal: date | None, problems: list[Problem]) -> None:
    if applied and visit and visit <= applied:
        what = f"The visit ({visit:%Y-%m-%d %H:%M}) is not after it was put on ({applied:%Y-%m-%d %H:%M})."
        problems.append(Problem(Fault.DATE_ORDER, what, "A visit after that.", "Check both dates.", field="visit"))
    if applied and removal and removal <= applied.date():
        what = f"It comes off ({removal}) no later than it was put on ({applied:%Y-%m-%d})."
        problems.append(Problem(Fault.DATE_ORDER, what, "A later day.", "Check both dates.", field="removal"))
