"""Finds the devices and materials for a supply charge code. The codes are public; content/supply-codes.yaml maps them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from aftercare.errors import Fault, Refused, Where, nearest
from aftercare.library.devices import Device, Family, Material
from aftercare.library.header import Fields

# The codes' limit between the age groups: pediatric is 0 to 10 years (HCPCS Level II, long descriptions).
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

    `kind` and `words` name its family; `age` is None where the code has no age group. `families` are those of the materials
    it covers. `devices` are ids, the plainest first, and empty where there is no such device.
    """

    code: str
    kind: str
    words: str
    age: Age | None
    families: tuple[Family, ...]
    devices: tuple[str, ...]
    where: Where


def read_supplies(fields: Fields, devices: Iterable[str]) -> dict[str, Supply]:
    """Convert the supply codes, by code in file order; `devices` are the ids that may be named."""
    supplies: dict[str, Supply] = {}
    device_ids = tuple(devices)
    for kind in fields.keys():
        inner = fields.inside(kind)
        codes = inner.inside("codes", needed=True)
        words, families = inner.text("words"), tuple(Family(word) for word in inner.words("families", tuple(Family)))
        named = inner.words("devices", device_ids, needed=True)
        for group in codes.keys():
            code = codes.text(group)
            age, family = _GROUPS.get(group, (None, None))
            if not family and group != _ANY:
                allowed = (*_GROUPS, _ANY)
                what, suggestion = "Unknown group {}.", nearest(group, allowed)
                codes.blame(Fault.UNKNOWN_KEY, what, subject=(group,), allowed=allowed, suggestion=suggestion, key=group)
            elif code in supplies:
                what, subject = "The code {} is taken by {}.", (code, supplies[code].kind)
                codes.blame(Fault.DUPLICATE, what, subject=subject, advice="Keep one.", key=group)
            else:
                covered = (family,) if family else families
                supplies[code] = Supply(code, kind, words, age, covered, named, codes.place(group))
        inner.done()
    return supplies


def find_supply(supplies: Mapping[str, Supply], typed: str) -> Supply:
    """Look up a supply code as a person typed it. Raises Refused for an unknown code and for one without a device."""
    usable = tuple(code for code, supply in supplies.items() if supply.devices)
    supply = supplies.get(typed.strip().upper())
    if supply is None:
        what, advice = "{} is not a supply code for a cast or splint.", "Check the code, or choose the device by its name."
        raise Refused.one(Fault.BAD_CODE, what, subject=(typed,), allowed=usable, advice=advice)
    if not supply.devices:
        raise Refused.one(
            Fault.UNKNOWN_DEVICE,
            "{} means {}, for which there is no sheet.",
            subject=(supply.code, supply.words),
            allowed=usable,
            advice="Choose the device by its name.",
            where=supply.where,
        )
    return supply


def sheets_for(
    supply: Supply, devices: Mapping[str, Device], materials: Mapping[str, Material]
) -> tuple[tuple[Device, Material], ...]:
    """Every pair of a device and a material that the code can mean, the plainest device first."""
    return tuple(
        (device, materials[material])
        for device in (devices[id_] for id_ in supply.devices)
        for material in device.materials
        if materials[material].family in supply.families
    )


def sheet_for(
    supply: Supply, devices: Mapping[str, Device], materials: Mapping[str, Material], device: str = "", material: str = ""
) -> tuple[Device, Material]:
    """The one device and material that the code means, limited to those named ("" where none is).

    Raises Refused where none or several fit, listing those that do: guessing could print another limb's sheet.
    """
    sheets = sheets_for(supply, devices, materials)
    device_ids = tuple(dict.fromkeys(fitting_device.id for fitting_device, _ in sheets))
    if device and device not in device_ids:
        raise _not_meant(supply, "device", device, device_ids)
    if not device and len(device_ids) > 1:
        raise _several(supply, "device", device_ids)
    of_device = [sheet for sheet in sheets if device in ("", sheet[0].id)]
    material_ids = tuple(fitting_material.id for _, fitting_material in of_device)
    if material and material not in material_ids:
        raise _not_meant(supply, "material", material, material_ids)
    remaining = [sheet for sheet in of_device if material in ("", sheet[1].id)]
    if len(remaining) > 1:
        raise _several(supply, "material", material_ids)
    return remaining[0]


def _not_meant(supply: Supply, field: str, word: str, fitting: tuple[str, ...]) -> Refused:
    what, subject = f"{{}} ({{}}) does not mean the {field} {{}}.", (supply.code, supply.words, word)
    suggestion = nearest(word, fitting)
    return Refused.one(Fault.CONTRADICTION, what, subject=subject, allowed=fitting, suggestion=suggestion, field=field)


def _several(supply: Supply, field: str, fitting: tuple[str, ...]) -> Refused:
    what, advice = f"{{}} ({{}}) fits more than one {field}.", f"Name the {field} as well."
    return Refused.one(Fault.NEEDED, what, subject=(supply.code, supply.words), allowed=fitting, advice=advice, field=field)
