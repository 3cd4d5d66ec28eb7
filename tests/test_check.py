"""Tests that `check` reports planted faults, however few sheets have them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from aftercare.check.grades import danger_blocks, sheet_grade_problems
from aftercare.check.languages import language_problems
from aftercare.check.run import COMPOSING, Report, check, device_report
from aftercare.desk import Desk
from aftercare.errors import Fault, Refused, Where
from aftercare.language.extraction import messages_of
from aftercare.language.messages import Entry, Messages
from aftercare.sheet.validate import Picked
from tests.conftest import ROOT
from tests.phone_world import demo_desk
from tests.small_world import FILES, advice, option, small_desk, without_fact

DEVICES = sorted(path.stem for path in (ROOT / "content" / "devices").glob("*.md"))


def warning(id_: str) -> dict[str, str | None]:
    return {f"warnings/{id_}.md": f"---\nid: {id_}\ntier: go-now\norder: 20\nwhy: So it is.\n---\n# Sign\nIt is so.\n"}


# A phone number in a sentence of few words makes it read hard by the formulas.
EASY: dict[str, str | None] = {"warnings/pain.md": FILES["warnings/pain.md"].replace(" Call {clinic_phone}.", "")}


def report(folder: Path, *changed: Mapping[str, str | None], device: str = "arm-cast") -> Report:
    files = {name: text for change in (EASY, *changed) for name, text in change.items()}
    return device_report(small_desk(folder, files), device)


def faults(result: Report | Refused) -> list[Fault]:
    return [problem.fault for problem in result.problems]


# ---- planted faults are reported ----


def test_a_sound_world_has_no_problem(tmp_path: Path) -> None:
    assert report(tmp_path).problems == ()


def test_a_fact_missing_only_with_two_options_together_is_reported(tmp_path: Path) -> None:
    result = report(
        tmp_path,
        without_fact("raise"),
        advice("up", "covers: [raise]\nnot: {options: [numb]}"),
        advice("up-numb", "covers: [raise]\napplies: {options: [numb]}\nnot: {options: [swelling]}"),
    )
    (problem,) = result.problems
    assert problem.fault is Fault.REQUIRED_MISSING
    assert "'raise'" in problem.sentence()


def test_a_fact_missing_only_with_one_option_alone_is_reported(tmp_path: Path) -> None:
    result = report(
        tmp_path,
        without_fact("raise"),
        advice("up", "covers: [raise]\nnot: {options: [numb]}"),
        advice("up-both", "covers: [raise]\napplies: {options: [swelling]}"),
    )
    assert faults(result) == [Fault.REQUIRED_MISSING]


def test_exclusive_modules_that_meet_only_with_two_options_are_reported(tmp_path: Path) -> None:
    result = report(
        tmp_path,
        advice("one", "applies: {options: [numb]}"),
        advice("two", "applies: {options: [swelling]}"),
        {"exclusive.yaml": FILES["exclusive.yaml"] + "pair: {why: they disagree, modules: [one, two]}\n"},
    )
    (problem,) = result.problems
    assert problem.fault is Fault.CONTRADICTION
    assert "'one' and 'two'" in problem.sentence()


def test_exclusive_modules_are_reported_even_where_no_largest_set_of_options_has_both(tmp_path: Path) -> None:
    """Each of the two options conflicts with one of lower bit, so no largest set has both."""
    result = report(
        tmp_path,
        option("low", 2),
        option("lower", 3),
        option("a", 4, "conflicts: [lower]"),
        option("b", 5, "conflicts: [low]"),
        advice("one", "applies: {options: [a]}"),
        advice("two", "applies: {options: [b]}"),
        {"exclusive.yaml": FILES["exclusive.yaml"] + "pair: {why: they disagree, modules: [one, two]}\n"},
    )
    assert faults(result) == [Fault.CONTRADICTION]


def test_a_sign_that_one_option_requires_and_another_removes_is_reported(tmp_path: Path) -> None:
    result = report(
        tmp_path, option("wires", 2), advice("pins", "covers: [pin_infection]\nnot: {options: [numb]}", "Look at the pins.")
    )
    (problem,) = result.problems
    assert problem.fault is Fault.REQUIRED_MISSING
    assert "'pin_infection'" in problem.sentence()


def test_a_contradiction_under_one_weight_order_only_is_reported(tmp_path: Path) -> None:
    result = report(
        tmp_path,
        advice("stand", "applies: {weights: [full]}"),
        advice("sit", "applies: {weights: [full], options: [numb]}"),
        {"exclusive.yaml": FILES["exclusive.yaml"] + "pair: {why: they disagree, modules: [stand, sit]}\n"},
        device="leg-cast",
    )
    assert faults(result) == [Fault.CONTRADICTION]


# CDC Clear Communication Index, item 8: a list has at most seven items.
def test_a_list_of_more_than_seven_items_is_reported_and_one_of_seven_is_not(tmp_path: Path) -> None:
    assert report(tmp_path / "seven", advice("long", text="- Do so.\n" * 7)).problems == ()
    (problem,) = report(tmp_path / "eight", advice("long", text="- Do so.\n" * 8)).problems
    assert problem.fault is Fault.LIST_TOO_LONG
    assert problem.where
    assert problem.where.path.endswith("advice/long.md")


def test_more_than_seven_signs_of_one_tier_are_reported(tmp_path: Path) -> None:
    six = {key: text for number in range(6) for key, text in warning(f"sign-{number}").items()}
    assert report(tmp_path / "seven", six).problems == ()
    assert set(faults(report(tmp_path / "eight", six, warning("one-more")))) == {Fault.LIST_TOO_LONG}


def test_a_chunk_of_more_than_eighty_words_is_reported(tmp_path: Path) -> None:
    eight = "Do it as we say it to you. "  # eight words
    assert report(tmp_path / "eighty", advice("chunk", text=eight * 10)).problems == ()
    assert faults(report(tmp_path / "more", advice("chunk", text=eight * 10 + "Now."))) == [Fault.CHUNK_TOO_LONG]


def test_a_sheet_that_is_too_hard_to_read_is_reported_with_its_grade(tmp_path: Path) -> None:
    hard = "Immobilization necessitates continuous neurovascular observation. " * 4
    result = report(tmp_path, advice("hard", text=hard))
    assert set(faults(result)) == {Fault.HARD_TO_READ}
    assert all("at most 6" in problem.allowed for problem in result.problems)


def test_a_danger_box_that_is_too_hard_to_read_is_reported_on_its_own(tmp_path: Path) -> None:
    sign = FILES["warnings/pain.md"].replace("It hurts more.", "Immobilization intensifies discomfort considerably.")
    result = report(tmp_path, {"warnings/pain.md": sign})
    assert any("danger box" in problem.what and "at most 5" in problem.allowed for problem in result.problems)


def test_the_danger_box_has_the_signs_to_act_on_at_once() -> None:
    desk = demo_desk()
    translated = desk.translate(desk.choose(Picked("short-leg-cast", "fiberglass", weight="none")), "en")
    blocks = list(danger_blocks(translated))
    urgent = [group for group in translated.sheet.groups if group.tier in ("call-emergency", "go-now")]
    assert len(blocks) == sum(1 + 2 * len(group.signs) for group in urgent)
    assert not any("{" in block for block in blocks)


def in_spanish(desk: Desk, changed: Mapping[str, str]) -> Desk:
    """The desk with sound stand-ins for the translation of every message, some changed."""
    entries = {}
    for line, text in enumerate(messages_of(desk.sheets.values()), 1):
        fake = changed.get(text.message, text.message.replace("Do not", "No").replace("same day", "mismo día") + " (es)")
        entries[text.message] = Entry(text.message, fake, fuzzy=False, reviewed=frozenset(), where=Where("es.po", line))
    return replace(desk, messages={"es": Messages("es", entries, ())})


@pytest.mark.parametrize(
    ("message", "translation", "fault"),
    [
        ("Do not use ice.", "Use ice.", Fault.NEGATION_LOST),
        ("Ice on the cast: {ice_minutes}.", "Ice.", Fault.PLACEHOLDER_LOST),
        ("If you feel less", "Si siente menos de 2", Fault.NUMBER_CHANGED),
        ("Raise your arm.", "", Fault.UNTRANSLATED),
    ],
)
def test_an_unsound_translation_is_reported(tmp_path: Path, message: str, translation: str, fault: Fault) -> None:
    clinic = FILES["clinic.md"].replace("[en]", "[en, es]")
    desk = small_desk(tmp_path, {"clinic.md": clinic})
    assert language_problems(in_spanish(desk, {})) == {"en": (), "es": ()}
    problems = language_problems(in_spanish(desk, {message: translation}))["es"]
    assert fault in [problem.fault for problem in problems]


# ---- the whole check ----


def test_a_problem_of_many_sheets_is_reported_once(tmp_path: Path) -> None:
    result = check(small_desk(tmp_path, EASY | advice("long", text="- Do so.\n" * 8)), jobs=1, layout=False)
    assert faults(result) == [Fault.LIST_TOO_LONG]
    assert result.composed > 2


def test_a_required_fact_that_every_sheet_lacks_is_reported_for_each_device_before_any_check(tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        small_desk(tmp_path, EASY | without_fact("raise"))
    assert faults(refused.value) == [Fault.REQUIRED_MISSING] * 2  # once for each device


def test_where_sheets_cannot_be_composed_all_else_is_reported_and_layout_as_skipped(tmp_path: Path) -> None:
    pins = advice("pins", "covers: [pin_infection]\nnot: {options: [numb]}", "Look at the pins.")
    changed = EASY | option("wires", 2) | pins | advice("long", text="- Do so.\n" * 8)
    result = check(small_desk(tmp_path, changed), jobs=1)
    assert faults(result) == [Fault.LIST_TOO_LONG, Fault.REQUIRED_MISSING, Fault.REQUIRED_MISSING]  # once for each device
    assert result.skipped == ("Paper and phone pages: some sheets cannot be composed.",)
    assert result.laid_out == 0


def test_two_processes_report_the_same_as_one_and_progress_is_reported(tmp_path: Path) -> None:
    desk = small_desk(tmp_path, advice("long", text="- Do so.\n" * 8))
    steps: list[tuple[str, int, int]] = []
    alone = check(desk, jobs=1, layout=False)
    shared = check(desk, jobs=2, layout=False, progress=lambda *step: steps.append(step))
    assert shared == alone
    assert steps == [(COMPOSING, 1, 2), (COMPOSING, 2, 2)]


def test_a_clinic_file_not_filled_in_is_a_problem_and_skipped_checks_are_reported(tmp_path: Path) -> None:
    clinic = FILES["clinic.md"].replace("phone: (202) 555-0143\n", "phone:\n")
    result = check(small_desk(tmp_path, {"clinic.md": clinic}), jobs=1)
    assert Fault.NOT_SET in faults(result)
    assert "Reading grade" in result.skipped[0]
    assert result.laid_out == 0


def test_skipped_layout_is_reported(tmp_path: Path) -> None:
    assert check(small_desk(tmp_path), jobs=1, layout=False).skipped == ("Paper and phone pages.",)


# ---- what is shipped ----


@pytest.mark.parametrize("device", DEVICES)
def test_every_sheet_of_a_shipped_device_is_sound(device: str) -> None:
    result = device_report(demo_desk(), device)
    assert result.problems == ()
    assert result.composed > len(demo_desk().device(device).materials)


def test_the_fullest_sheet_of_one_patient_is_still_easy_to_read() -> None:
    picked = Picked("short-leg-cast", "fiberglass", options=("wires", "wound", "less-feeling", "small-child"), weight="none")
    assert list(sheet_grade_problems(demo_desk().translate(demo_desk().choose(picked), "en"))) == []
