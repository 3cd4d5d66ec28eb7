"""Converts the parsed files of devices and materials into frozen types."""

from __future__ import annotations

from aftercare.errors import Fault
from aftercare.library.body import EXTREMITY, LOWER_LANDMARKS, PARTS, UPPER_LANDMARKS, Extremity, Landmark, Limb, Part
from aftercare.library.devices import Device, Family, Kind, Material, Removal, Shape
from aftercare.library.header import Fields
from aftercare.library.source import Source


def _range(header: Fields, key: str) -> tuple[int, int] | None:
    """(low, high) from one number or a list of two; None where the key is absent."""
    numbers = header.numbers(key, needed=False)
    if not numbers:
        return None
    low, high = numbers[0], numbers[-1]
    if len(numbers) > 2 or low > high:
        header.blame(Fault.BAD_VALUE, "The key {} should have one number, or [least, most].", subject=(key,), key=key)
    return int(low), int(high)


def _sourced_range(header: Fields, key: str, source_key: str) -> tuple[tuple[int, int] | None, str]:
    """The range under `key` with its source; one without the other is a problem."""
    numbers = _range(header, key)
    source = header.text(source_key, "" if numbers is None else None)
    if source and numbers is None:
        header.blame(Fault.BAD_VALUE, "The key {} needs {} beside it.", subject=(source_key, key), key=source_key)
    return numbers, source


def read_device(source: Source) -> Device:
    """Convert a device file; parts that its limb does not have, and weight orders on an upper extremity, are problems."""
    header = source.header
    limb = Limb(header.word("limb", tuple(Limb)))
    landmarks = UPPER_LANDMARKS if EXTREMITY[limb] is Extremity.UPPER else LOWER_LANDMARKS
    parts = tuple(Part)
    first_visit_days, first_visit_source = _sourced_range(header, "first-visit-days", "first-visit-source")
    weeks, weeks_source = _sourced_range(header, "weeks", "weeks-source")
    device = Device(
        id=header.text("id"),
        code=header.text("code"),
        name=source.title,
        purpose=source.paragraph("A device has exactly one paragraph: what it does for the patient."),
        kind=Kind(header.word("kind", tuple(Kind))),
        noun=header.text("noun"),
        limb=limb,
        start=Landmark(header.word("from", landmarks)),
        end=Landmark(header.word("to", landmarks)),
        shape=Shape(header.word("shape", tuple(Shape))),
        held=tuple(Part(word) for word in header.words("holds", parts)),
        enclosed=tuple(Part(word) for word in header.words("encloses", parts)),
        materials=header.words("materials", needed=True),
        removal=Removal(header.word("removal", tuple(Removal))),
        loosens=header.flag("loosens", False),
        weights=header.words("weights"),
        first_visit_days=first_visit_days,
        first_visit_source=first_visit_source,
        weeks=weeks,
        weeks_source=weeks_source,
        position=header.text("position", ""),
        checks=tuple(Part(word) for word in header.words("checks", parts)),
        sided=header.flag("sided", True),
        also_called=header.words("also-called"),
        where=source.where,
    )
    for key, device_parts in (("holds", device.held), ("encloses", device.enclosed)):
        for part in device_parts:
            if part not in PARTS[limb]:
                what = "The key {} has {}, which is no part of this limb."
                header.blame(Fault.BAD_VALUE, what, subject=(key, part), allowed=PARTS[limb], key=key)
    if (EXTREMITY[limb] is Extremity.LOWER) != bool(device.weights):
        what = "A device on the lower extremity needs {}, the weight orders that can apply; no other has them."
        header.blame(Fault.BAD_VALUE, what, subject=("weights",), key="weights")
    header.done()
    return device


def read_material(source: Source) -> Material:
    """Convert a material file: its name, and below it notes for staff."""
    header = source.header
    material = Material(
        id=header.text("id"),
        code=header.text("code"),
        name=source.title,
        family=Family(header.word("family", tuple(Family))),
        dry_after=header.text("dry-after", "") or None,
        walk_after=header.text("walk-after", "") or None,
        notes=tuple(block.text for block in source.blocks),
        where=source.where,
    )
    header.done()
    return material
