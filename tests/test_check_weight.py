"""The check of how much phone pages weigh."""

from __future__ import annotations

import random
import string
from dataclasses import replace

from aftercare.check.weight import MOST_BYTES, weight_problems
from aftercare.desk import Desk
from aftercare.errors import Fault
from tests.phone_world import demo_desk

DEVICE = "short-arm-cast"


def one_device() -> Desk:
    """The demo desk with the sheets of one device only."""
    desk = demo_desk()
    return replace(desk, sheets={key: sheet for key, sheet in desk.sheets.items() if key[0] == DEVICE})


def heavier(desk: Desk, letters: int) -> Desk:
    """The desk with so many letters more in one sentence of each sheet, none of which compresses well."""
    noise = "".join(random.Random(1).choices(string.ascii_letters, k=letters))
    sheets = {}
    for key, sheet in desk.sheets.items():
        label = sheet.labels["not_known"]
        sheets[key] = replace(sheet, labels={**sheet.labels, "not_known": replace(label, message=label.message + noise)})
    return replace(desk, sheets=sheets)


def test_the_shipped_pages_of_a_device_are_light_enough_in_every_language() -> None:
    assert len(one_device().clinic.languages) == 3
    assert list(weight_problems(one_device())) == []


def test_a_page_too_heavy_is_named_with_its_weight_and_what_to_do() -> None:
    desk = heavier(one_device(), 5000)
    device = desk.device(DEVICE)

    # The other languages have no translation of the longer sentence.
    problems = list(weight_problems(desk))

    assert [problem.fault for problem in problems] == [Fault.PAGE_TOO_HEAVY] * len(device.materials)
    assert "'short-arm-cast' in 'fiberglass', in 'en', weighs" in " ".join(problem.sentence() for problem in problems)
    assert problems[0].allowed == (f"at most {MOST_BYTES}",)
    assert problems[0].where == device.where


def test_a_sheet_that_waits_for_its_translation_is_no_page_to_weigh() -> None:
    problems = list(weight_problems(heavier(one_device(), 5000)))
    assert {problem.subject[2] for problem in problems} == {"en"}
