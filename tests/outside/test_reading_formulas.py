"""Reading grades against published vectors: Flesch-Kincaid (Kincaid and others, 1975) and SMOG (McLaughlin, 1969).

The vectors are counts worked out by hand with their four-decimal scores; the first is also asserted, as a reading ease of
103, in the tests of a text-statistics package for R.
"""

from __future__ import annotations

from math import sqrt

import pytest
import textstat  # type: ignore[import-untyped]  # ships no type hints

from aftercare.understanding.readability import Reading, grade

CAT = ("The cat in the hat ate breakfast.", 1, 7, 8, 0, 0.6257, 3.1291)
ARM = (
    "Keep your arm up on a pillow. Move your fingers every hour. Call us if your fingers turn blue.",
    3,
    19,
    23,
    0,
    1.1642,
    3.1291,
)
BAD = (
    (
        "Elevate the immobilized extremity above the level of the heart for forty-eight hours. "
        "Immediately contact the orthopaedic department if discolouration or numbness develops."
    ),
    2, 23, 52, 9, 15.5733, 15.2477,
)  # fmt: skip


@pytest.mark.parametrize(("text", "sentences", "words", "syllables", "long", "flesch_kincaid", "smog"), [CAT, ARM, BAD])
def test_counts_and_grades_of_published_vectors(
    text: str, sentences: int, words: int, syllables: int, long: int, flesch_kincaid: float, smog: float
) -> None:
    reading = grade([text])
    assert (reading.sentences, reading.words, reading.syllables, reading.polysyllables) == (sentences, words, syllables, long)
    assert reading.flesch_kincaid == pytest.approx(flesch_kincaid, abs=5e-5)
    assert reading.smog == pytest.approx(smog, abs=5e-5)


# SMOG of 30 sentences by the number of long words, to two decimals.
STEPS = {
    0: 3.13, 6: 5.68, 12: 6.74, 13: 6.89, 20: 7.79, 21: 7.91, 30: 8.84, 42: 9.89, 56: 10.93, 72: 11.98, 90: 13.02,
    110: 14.07, 132: 15.11,
}  # fmt: skip


@pytest.mark.parametrize(("long", "expected"), STEPS.items())
def test_smog_by_long_words_in_thirty_sentences(long: int, expected: float) -> None:
    assert Reading(words=300, sentences=30, syllables=400, polysyllables=long).smog == pytest.approx(expected, abs=0.005)


# The published conversion table (McLaughlin; used by the US National Cancer Institute): first and last count of each grade.
# From memory, so only as a bound: the unrounded grade lies about one from the table's at most.
TABLE = {5: (3, 6), 6: (7, 12), 7: (13, 20), 8: (21, 30), 9: (31, 42), 10: (43, 56), 11: (57, 72), 12: (73, 90)}


@pytest.mark.parametrize(("table_grade", "ends"), TABLE.items())
def test_smog_agrees_with_the_published_conversion_table(table_grade: int, ends: tuple[int, int]) -> None:
    for long in ends:
        assert round(sqrt(long)) + 3 == table_grade
        assert abs(Reading(300, 30, 400, long).smog - table_grade) < 1.1


def test_an_independent_program_grades_plain_text_within_a_grade_and_a_half() -> None:
    """textstat 0.7.8 counts the first pronunciation of a word, this program the shortest, so the two differ a little."""
    for text in (CAT[0], ARM[0], "The doctor will look at your arm again in a week. Ask about work and about school."):
        assert abs(grade([text]).flesch_kincaid - textstat.flesch_kincaid_grade(text)) <= 1.5
