"""Types of validated choices: one device, material, side, options, weight order and dates. Never an identity."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from aftercare.library.devices import Device, Material
from aftercare.library.modules import Option, Weight


class Side(StrEnum):
    """The side of the limb, as the patient sees it."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Choices:
    """The device, its material, and the facts about this patient.

    `applied`, when it was put on, and `visit`, the next one, are aware times in the clinic's time zone. `options` are in the
    order of their bits.
    """

    device: Device
    material: Material
    side: Side | None = None
    options: tuple[Option, ...] = ()
    weight: Weight | None = None
    applied: datetime | None = None
    visit: datetime | None = None
    removal: date | None = None


def describe(choices: Choices) -> str:
    """Describe the device, material, options and weight order in one phrase, by their ids."""
    options = ", ".join(option.id for option in choices.options) or "no options"
    weight = f", weight {choices.weight.id}" if choices.weight else ""
    return f"'{choices.device.id}' in '{choices.material.id}' with {options}{weight}"
