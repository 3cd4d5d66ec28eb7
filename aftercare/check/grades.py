"""The reading grade of English sheets, as counted by language.readability."""

from __future__ import annotations

from collections.abc import Iterator

from aftercare.check.combinations import compatible
from aftercare.errors import Fault, Problem
from aftercare.language.approval import Approvals
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.translate import translate
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material
from aftercare.library.modules import URGENT
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.sheet import Sheet
from aftercare.sheet.validate import options_for, weights_for
from aftercare.understanding.readability import Reading, blocks, grade

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
    translated = translate(sheet, LANGUAGES[SOURCE], None, library.clinic, Approvals())
    whole, danger = grade(blocks(translated)), grade(danger_blocks(translated))
    for name, reading, highest in (("sheet", whole, HIGHEST_GRADE), ("danger box", danger, HIGHEST_GRADE_OF_DANGER)):
        for formula, found in _grades(reading, highest):
            what = f"The {name} for '{sheet.choices.device.id}' reads at grade {found:.1f} ({formula})."
            allowed = f"At most {highest:g}."
            yield Problem(Fault.HARD_TO_READ, what, allowed, "Use shorter words and sentences.", sheet.choices.device.where)


def danger_blocks(translated: TranslatedSheet) -> Iterator[str]:
    """What the danger box says, sign by sign, with its values."""
    for group in translated.sheet.groups:
        if group.tier in URGENT:
            for text in (group.title, *(text for sign in group.signs for text in (sign.sign, sign.why))):
                yield PLACEHOLDER.sub(lambda match: translated.values[match[1]].text, translated.translation(text))


def _grades(reading: Reading, highest: float) -> Iterator[tuple[str, float]]:
    if reading.flesch_kincaid > highest:
        yield "Flesch-Kincaid", reading.flesch_kincaid
    if reading.smog > highest:
        yield "SMOG", reading.smog
