"""The devices as cards to choose from, each with its drawing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from aftercare.library.body import Limb
from aftercare.library.devices import Device
from aftercare.pictures import device_thumbnail


@dataclass(frozen=True, slots=True)
class Card:
    """A device to choose.

    `also` lists its other names, `picture` is an SVG, and `search_words` holds every word that finds it, in lower case.
    """

    id: str
    name: str
    also: str
    picture: str
    search_words: str


@dataclass(frozen=True, slots=True)
class Group:
    """The devices of one part of the body."""

    title: str
    cards: tuple[Card, ...]


def device_groups(devices: Iterable[Device]) -> tuple[Group, ...]:
    """Every device by part of the body, in the order of Limb."""
    order = list(Limb)
    ordered = sorted(devices, key=lambda device: (order.index(device.limb), device.name.message))
    grouped = groupby(ordered, key=lambda device: device.limb)
    return tuple(Group(limb.value.capitalize(), tuple(_card(device) for device in members)) for limb, members in grouped)


def _card(device: Device) -> Card:
    words = " ".join((device.name.message, *device.also_called, device.limb, device.kind, device.noun)).lower()
    return Card(device.id, device.name.message, ", ".join(device.also_called), device_thumbnail(device), words)
