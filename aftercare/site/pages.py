"""Renders the patients' pages of a phone site: every device in every material and language."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from aftercare.errors import Problem, Refused
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.translated import TranslatedSheet
from aftercare.page.phone import PhoneFrame, phone_page
from aftercare.sheet.address import code
from aftercare.sheet.sheet import FullSheet
from aftercare.site.publish import Page

Translate = Callable[[FullSheet, str], TranslatedSheet[FullSheet]]


@dataclass(frozen=True, slots=True)
class SheetInLanguages:
    """One device in one material in every language that has a translation of it, by tag.

    `untranslated` gives the problems of the other languages, by tag.
    """

    code: str
    translated: Mapping[str, TranslatedSheet[FullSheet]]
    untranslated: Mapping[str, tuple[Problem, ...]]

    @property
    def languages(self) -> tuple[Language, ...]:
        """The languages in which this sheet is published."""
        return tuple(LANGUAGES[tag] for tag in self.translated)


def in_languages(sheets: Iterable[FullSheet], tags: Sequence[str], translate: Translate) -> Iterator[SheetInLanguages]:
    """Translate sheets into the languages with these tags. Raises Refused for a sheet with problems in English."""
    for sheet in sheets:
        translated: dict[str, TranslatedSheet[FullSheet]] = {}
        untranslated: dict[str, tuple[Problem, ...]] = {}
        for tag in dict.fromkeys((SOURCE, *tags)):
            try:
                translated[tag] = translate(sheet, tag)
            except Refused as refused:
                if tag == SOURCE:
                    raise
                untranslated[tag] = refused.problems
        published = {tag: translated[tag] for tag in tags if tag in translated}
        yield SheetInLanguages(code(sheet.device.code, sheet.material.code), published, untranslated)


def patient_pages(sheets: Iterable[SheetInLanguages], frame: PhoneFrame) -> Iterator[Page]:
    """Render the page of each sheet in each of its languages. Raises Refused as `phone_page` does."""
    for sheet in sheets:
        for translated in sheet.translated.values():
            yield Page(
                f"{translated.language.path}/{sheet.code}/index.html",
                phone_page(translated, frame, sheet.languages),
                translated.edition,
            )
