"""From a supply charge code to the devices and materials it can mean. The codes are public; which devices they mean is ours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from aftercare.errors import Fault, Problem, Refused, Where, did_you_mean, listed
from aftercare.library.devices import Device, Family, Material
from aftercare.library.header import Fields

# The codes' own line between the age groups: pediatric is 0 to 10 years (HCPCS Level II, long descriptions).
ADULT_FROM_YEARS = 11


class Age(StrEnum):
    """The age group a code is for."""

    ADULT = "adult"
    CHILD = "child"


_GROUPS = {f"{age}-{family}": (age, family) for age in Age for family in (Family.PLASTER, Family.FIBERGLASS)}
_ANY = "any"


@dataclass(frozen=True, slots=True)
class Supply:
    """One HCPCS Level II code (Q4001 to Q4051).

    `kind` and `words` name its family; `age` is None where the code has no age group. `families` are the materials it
    covers. `devices` are ids, the plainest first, and empty where we have no such device.
    """

    code: str
    kind: str
    words: str
    age: Age | None
    families: tuple[Family, ...]
    devices: tuple[str, ...]
    where: Where


def read_supplies(fields: Fields, devices: Iterable[str]) -> dict[str, Supply]:
    """The supply codes by code, in the order of the file; `devices` are the ids that may be named."""
    supplies: dict[str, Supply] = {}
    known = tuple(devices)
    for kind in fields.keys():
        inner = fields.inside(kind)
        codes = inner.inside("codes", needed=True)
        words, families = inner.text("words"), tuple(Family(word) for word in inner.words("families", tuple(Family)))
        meant = inner.words("devices", known, needed=True)
        for group in codes.keys():
            code = codes.text(group)
            age, family = _GROUPS.get(group, (None, None))
            if not family and group != _ANY:
                allowed = (*_GROUPS, _ANY)
                advice = did_you_mean(group, allowed)
                problem = Problem(Fault.UNKNOWN_KEY, f"Unknown group '{group}'.", listed(allowed), advice, codes.place(group))
                fields.problems.append(problem)
            elif code in supplies:
                what = f"'{code}' is taken by '{supplies[code].kind}'."
                fields.problems.append(Problem(Fault.DUPLICATE, what, advice="Keep one.", where=codes.place(group)))
            else:
                covered = (family,) if family else families
                supplies[code] = Supply(code, kind, words, age, covered, meant, codes.place(group))
        inner.done()
    return supplies


def find_supply(supplies: Mapping[str, Supply], typed: str) -> Supply:
    """The supply code as a person typed it. Raises Refused for one that is unknown or that no device of ours goes with."""
    usable = [code for code, supply in supplies.items() if supply.devices]
    found = supplies.get(typed.strip().upper())
    if found is None:
        what = f"'{typed}' is not a supply code for a cast or splint."
        raise Refused([Problem(Fault.BAD_CODE, what, listed(usable), "Check the code, or choose the device by its name.")])
    if not found.devices:
        what = f"'{found.code}' means '{found.words}', for which there is no sheet."
        raise Refused([Problem(Fault.UNKNOWN_DEVICE, what, listed(usable), "Choose the device by its name.", found.where)])
    return found


def sheets_for(
    supply: Supply, devices: Mapping[str, Device], materials: Mapping[str, Material]
) -> tuple[tuple[Device, Material], ...]:
    """Every device and material the code can mean, the plainest device first."""
    return tuple(
        (device, materials[material])
        for device in (devices[id_] for id_ in supply.devices)
        for material in device.materials
        if materials[material].family in supply.families
    )
