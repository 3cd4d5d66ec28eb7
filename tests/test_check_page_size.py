"""The check of the compressed size of phone pages."""

from __future__ import annotations

import random
import string
from dataclasses import replace

from aftercare.check.page_size import MOST_BYTES, page_size_problems
from aftercare.desk import Desk
from aftercare.errors import Fault
from tests.phone_world import demo_desk

DEVICE = "short-arm-cast"


def one_device() -> Desk:
    """The demo desk with the sheets of one device only."""
    desk = demo_desk()
    return replace(desk, sheets={key: sheet for key, sheet in desk.sheets.items() if key[0] == DEVICE})


def larger(desk: Desk, letters: int) -> Desk:
    """The desk with so many letters more in one sentence of each sheet, none of which compresses well."""
    noise = "".join(random.Random(1).choices(string.ascii_letters, k=letters))
    sheets = {}
    for key, sheet in desk.sheets.items():
        label = sheet.labels["not_known"]
        sheets[key] = replace(sheet, labels={**sheet.labels, "not_known": replace(label, message=label.message + noise)})
    return replace(desk, sheets=sheets)


def test_the_shipped_pages_of_a_device_are_small_enough_in_every_language() -> None:
    assert len(one_device().clinic.languages) == 3
    assert list(page_size_problems(one_device())) == []


def test_a_page_too_large_is_named_with_its_size_and_what_to_do() -> None:
    desk = larger(one_device(), 5000)
    device = desk.device(DEVICE)

    # The other languages have no translation of the longer sentence.
    problems = list(page_size_problems(desk))

    assert [problem.fault for problem in problems] == [Fault.PAGE_TOO_HEAVY] * len(device.materials)
    assert "'short-arm-cast' in 'fiberglass', in 'en', has" in " ".join(problem.sentence() for problem in problems)
    assert problems[0].allowed == (f"at most {MOST_BYTES}",)
    assert problems[0].where == device.where


def test_a_sheet_without_a_translation_has_no_page_to_measure() -> None:
    problems = list(page_size_problems(larger(one_device(), 5000)))
    assert {problem.subject[2] for problem in problems} == {"en"}
