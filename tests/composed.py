"""Sheets composed in one line, and every choice there is by brute force."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from aftercare.check.combinations import compatible
from aftercare.library.catalogue import Library
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import arrange, settle
from aftercare.sheet.sheet import FullSheet, Passage, PatientSheet, Sign
from aftercare.sheet.validate import Picked, choose, options_for, weights_for


def sheet(library: Library, device: str = "arm-cast", material: str = "", *options: str, weight: str = "") -> PatientSheet:
    """The sheet for one patient; "" is the only material, or no weight order."""
    return sheet_of(library, choose(library, Picked(device, material, options=options, weight=weight)))


def sheet_of(library: Library, choices: Choices) -> PatientSheet:
    """The sheet for these choices."""
    return settle(library, arrange(library, choices.device, choices.material), choices)


def full_sheet(library: Library, device: str, material: str) -> FullSheet:
    """Everything that can stand on a sheet for a device in a material."""
    return arrange(library, library.devices[device], library.materials[material])


def items(sheet: PatientSheet) -> list[Sign | Passage]:
    """Every sign, then every passage of a patient's sheet, in its order."""
    signs = (sign for group in sheet.groups for sign in group.signs)
    passages = (passage for section in sheet.sections for passage in section.passages)
    return [*signs, *passages]


def modules(sheet: PatientSheet) -> list[str]:
    """The ids of everything on a patient's sheet, in its order."""
    return [item.id for item in items(sheet)]


def all_choices(library: Library, device_id: str, material_id: str) -> Iterator[Choices]:
    """Every set of options that may stand together, under every weight order."""
    device, material = library.devices[device_id], library.materials[material_id]
    options = options_for(library, device, material)
    for weight in weights_for(library, device) or (None,):
        for size in range(len(options) + 1):
            for picked in combinations(options, size):
                if compatible(picked, weight):
                    yield Choices(device, material, None, picked, weight)
