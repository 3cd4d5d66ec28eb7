"""The patients' pages of a phone site: every device in every material, in each language that can have it."""

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
    """One device in one material, in every language that can have it; `waiting` says why the others cannot."""

    code: str
    translated: Mapping[str, TranslatedSheet[FullSheet]]
    waiting: Mapping[str, tuple[Problem, ...]]

    @property
    def languages(self) -> tuple[Language, ...]:
        """The languages its pages lead to."""
        return tuple(LANGUAGES[tag] for tag in self.translated)


def in_languages(sheets: Iterable[FullSheet], tags: Sequence[str], translate: Translate) -> Iterator[SheetInLanguages]:
    """The sheets in the languages with these tags. Raises Refused when a sheet cannot even be had in English."""
    for sheet in sheets:
        translated: dict[str, TranslatedSheet[FullSheet]] = {}
        waiting: dict[str, tuple[Problem, ...]] = {}
        for tag in dict.fromkeys((SOURCE, *tags)):
            try:
                translated[tag] = translate(sheet, tag)
            except Refused as refused:
                if tag == SOURCE:
                    raise
                waiting[tag] = refused.problems
        offered = {tag: translated[tag] for tag in tags if tag in translated}
        yield SheetInLanguages(code(sheet.device.code, sheet.material.code), offered, waiting)


def patient_pages(sheets: Iterable[SheetInLanguages], frame: PhoneFrame) -> Iterator[Page]:
    """The page of each sheet in each of its languages."""
    for sheet in sheets:
        for translated in sheet.translated.values():
            yield Page(
                f"{translated.language.path}/{sheet.code}/index.html",
                phone_page(translated, frame, sheet.languages),
                translated.edition,
            )
