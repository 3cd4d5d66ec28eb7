"""A sheet into a language: every message sound or none of it, every value as the language writes it."""

from __future__ import annotations

from dataclasses import fields
from datetime import date, datetime

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.language.approval import Approvals, edition, fingerprint
from aftercare.language.languages import SOURCE, Direction, Language
from aftercare.language.messages import Messages
from aftercare.language.translated import TranslatedSheet, Value
from aftercare.language.values import listing, measure, moment, opening_hours, phone
from aftercare.library.clinic import Clinic
from aftercare.library.words import placeholders
from aftercare.sheet.schedule import Schedule
from aftercare.sheet.sheet import Sheet

# Waits counted in days end with a day; a time of day would promise more than the figure knows.
WHOLE_DAYS = frozenset({"ice_until", "raise_until", "removal"})


def translate(
    sheet: Sheet, language: Language, messages: Messages | None, clinic: Clinic, approvals: Approvals
) -> TranslatedSheet:
    """The sheet in a language; `messages` is None for English, which is its own translation.

    Raises Refused with every sentence that has no sound translation, each with its line, and every value not known. The
    sentences of the phone page behind its code count too: a code must not lead to a page that is not there.
    """
    translations = _translations(sheet, language, messages)
    values = values_of(sheet, translations, clinic, language)
    unfilled = [
        Problem(
            Fault.UNFILLED,
            f"Nothing is known to fill '{{{name}}}' in '{text.message}'.",
            advice="Give the value, or keep the text off this sheet.",
            where=text.where,
        )
        for text in sheet.page_texts
        for name in placeholders(text.message)
        if name not in values
    ]
    if unfilled:
        raise Refused(unfilled)
    words = fingerprint(translations, sheet.figures.values())
    return TranslatedSheet(
        sheet=sheet,
        language=language,
        translations=translations,
        values=values,
        draft_wording=not approvals.wording_approved(clinic),
        draft_language=messages is not None and not approvals.language_approved(messages),
        fingerprint=words,
        edition=edition(words),
    )


def _translations(sheet: Sheet, language: Language, messages: Messages | None) -> dict[str, str]:
    """The translation of each message of the sheet and of the page behind it, which holds all that the sheet does."""
    wanted = [text.message for text in sheet.page_texts]
    if language.tag == SOURCE:
        return {message: message for message in wanted}
    if messages is None or (messages.tag != language.tag and not messages.problems):
        what = f"There are no translations into '{language.tag}'."
        raise Refused([Problem(Fault.UNTRANSLATED, what, advice="Print in English, and offer an interpreter.")])
    # A problem of the whole file comes back for each message, so each is kept once.
    problems = dict.fromkeys(problem for message in wanted for problem in messages.faults(message))
    if problems:
        raise Refused(sorted(problems, key=lambda problem: problem.where or Where("")))
    return {message: messages.entries[message].translation for message in wanted}


def values_of(sheet: Sheet, translations: dict[str, str], clinic: Clinic, language: Language) -> dict[str, Value]:
    """Every value by its name in braces, and every date of the schedule by its field. What is empty is left out."""
    parts = {"moving_parts": sheet.moving, "held_parts": sheet.held, "tips": sheet.tips}
    values = {name: measure(figure, language) for name, figure in sheet.figures.items()}
    values |= {
        name: listing([translations[sheet.names[part].message] for part in found], language) for name, found in parts.items()
    }
    values |= {
        "clinic_name": Value(clinic.name, None),
        "clinic_phone": phone(clinic.phone),
        "after_hours_phone": phone(clinic.after_hours),
        "emergency_number": phone(clinic.emergency),
        "clinic_hours": opening_hours(clinic.hours, language),
        "language_in_english": Value(language.english_name, Direction.LTR),
    }
    values |= _dates(sheet.schedule, language)
    return {name: value for name, value in values.items() if value.text}


def _dates(schedule: Schedule, language: Language) -> dict[str, Value]:
    found: dict[str, Value] = {}
    for field in fields(schedule):
        when = getattr(schedule, field.name)
        if isinstance(when, datetime) and field.name in WHOLE_DAYS:
            when = when.date()
        if isinstance(when, date):  # which a datetime is too
            found[field.name] = moment(when, language)
    return found
