"""Flesch-Kincaid and SMOG grades of English text.

Counting rules, since programs differ in them: a block of text without a full stop is one sentence; a colon or a semicolon
does not end a sentence; a hyphenated word is one word; each group of digits is one word with the syllables of the number as
spoken, but never a polysyllable, since digits are read at a glance; other signs ("°", "–", "(") are not words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import sqrt

from aftercare.language.translated import TranslatedSheet
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.sheet import PatientSheet
from aftercare.understanding.syllables import syllables

_SENTENCE_END = re.compile(r"[.!?]+(?=\s|$)")
_WORD = re.compile(r"\d+|[^\W\d_]+(?:['\u2019-][^\W\d_]+)*")
# Syllables of numbers as spoken, by index.
_ONES = (2, 1, 1, 1, 1, 1, 1, 2, 1, 1, 1, 3, 1, 2, 2, 2, 2, 3, 2, 2)  # zero, one, ... nineteen
_TENS = (0, 1, 2, 2, 2, 2, 2, 3, 2, 2)  # -, ten, twenty, ... ninety
_POLYSYLLABLE = 3  # McLaughlin 1969


@dataclass(frozen=True, slots=True)
class Reading:
    """Counts over some texts. `polysyllables` are words of three syllables or more, without numbers."""

    words: int
    sentences: int
    syllables: int
    polysyllables: int

    @property
    def words_per_sentence(self) -> float:
        """The mean length of a sentence in words; 0 for no text."""
        return self.words / self.sentences if self.sentences else 0.0

    @property
    def flesch_kincaid(self) -> float:
        """US school grade: 0.39 W/S + 11.8 Sy/W - 15.59 (Kincaid and others, 1975); 0 for no text."""
        if not self.words:
            return 0.0
        return 0.39 * self.words_per_sentence + 11.8 * self.syllables / self.words - 15.59

    @property
    def smog(self) -> float:
        """US school grade: 1.0430 sqrt(30 P/S) + 3.1291 (McLaughlin, 1969), meant for 30 sentences or more; 0 for no text."""
        return 1.0430 * sqrt(30 * self.polysyllables / self.sentences) + 3.1291 if self.sentences else 0.0


def grade(texts: Iterable[str]) -> Reading:
    """Count over texts, each a block with its values filled in. Bold marks are ignored."""
    sentences = [sentence for text in texts for sentence in _sentences(text)]
    words = [word for sentence in sentences for word in sentence]
    counts = [_syllables_of(word) for word in words]
    return Reading(
        words=len(words),
        sentences=len(sentences),
        syllables=sum(counts),
        polysyllables=sum(count >= _POLYSYLLABLE and not word.isdigit() for word, count in zip(words, counts, strict=True)),
    )


def blocks(translated: TranslatedSheet[PatientSheet]) -> Iterator[str]:
    """The messages of an English sheet with their values filled in, without labels and names of body parts."""
    sheet = translated.sheet
    excluded = {*sheet.full.labels.values(), *sheet.full.names.values()}
    for text in sheet.texts():
        if text not in excluded:
            yield PLACEHOLDER.sub(lambda match: translated.values[match[1]].text, translated.translation(text))


def _sentences(text: str) -> Iterator[list[str]]:
    for sentence in _SENTENCE_END.split(text.replace("**", "")):
        if words := _WORD.findall(sentence):
            yield words


def _syllables_of(word: str) -> int:
    return _syllables_of_number(int(word)) if word.isdigit() else syllables(word)


def _syllables_of_number(number: int) -> int:
    """Syllables of a whole number as spoken; above 999 digit by digit, as phone numbers are."""
    if number < len(_ONES):
        return _ONES[number]
    if number < 100:
        return _TENS[number // 10] + (_ONES[number % 10] if number % 10 else 0)
    if number < 1000:
        return _ONES[number // 100] + 2 + (_syllables_of_number(number % 100) if number % 100 else 0)
    return sum(_ONES[int(digit)] for digit in str(number))
