"""Extracts every message that any sheet can show, and updates PO files and editions from them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from aftercare.errors import Refused
from aftercare.language.edition import edition, fingerprint
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import Entry, read_messages
from aftercare.language.po_files import PoMessage, format_message
from aftercare.language.values import measure
from aftercare.library.figures import Figure
from aftercare.library.words import placeholders
from aftercare.sheet.sheet import FullSheet

# Notes for translators on the values that are no figures.
_VALUE_NOTES = {
    "clinic_name": "the clinic's name, as it is",
    "clinic_phone": "a phone number",
    "after_hours_phone": "a phone number",
    "emergency_number": "a phone number",
    "clinic_hours": "days and times",
    "language_in_english": "the name of your language in English; leave the English words beside it in English",
    "moving_parts": "a list of parts of the body",
    "held_parts": "a list of parts of the body",
    "tips": "a list of fingers or toes",
}


@dataclass(frozen=True, slots=True)
class Extracted:
    """One message, the content files that contain it, and a note for translators on its values."""

    message: str
    places: tuple[str, ...]
    comment: str


def messages_of(sheets: Iterable[FullSheet]) -> tuple[Extracted, ...]:
    """Every message that any sheet can show, in reading order.

    Read from the full sheets themselves, so that what is extracted and what is printed cannot differ.
    """
    places: dict[str, set[str]] = {}
    figures: dict[str, Figure] = {}
    for sheet in sheets:
        figures.update(sheet.figures)
        for text in dict.fromkeys(sheet.texts()):  # the first place of a message that comes twice
            places.setdefault(text.message, set()).add(text.where.path)
    return tuple(Extracted(message, tuple(sorted(paths)), _comment(message, figures)) for message, paths in places.items())


def _comment(message: str, figures: Mapping[str, Figure]) -> str:
    """The translator's note: what replaces each value of the message."""
    notes = (
        f"{{{name}}} is {_VALUE_NOTES[name] if name in _VALUE_NOTES else measure(figures[name], LANGUAGES[SOURCE]).text}"
        for name in dict.fromkeys(placeholders(message))
    )
    return "; ".join(notes)


def wording_edition(sheets: Iterable[FullSheet]) -> str:
    """The short code of all the English words and figures on these sheets, which the clinic approves."""
    messages: dict[str, str] = {}
    figures: dict[str, Figure] = {}
    for sheet in sheets:
        messages.update((message, message) for message in sheet.messages)
        figures.update(sheet.figures)
    return edition(fingerprint(messages, figures.values()))


def update_po(existing: str | None, extracted: Iterable[Extracted], language: Language, own: str | None = None) -> str:
    """Format a PO file with exactly the extracted messages and their translations so far.

    `own` is a second file whose finished translations replace those of `existing`. A message whose English changed has
    no translation: that of a similar message could have another number or lack a "not". The text does not depend on the
    day, and names files without lines, so that it changes only when a message does. Raises Refused for a broken file.
    """
    finished = {message: entry for message, entry in _entries(own, language).items() if entry.finished}
    entries = {**_entries(existing, language), **finished}
    blocks = [_header(language)]
    for text in sorted(extracted, key=lambda text: text.places):
        entry = entries.get(text.message)
        message = PoMessage(text.message, entry.translation, entry.fuzzy, entry.comments) if entry else PoMessage(text.message)
        blocks.append(format_message(message, text.comment, text.places))
    return "\n".join(blocks)


def _entries(text: str | None, language: Language) -> Mapping[str, Entry]:
    """The entries of a PO file by message; none without a file. Raises Refused for a broken one."""
    if not text:
        return {}
    messages = read_messages(text, f"{language.tag}.po")
    if messages.problems:
        raise Refused(messages.problems)
    return messages.entries


def _header(language: Language) -> str:
    return (
        f"# {language.english_name} ({language.own_name}). Keep each {{value}} and each **; write plain words between them.\n"
        "# Above a sentence that is right although a check stops it, write: # reviewed: name-of-the-check\n"
        'msgid ""\n'
        'msgstr ""\n'
        f'"Language: {language.tag}\\n"\n'
        '"MIME-Version: 1.0\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Content-Transfer-Encoding: 8bit\\n"\n'
    )
