"""Translates a sheet: every message must have a sound translation; values are formatted as the language writes them."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import fields
from datetime import date, datetime
from typing import TypeVar

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.language.approval import Approvals
from aftercare.language.edition import edition, fingerprint
from aftercare.language.languages import SOURCE, Direction, Language
from aftercare.language.messages import Messages
from aftercare.language.translated import TranslatedSheet, Value
from aftercare.language.values import listing, measure, moment, opening_hours, phone
from aftercare.library.clinic import Clinic
from aftercare.library.words import placeholders
from aftercare.sheet.schedule import Schedule
from aftercare.sheet.sheet import FullSheet, PatientSheet

SheetT = TypeVar("SheetT", FullSheet, PatientSheet)

# Fields of Schedule shown without a time of day, which would be more exact than a wait counted in days.
WHOLE_DAYS = frozenset({"ice_until", "raise_until", "removal"})


def translate(
    sheet: SheetT, language: Language, messages: Messages | None, clinic: Clinic, approvals: Approvals
) -> TranslatedSheet[SheetT]:
    """Translate a sheet; `messages` is None for English, which is its own translation.

    Raises Refused with every sentence that has no sound translation, each with its line, or every value that is unknown. All
    sentences of the full sheet count, also for one patient: the QR code must not lead to a phone page that does not exist.
    """
    translations = _translations(sheet.full, language, messages)
    values = _values(sheet, translations, clinic, language)
    unfilled = {name for message in translations for name in placeholders(message) if name not in values}
    if unfilled:
        raise Refused(_unfilled(sheet.full, unfilled))
    return TranslatedSheet(
        sheet=sheet,
        language=language,
        translations=translations,
        values=values,
        draft_wording=not approvals.wording_approved(clinic),
        draft_language=messages is not None and not approvals.language_approved(messages),
        edition=edition(fingerprint(translations, sheet.full.figures.values())),
    )


def _unfilled(full: FullSheet, names: Collection[str]) -> Iterator[Problem]:
    """One problem for each of these values in each text that names it."""
    for text in dict.fromkeys(full.texts()):
        for name in placeholders(text.message):
            if name in names:
                yield Problem(
                    Fault.UNFILLED,
                    "Nothing is known to fill {} in {}.",
                    subject=(f"{{{name}}}", text.message),
                    advice="Give the value, or keep the text off this sheet.",
                    where=text.where,
                )


def _translations(full: FullSheet, language: Language, messages: Messages | None) -> dict[str, str]:
    """The translation of each message of a full sheet. Raises Refused with every message that has no sound one."""
    if language.tag == SOURCE:
        return {message: message for message in full.messages}
    if messages is None or (messages.tag != language.tag and not messages.problems):
        what, advice = "There are no translations into {}.", "Print in English, and offer an interpreter."
        raise Refused.one(Fault.UNTRANSLATED, what, subject=(language.tag,), advice=advice)
    # A problem of the whole file is returned for each message, but reported once.
    problems = dict.fromkeys(problem for message in full.messages for problem in messages.faults(message))
    if problems:
        raise Refused(sorted(problems, key=lambda problem: problem.where or Where("")))
    return {message: messages.entries[message].translation for message in full.messages}


def _values(
    sheet: FullSheet | PatientSheet, translations: dict[str, str], clinic: Clinic, language: Language
) -> dict[str, Value]:
    """Every value by its name in braces, and every date of a patient's schedule by its field, without the empty ones."""
    full = sheet.full
    parts = {"moving_parts": full.moving, "held_parts": full.held, "tips": full.tips}
    values = {name: measure(figure, language) for name, figure in full.figures.items()}
    values |= {
        name: listing([translations[full.names[part].message] for part in listed], language) for name, listed in parts.items()
    }
    values |= {
        "clinic_name": Value(clinic.name, None),
        "clinic_phone": phone(clinic.phone),
        "after_hours_phone": phone(clinic.after_hours),
        "emergency_number": phone(clinic.emergency),
        "clinic_hours": opening_hours(clinic.hours, language),
        "language_in_english": Value(language.english_name, Direction.LTR),
    }
    if isinstance(sheet, PatientSheet):
        values |= _dates(sheet.schedule, language)
    return {name: value for name, value in values.items() if value.text}


def _dates(schedule: Schedule, language: Language) -> dict[str, Value]:
    """Every date of a schedule by its field."""
    dates: dict[str, Value] = {}
    for field in fields(schedule):
        when = getattr(schedule, field.name)
        if isinstance(when, datetime) and field.name in WHOLE_DAYS:
            when = when.date()
        if isinstance(when, date):  # a datetime is a date too
            dates[field.name] = moment(when, language)
    return dates
