"""The other end of a printed code: what a fragment says, or that no sheet has it."""

from __future__ import annotations

from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material
from aftercare.library.modules import Option, Weight
from aftercare.sheet.address import BASE32, fragment
from aftercare.sheet.choices import Choices, Side

SIDES = {"N": None, "H": Side.LEFT, "R": Side.RIGHT}


def read_fragment(
    library: Library, device: Device, material: Material, written: str
) -> tuple[Side | None, Weight | None, tuple[Option, ...]]:
    """Side, weight order and options. Raises ValueError for whatever we would not have written ourselves."""
    if len(written) < 4 or written[0] not in SIDES or not set(written) <= set(BASE32):
        raise ValueError(written)
    orders = {weight.digit: weight for weight in library.weights.values() if weight.id in device.weights}
    weight = orders.get(int(written[1])) if written[1].isdecimal() else None
    mask = 0
    for letter in written[2:-1]:
        mask = mask * 32 + BASE32.index(letter)
    options = tuple(option for option in library.options.values() if mask >> option.bit & 1)
    side = SIDES[written[0]]
    if fragment(Choices(device, material, side, options, weight)) != written:
        raise ValueError(written)
    return side, weight, options
