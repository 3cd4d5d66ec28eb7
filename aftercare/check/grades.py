"""Checks the reading grade of English sheets (`understanding.readability`)."""

from __future__ import annotations

from collections.abc import Iterator

from aftercare.check.combinations import compatible
from aftercare.desk import Desk
from aftercare.errors import Fault, Problem
from aftercare.language.languages import SOURCE
from aftercare.language.translated import TranslatedSheet
from aftercare.library.modules import URGENT
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.choices import Choices
from aftercare.sheet.sheet import FullSheet, PatientSheet
from aftercare.sheet.validate import options_for, weights_for
from aftercare.understanding.readability import Reading, blocks, grade

# US school grades. AMA and many hospitals: sixth grade; the danger box, which frightened people read, is one grade easier.
HIGHEST_GRADE, HIGHEST_GRADE_OF_DANGER = 6.0, 5.0


def grade_problems(desk: Desk, sheet: FullSheet) -> Iterator[Problem]:
    """Return the grades that are too high on the sheets of a device in a material, without options and with each option alone.

    Raises Refused as `Desk.translate` does.
    """
    device, material = sheet.device, sheet.material
    for weight in weights_for(desk.library, device) or (None,):
        for options in ((), *((option,) for option in options_for(desk.library, device, material))):
            if compatible(options, weight):
                yield from sheet_grade_problems(desk.translate(Choices(device, material, None, options, weight), SOURCE))


def sheet_grade_problems(translated: TranslatedSheet[PatientSheet]) -> Iterator[Problem]:
    """Return the grades that are too high on one English sheet, of the whole sheet and of its danger box."""
    device = translated.sheet.choices.device
    whole, danger = grade(blocks(translated)), grade(danger_blocks(translated))
    for name, reading, highest in (("sheet", whole, HIGHEST_GRADE), ("danger box", danger, HIGHEST_GRADE_OF_DANGER)):
        for formula, value in _grades_above(reading, highest):
            yield Problem(
                Fault.HARD_TO_READ,
                f"The {name} for {{}} reads at grade {value:.1f} ({formula}).",
                subject=(device.id,),
                allowed=(f"at most {highest:g}",),
                advice="Use shorter words and sentences.",
                where=device.where,
            )


def danger_blocks(translated: TranslatedSheet[PatientSheet]) -> Iterator[str]:
    """Return the texts of the danger box in order, with their values."""
    for group in translated.sheet.groups:
        if group.tier in URGENT:
            for text in (group.title, *(text for sign in group.signs for text in (sign.sign, sign.why))):
                yield PLACEHOLDER.sub(lambda match: translated.values[match[1]].text, translated.translation(text))


def _grades_above(reading: Reading, highest: float) -> Iterator[tuple[str, float]]:
    if reading.flesch_kincaid > highest:
        yield "Flesch-Kincaid", reading.flesch_kincaid
    if reading.smog > highest:
        yield "SMOG", reading.smog
