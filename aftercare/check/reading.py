"""The reading grade of English sheets, as counted by language.readability."""

from __future__ import annotations

from collections.abc import Iterator

from aftercare.check.combinations import compatible
from aftercare.errors import Fault, Problem
from aftercare.language.approval import Approvals
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.readability import Reading, blocks, grade
from aftercare.language.speak import speak
from aftercare.language.spoken import SpokenSheet
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material
from aftercare.library.modules import URGENT
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.picked import options_for, weights_for
from aftercare.sheet.sheet import Sheet

# AMA and many hospitals: sixth grade; the danger box is read in fear, so it is one grade easier.
HIGHEST_GRADE, HIGHEST_GRADE_OF_DANGER = 6.0, 5.0


def reading_problems(library: Library, device: Device, material: Material) -> Iterator[Problem]:
    """Sheets of a device in a material that read too hard, with no option and with each option alone."""
    for weight in weights_for(library, device) or (None,):
        for options in ((), *((option,) for option in options_for(library, device, material))):
            if compatible(options, weight):
                yield from sheet_reading_problems(library, compose(library, Choices(device, material, None, options, weight)))


def sheet_reading_problems(library: Library, sheet: Sheet) -> Iterator[Problem]:
    """What is too hard about one sheet."""
    spoken = speak(sheet, LANGUAGES[SOURCE], None, library.clinic, Approvals())
    whole, danger = grade(blocks(spoken)), grade(danger_blocks(spoken))
    for name, reading, highest in (("sheet", whole, HIGHEST_GRADE), ("danger box", danger, HIGHEST_GRADE_OF_DANGER)):
        for formula, found in _grades(reading, highest):
            what = f"The {name} for '{sheet.choices.device.id}' reads at grade {found:.1f} ({formula})."
            allowed = f"At most {highest:g}."
            yield Problem(Fault.HARD_TO_READ, what, allowed, "Use shorter words and sentences.", sheet.choices.device.where)


def danger_blocks(spoken: SpokenSheet) -> Iterator[str]:
    """What the danger box says, sign by sign, with its values."""
    for group in spoken.sheet.groups:
        if group.tier in URGENT:
            for text in (group.title, *(text for sign in group.signs for text in (sign.sign, sign.why))):
                yield PLACEHOLDER.sub(lambda match: spoken.values[match[1]].text, spoken.say(text))


def _grades(reading: Reading, highest: float) -> Iterator[tuple[str, float]]:
    if reading.flesch_kincaid > highest:
        yield "Flesch-Kincaid", reading.flesch_kincaid
    if reading.smog > highest:
        yield "SMOG", reading.smog
