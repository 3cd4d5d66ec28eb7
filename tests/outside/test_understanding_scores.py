"""Tests of the scores of both instruments against worked examples of their scoring rules.

PEMAT-P: AHRQ publication 14-0002-EF, steps for scoring: points over the items that apply, each scale by itself.
CDC Clear Communication Index: score sheet of the index (Baur and Prue, Health Promot Pract 2014): points over applicable
items; without a main message (item 1) items 2 to 4 score 0; 90 passes. The pass mark of PEMAT, 70, is a convention of later
studies. The figures of the examples were calculated by hand from these rules. The sources were read only in part; the other
rules are from memory.
"""

from __future__ import annotations

import pytest

from aftercare.understanding.clear_index import INDEX
from aftercare.understanding.instruments import Scale, Verdict, score
from aftercare.understanding.pemat import ACTIONABILITY, UNDERSTANDABILITY


def answers(scale: Scale, *, lost: int = 0, left_out: tuple[int, ...] = (), losing_from_end: bool = True) -> dict[int, Verdict]:
    """Verdicts that agree to every item, except those left out and `lost` ones at the end or the start of the others."""
    numbers = [item.number for item in scale.items if item.number not in left_out]
    disagreed = numbers[len(numbers) - lost :] if losing_from_end else numbers[:lost]
    return (
        dict.fromkeys(numbers, Verdict.AGREE)
        | dict.fromkeys(disagreed, Verdict.DISAGREE)
        | dict.fromkeys(left_out, Verdict.NOT_APPLICABLE)
    )


def test_the_printable_form_of_pemat_has_17_items_and_7_and_skips_13_and_14() -> None:
    numbers = [item.number for scale in (UNDERSTANDABILITY, ACTIONABILITY) for item in scale.items]
    assert (len(UNDERSTANDABILITY.items), len(ACTIONABILITY.items)) == (17, 7)
    assert numbers == [*range(1, 13), *range(15, 27)]


def test_the_index_has_20_items() -> None:
    assert [item.number for item in INDEX.items] == list(range(1, 21))


def test_12_of_the_15_items_that_apply_are_80_per_cent_and_pass() -> None:
    result = score(UNDERSTANDABILITY, answers(UNDERSTANDABILITY, lost=3, left_out=(6, 19)))
    assert (result.points, result.applicable, result.percent) == (12, 15, 80.0)
    assert result.percent >= UNDERSTANDABILITY.passes_at == 70


def test_3_of_5_are_60_per_cent_and_fail() -> None:
    result = score(ACTIONABILITY, answers(ACTIONABILITY, lost=2, left_out=(24, 25)))
    assert (result.points, result.applicable, result.percent) == (3, 5, 60.0)
    assert result.percent < ACTIONABILITY.passes_at


@pytest.mark.parametrize(("lost", "percent", "passes"), [(1, 94.1, True), (2, 88.2, False)])
def test_without_risk_numbers_one_lost_item_of_17_passes_and_two_fail(lost: int, percent: float, passes: bool) -> None:
    result = score(INDEX, answers(INDEX, lost=lost, left_out=(18, 19, 20)))
    assert (result.applicable, result.percent) == (17, percent)
    assert (result.percent >= INDEX.passes_at) is passes


def test_without_a_main_message_the_three_items_about_it_score_nothing() -> None:
    result = score(INDEX, answers(INDEX, lost=1, losing_from_end=False))
    assert (result.points, result.applicable) == (16, 20)


def test_an_item_for_a_person_never_counts() -> None:
    verdicts = answers(INDEX)
    assert score(INDEX, verdicts | {19: Verdict.PERSON}).applicable == 19


@pytest.mark.parametrize(("scale", "number"), [(UNDERSTANDABILITY, 7), (ACTIONABILITY, 20), (INDEX, 1)])
def test_an_item_that_always_applies_cannot_be_left_out(scale: Scale, number: int) -> None:
    with pytest.raises(ValueError, match=f"Item {number} of .* always applies"):
        score(scale, answers(scale, left_out=(number,)))


def test_an_item_the_instrument_does_not_have_is_refused() -> None:
    with pytest.raises(ValueError, match=r"no item \[13\]"):
        score(UNDERSTANDABILITY, {13: Verdict.AGREE})
