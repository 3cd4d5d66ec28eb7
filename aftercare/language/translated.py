"""Types of a translated sheet: the translation of each message, and each value as the language writes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from aftercare.language.languages import Direction, Language
from aftercare.library.text import Text
from aftercare.sheet.sheet import FullSheet, PatientSheet

SheetT_co = TypeVar("SheetT_co", bound=FullSheet | PatientSheet, covariant=True)


@dataclass(frozen=True, slots=True)
class Value:
    """The text that replaces `{name}` after translation. `direction` is None for a name, whose letters determine it."""

    text: str
    direction: Direction | None
    phone: str = ""  # a `tel:` address where the value can be called


@dataclass(frozen=True, slots=True)
class TranslatedSheet(Generic[SheetT_co]):
    """A sheet every message of which has a sound translation.

    `translations` has the messages of the full sheet, which are those of the phone page behind the sheet's QR code; `edition`
    identifies every word, figure and translation of that page. `draft_wording` and `draft_language` are true until the
    English and the translations are approved.
    """

    sheet: SheetT_co
    language: Language
    translations: Mapping[str, str]
    values: Mapping[str, Value]
    draft_wording: bool
    draft_language: bool
    edition: str

    def translation(self, text: Text) -> str:
        """The message in this language, with its values in braces. Raises KeyError for a message not of this sheet."""
        return self.translations[text.message]

    def label(self, id_: str) -> str:
        """The label with this id in this language. Raises KeyError for an unknown id."""
        return self.translation(self.sheet.full.labels[id_])
