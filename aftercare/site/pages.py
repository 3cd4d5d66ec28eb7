"""The files of a phone site: the pages of every device, material and language, and what stands around them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from hashlib import blake2b
from pathlib import Path

from aftercare.errors import Problem, Refused
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library
from aftercare.page.phone import phone_page
from aftercare.page.pieces import Pieces
from aftercare.sheet.address import code
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.sheet import Sheet
from aftercare.site.publish import Page

Translate = Callable[[Sheet, str], TranslatedSheet]


@dataclass(frozen=True, slots=True)
class Sheets:
    """One device in one material, in every language that can have it; `waiting` says why the others cannot."""

    code: str
    sheet: Sheet
    translated: Mapping[str, TranslatedSheet]
    waiting: Mapping[str, tuple[Problem, ...]]

    @property
    def languages(self) -> tuple[Language, ...]:
        """The languages its pages lead to."""
        return tuple(LANGUAGES[tag] for tag in self.translated)


def all_sheets(library: Library, translate_sheet: Translate) -> Iterator[Sheets]:
    """Every device in every material it is made in. Raises Refused when a sheet cannot even be had in English."""
    tags = (SOURCE, *(tag for tag in library.clinic.languages if tag != SOURCE))
    for device in library.devices.values():
        for material_id in device.materials:
            material = library.materials[material_id]
            sheet = compose(library, Choices(device, material, everyone=True))
            translated: dict[str, TranslatedSheet] = {}
            waiting: dict[str, tuple[Problem, ...]] = {}
            for tag in tags:
                try:
                    translated[tag] = translate_sheet(sheet, tag)
                except Refused as refused:
                    if tag == SOURCE:
                        raise
                    waiting[tag] = refused.problems
            offered = {tag: translated[tag] for tag in library.clinic.languages if tag in translated}
            yield Sheets(code(device.code, material.code), sheet, offered, waiting)


def patient_pages(sheets: Sequence[Sheets], library: Library, templates: Path) -> Iterator[Page]:
    """The page of each sheet in each of its languages."""
    clinic = repr((library.clinic.time_zone.key, library.clinic.hours))
    marks = repr([(option.id, option.bit) for option in library.options.values()])
    pieces = {tag: Pieces() for tag in LANGUAGES}
    for sheet in sheets:
        order = "".join(_order(sheet.sheet))
        for tag, translated in sheet.translated.items():
            parts = (recipe(templates), clinic, marks, order, *sheet.translated, *_words(translated))
            yield Page(
                f"{translated.language.path}/{sheet.code}/index.html",
                partial(phone_page, translated, library, templates, sheet.languages, pieces[tag]),
                blake2b("\0".join(parts).encode(), digest_size=16).hexdigest(),
                translated.edition,
            )


def _order(sheet: Sheet) -> Iterator[str]:
    """What stands on a sheet and in which order, the same in every language."""
    yield repr(sheet.choices.device)
    for text in sheet.texts():
        yield f"\0{text.message}"
    for group in sheet.groups:
        for sign in group.signs:
            yield f"\0{sign.id}{sign.picture}{sign.condition}"
    for section in sheet.sections:
        for passage in section.passages:
            yield f"\0{passage.id}{section.picture}{passage.condition}{passage.meanwhile}"


def _words(translated: TranslatedSheet) -> Iterator[str]:
    """Everything a page says in a language."""
    yield f"{translated.fingerprint}{translated.edition}{translated.draft_wording}{translated.draft_language}"
    for value in translated.values.values():
        yield value.text
        yield value.phone


@cache
def recipe(templates: Path) -> str:
    """A hash of our own code and templates: a page made by another version of the program is made again."""
    package = Path(__file__).parents[1]
    files = sorted([*templates.glob("_*.html"), *templates.glob("phone/*"), *package.glob("page/**/*.py")])
    made = blake2b(digest_size=16)
    for file in files:
        made.update(file.name.encode() + file.read_bytes())
    return made.hexdigest()
