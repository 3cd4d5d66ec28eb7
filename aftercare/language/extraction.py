"""Every message that can stand on any sheet, for translators: as tuples, and as a PO file kept up to date."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from io import BytesIO, StringIO

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from aftercare.errors import Refused
from aftercare.language.approval import edition, fingerprint
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import read_messages
from aftercare.language.values import measure
from aftercare.library.figures import Figure
from aftercare.library.words import placeholders
from aftercare.sheet.sheet import FullSheet

# What a translator should know of the values that are no figures.
_ABOUT = {
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
    """One message, the content files it stands in, and what a translator should know of it."""

    message: str
    places: tuple[str, ...]
    comment: str


def messages_of(sheets: Iterable[FullSheet]) -> tuple[Extracted, ...]:
    """Every message that can stand on any sheet, in reading order.

    They come from the full sheets themselves, so what is extracted and what is printed cannot differ.
    """
    places: dict[str, set[str]] = {}
    figures: dict[str, Figure] = {}
    for sheet in sheets:
        figures.update(sheet.figures)
        for text in sheet.texts():
            places.setdefault(text.message, set()).add(text.where.path)
    return tuple(Extracted(message, tuple(sorted(paths)), _comment(message, figures)) for message, paths in places.items())


def _comment(message: str, figures: Mapping[str, Figure]) -> str:
    about = (
        f"{{{name}}} is {_ABOUT[name] if name in _ABOUT else measure(figures[name], LANGUAGES[SOURCE]).text}"
        for name in dict.fromkeys(placeholders(message))
    )
    return "; ".join(about)


def wording_edition(sheets: Iterable[FullSheet]) -> str:
    """The short code of all the English words and figures on these sheets, which the clinic approves."""
    messages: dict[str, str] = {}
    figures: dict[str, Figure] = {}
    for sheet in sheets:
        messages.update((text.message, text.message) for text in sheet.texts())
        figures.update(sheet.figures)
    return edition(fingerprint(messages, figures.values()))


def update_po(existing: str | None, extracted: Iterable[Extracted], language: Language, own: str | None = None) -> str:
    """A PO file with exactly the extracted messages, keeping what is translated of them.

    `own` is a second file whose finished translations stand before those of `existing`. A message whose English changed
    comes out empty: a near match would carry the old number or the lost "not" along. The text does not depend on the
    day, and names files without lines, so that it changes only when a message does. Raises Refused for a broken file.
    """
    template = Catalog()
    for text in extracted:
        template.add(text.message, locations=[(place, 0) for place in text.places], auto_comments=[text.comment])
    catalog = _read(existing, language)
    for message in _read(own, language):
        if message.id and message.string and not message.fuzzy:
            catalog.delete(message.id)
            catalog[message.id] = message
    catalog.update(template, no_fuzzy_matching=True)
    for message in catalog:
        message.flags &= {"fuzzy"}  # Babel takes braces and "%" for formats of a programming language
    body = BytesIO()
    write_po(body, catalog, width=0, omit_header=True, sort_by_file=True, ignore_obsolete=True, include_lineno=False)
    return _header(language) + body.getvalue().decode().rstrip("\n") + "\n"


def _read(text: str | None, language: Language) -> Catalog:
    if not text:
        return Catalog()
    if problems := read_messages(text, f"{language.tag}.po").problems:
        raise Refused(problems)
    return read_po(StringIO(text))


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
        "\n"
    )
