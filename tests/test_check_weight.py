"""The check of how much phone pages weigh."""

from __future__ import annotations

import random
import string
from dataclasses import replace

from aftercare.check.weight import MOST_BYTES, weight_problems
from aftercare.errors import Fault
from aftercare.library.catalogue import Library
from tests.phone_world import TEMPLATES, demo_desk, few


def heavier(library: Library, letters: int) -> Library:
    """The library with so many letters more in one sentence, none of which compresses well."""
    label = library.labels["not_known"]
    noise = "".join(random.Random(1).choices(string.ascii_letters, k=letters))
    return replace(library, labels={**library.labels, "not_known": replace(label, message=label.message + noise)})


def english(library: Library) -> Library:
    return replace(few(library, ("short-arm-cast",)), clinic=replace(library.clinic, languages=("en",)))


def test_the_shipped_pages_of_a_device_are_light_enough_in_every_language() -> None:
    library = few(demo_desk().library, ("short-arm-cast",))
    assert list(weight_problems(library, demo_desk().messages, TEMPLATES)) == []


def test_a_page_too_heavy_is_named_with_its_weight_and_what_to_do() -> None:
    library = heavier(english(demo_desk().library), 5000)

    problems = list(weight_problems(library, {}, TEMPLATES))

    assert [problem.fault for problem in problems] == [Fault.PAGE_TOO_HEAVY] * len(library.devices["short-arm-cast"].materials)
    assert "'short-arm-cast' in 'fiberglass', in 'en', weighs" in " ".join(problem.what for problem in problems)
    assert str(MOST_BYTES) in problems[0].allowed
    assert problems[0].where == library.devices["short-arm-cast"].where


def test_a_sheet_that_waits_for_its_translation_is_no_page_to_weigh() -> None:
    library = heavier(few(demo_desk().library, ("short-arm-cast",)), 5000)
    found = " ".join(problem.what for problem in weight_problems(library, demo_desk().messages, TEMPLATES))
    assert "'en'" in found
    assert "'es'" not in found
