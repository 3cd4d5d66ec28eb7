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


def sheet_for(
    supply: Supply, devices: Mapping[str, Device], materials: Mapping[str, Material], device: str = "", material: str = ""
) -> tuple[Device, Material]:
    """The one device and material that the code means, narrowed by what is named ("" where nothing is).

    Raises Refused where none or several fit, listing those that do: guessing could print another limb's sheet.
    """
    fitting = sheets_for(supply, devices, materials)
    meant = tuple(dict.fromkeys(each.id for each, _ in fitting))
    if device and device not in meant:
        raise _not_meant(supply, "device", device, meant)
    left = [pair for pair in fitting if device in ("", pair[0].id)]
    if not device and len(meant) > 1:
        raise _several(supply, "device", meant)
    made_in = tuple(each.id for _, each in left)
    if material and material not in made_in:
        raise _not_meant(supply, "material", material, made_in)
    left = [pair for pair in left if material in ("", pair[1].id)]
    if len(left) > 1:
        raise _several(supply, "material", made_in)
    return left[0]


def _not_meant(supply: Supply, field: str, word: str, fitting: tuple[str, ...]) -> Refused:
    what = f"'{supply.code}' ({supply.words}) does not mean the {field} '{word}'."
    return Refused([Problem(Fault.CONTRADICTION, what, listed(fitting), did_you_mean(word, fitting), field=field)])


def _several(supply: Supply, field: str, fitting: tuple[str, ...]) -> Refused:
    what = f"'{supply.code}' ({supply.words}) fits more than one {field}."
    return Refused([Problem(Fault.NEEDED, what, listed(fitting), f"Name the {field} as well.", field=field)])
