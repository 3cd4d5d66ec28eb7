"""Tests of how words, sentences and numbers are counted; tests/outside/ checks the formulas themselves."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.language.approval import Approvals
from aftercare.language.languages import LANGUAGES
from aftercare.language.translate import translate
from aftercare.library.catalogue import load_library
from aftercare.understanding.readability import blocks, grade
from aftercare.understanding.syllables import syllables
from tests.composed import sheet
from tests.small_world import small_world


@pytest.mark.parametrize(
    ("texts", "words", "sentences"),
    [
        (["Call us."], 2, 1),  # the two-word sentence that some programs drop
        (["Call us. Do not wait."], 5, 2),
        (["Keep it dry", "Raise it"], 5, 2),  # headings and list items have no full stop
        (["Move these: thumb, toes."], 4, 1),  # a colon ends no sentence
        (["Pain that grows!", "Why?", ""], 4, 2),
        (["**Call now** if it is a well-known pain."], 8, 1),
        (["Wait 15\u201320 minutes."], 4, 1),
        (["A fever of 38 \u00b0C (100.4 \u00b0F)"], 8, 1),
        (["Don't push your doctor's cast."], 5, 1),
        ([], 0, 0),
    ],
)
def test_words_and_sentences(texts: list[str], words: int, sentences: int) -> None:
    reading = grade(texts)
    assert (reading.words, reading.sentences) == (words, sentences)


@pytest.mark.parametrize(
    ("number", "spoken"),
    [("0", 2), ("7", 2), ("15", 2), ("17", 3), ("20", 2), ("48", 3), ("72", 4), ("100", 3), ("911", 6), ("0143", 6)],
)
def test_a_number_has_the_syllables_of_its_words(number: str, spoken: int) -> None:
    assert grade([number]).syllables == spoken


@pytest.mark.parametrize(
    ("word", "count"),
    [("well-known", 2), ("doctor's", 2), ("don't", 1), ("CAST", 1), ("every", 2), ("hour", 1), ("hm", 1), ("forty-eight", 3)],
)
def test_hyphens_endings_and_capitals(word: str, count: int) -> None:
    assert syllables(word) == count


def test_polysyllables_and_words_per_sentence_are_counted() -> None:
    reading = grade(["Elevate the extremity. Call."])
    assert (reading.polysyllables, reading.words_per_sentence) == (2, 2.0)


def test_no_text_has_grade_0() -> None:
    reading = grade([])
    assert (reading.flesch_kincaid, reading.smog, reading.words_per_sentence) == (0, 0, 0)


def test_the_blocks_of_a_sheet_have_its_values_and_no_labels(tmp_path: Path) -> None:
    world = load_library(small_world(tmp_path))
    texts = list(blocks(translate(sheet(world), LANGUAGES["en"], None, world.clinic, Approvals())))
    assert "Ice on the cast: 15\u201320 minutes." in texts
    assert "It hurts more. Call (202) 555-0143." in texts
    assert "Tier go now" not in texts
    assert "wrist" not in texts
