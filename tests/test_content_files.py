"""Tests that content files are read completely, and that every mistake in every file is reported at once, at its line."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path

import pytest

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.library.catalogue import Library, load_library, texts_of
from aftercare.library.modules import Tier
from aftercare.library.text import BlockKind
from aftercare.library.words import placeholders
from aftercare.sheet.choices import Side
from aftercare.sheet.schedule import Schedule
from tests.small_world import FILES, small_world

# Reads a small world with some files changed, and returns its problems.
Reported = Callable[[dict[str, str | None]], tuple[Problem, ...]]


@pytest.fixture
def problems(tmp_path: Path) -> Reported:
    """A function that reads a small world with some files changed and returns the problems."""

    def of(changed: dict[str, str | None]) -> tuple[Problem, ...]:
        with pytest.raises(Refused) as refused:
            load_library(small_world(tmp_path, changed))
        return refused.value.problems

    return of


def place(problem: Problem) -> Where:
    """The place of a problem; fails for one without a place."""
    assert problem.where, problem
    return problem.where


def replaced(name: str, old: str, new: str) -> dict[str, str | None]:
    """One file of the small world with one phrase changed."""
    assert old in FILES[name]
    return {name: FILES[name].replace(old, new)}


def test_a_sound_folder_is_read_with_files_and_lines(tmp_path: Path) -> None:
    library = load_library(small_world(tmp_path))

    item = library.advice[0].blocks[0].text
    assert item.message == "Raise {your limb}."
    assert (item.where.path.endswith("content/advice/care.md"), item.where.line) == (True, 8)


def test_a_mistyped_material_is_reported_with_its_line_the_known_ones_and_a_suggestion(problems: Reported) -> None:
    (problem,) = problems(replaced("devices/arm-cast.md", "materials: [plaster]", "materials: [plastr]"))

    assert problem.fault is Fault.UNKNOWN_NAME
    assert problem.subject == ("materials", "plastr")
    assert problem.allowed == ("plaster",)
    assert problem.suggestion == "plaster"


def test_every_mistake_in_every_file_is_reported_in_one_run(problems: Reported) -> None:
    reported = problems(
        replaced("devices/arm-cast.md", "kind: cast", "kind: cest")
        | replaced("advice/ice.md", "order: 10", "order: ten")
        | replaced("figures.yaml", "unit: day", "unit: moon")
        | replaced("warnings/pain.md", "why: Too tight.\n", "")
    )

    assert {(problem.fault, place(problem).path.rsplit("/", 1)[1], place(problem).line) for problem in reported} == {
        (Fault.UNKNOWN_NAME, "arm-cast.md", 4),
        (Fault.BAD_VALUE, "ice.md", 4),
        (Fault.UNKNOWN_NAME, "figures.yaml", 2),
        (Fault.MISSING_KEY, "pain.md", 2),
    }


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("1. First.", "Numbered lists"),
        ("1) First.", "Numbered lists"),
        ("* First.", "other list marks"),
        ("  - Inner.", "list inside a list"),
        ("- - Inner.", "list inside a list"),
        ("- # Inner", "heading inside a list"),
        ("> Said.", "Quotations"),
        ("See <b>this</b>.", "HTML"),
        ("See [this](https://example.org).", "Links"),
        ("See [this][place].", "Links"),
        ("[place]: https://example.org", "Links"),
        ("A &amp; B", "HTML"),
        ("| a | b |", "Tables"),
        ("`word`", "Code"),
        ("~~~", "Code"),
        ("    Indented.", "code"),
        ("Turn \\ round.", "Backslashes"),
        ("* * *", "alone"),
        ("===", "alone"),
        ("--", "alone"),
        ("- ", "alone"),
        ("Very *important*.", "bold"),
        ("Very _important_.", "bold"),
        ("Very ***important***.", "partner"),
        ("**Very important.", "partner"),
        ("**Very ** important.", "partner"),
        ("## other", "clinic file only"),
        ("### deep", "heading"),
        ("#close", "heading"),
        ("# Closed #", "heading"),
        ("Turn \u202eround.", "direction marks are not allowed: 'U+202E'"),
        ("Turn \x02round.", "Control characters"),
    ],
)
def test_markdown_outside_the_subset_is_refused_at_its_line(problems: Reported, line: str, what: str) -> None:
    (problem,) = problems({"advice/ice.md": FILES["advice/ice.md"] + f"\n{line}\n"})

    assert (problem.fault, place(problem).line) == (Fault.BAD_MARKDOWN, 11)
    assert what in problem.sentence()
    assert "paragraphs" in problem.allowed


def test_each_refused_mark_is_reported_at_its_own_line_of_a_paragraph(problems: Reported) -> None:
    text = "\nFirst `line`\nwith **two\nbold words** and <b>\n> and this.\n"
    reported = problems({"advice/ice.md": FILES["advice/ice.md"] + text})

    assert [(place(problem).line, problem.subject) for problem in reported] == [
        (11, ("`",)),
        (13, ("<b>",)),
        (14, ("> and this.",)),
    ]


def test_two_spaces_at_the_end_of_a_line_are_refused(problems: Reported) -> None:
    (problem,) = problems({"advice/ice.md": FILES["advice/ice.md"] + "\nFirst line  \nand second.\n"})

    assert (problem.fault, place(problem).line) == (Fault.BAD_MARKDOWN, 11)


def test_lines_of_a_block_are_joined_and_lists_may_follow_a_paragraph_directly(tmp_path: Path) -> None:
    text = "\n**Two\nlines**\n- an item\n  goes on\n- Q & A: 'less < more', [so it is]\n"
    library = load_library(small_world(tmp_path, {"advice/ice.md": FILES["advice/ice.md"] + text}))

    (ice,) = (advice for advice in library.advice if advice.id == "ice")
    assert [(block.kind, block.text.message, block.text.where.line) for block in ice.blocks[1:]] == [
        (BlockKind.PARAGRAPH, "**Two lines**", 11),
        (BlockKind.ITEM, "an item goes on", 13),
        (BlockKind.ITEM, "Q & A: 'less < more', [so it is]", 15),
    ]


def test_a_number_in_a_text_is_refused_with_advice_to_use_the_figures_file(problems: Reported) -> None:
    (problem,) = problems(replaced("advice/ice.md", "{ice_minutes}", "20 minutes"))

    assert (problem.fault, place(problem).line) == (Fault.DIGITS_IN_TEXT, 9)
    assert (problem.subject, "figures.yaml" in problem.advice) == (("20",), True)


def test_an_unknown_placeholder_is_refused_with_a_suggestion(problems: Reported) -> None:
    (problem,) = problems(replaced("advice/ice.md", "{ice_minutes}", "{ice_minuts}"))

    assert (problem.fault, problem.suggestion) == (Fault.UNKNOWN_PLACEHOLDER, "ice_minutes")


def test_a_sentence_of_more_than_twenty_words_is_refused(problems: Reported) -> None:
    long = " ".join(["word"] * 21) + "."
    (problem,) = problems(replaced("advice/no-ice.md", "Do not use ice.", long))

    assert (problem.fault, problem.allowed) == (Fault.SENTENCE_TOO_LONG, ("at most 20",))
    assert "21 words" in problem.sentence()


def test_a_figure_outside_its_published_range_is_refused(problems: Reported) -> None:
    (problem,) = problems(replaced("figures.yaml", "value: [15, 20]", "value: [15, 45]"))

    assert (problem.fault, place(problem).line) == (Fault.OUTSIDE_PUBLISHED_RANGE, 1)
    assert problem.allowed == ("15 to 30",)
    assert problem.subject == ("ice_minutes", "a leaflet")


def test_a_code_used_twice_is_refused_naming_the_other_file(problems: Reported) -> None:
    (problem,) = problems(replaced("devices/leg-cast.md", "code: LC", "code: AC"))

    assert problem.fault is Fault.DUPLICATE
    assert problem.subject[0] == "AC"
    assert problem.subject[1].endswith("arm-cast.md")


def test_a_part_that_the_limb_does_not_have_is_refused(problems: Reported) -> None:
    (problem,) = problems(replaced("devices/arm-cast.md", "holds: [wrist]", "holds: [wrist, knee]"))

    assert (problem.fault, place(problem).line) == (Fault.BAD_VALUE, 10)
    assert problem.subject == ("holds", "knee")
    assert "wrist" in problem.allowed


def test_a_missing_file_is_a_problem_and_does_not_hide_others(problems: Reported) -> None:
    reported = problems({"topics.yaml": None, **replaced("devices/arm-cast.md", "removal: never", "removal: nevr")})

    assert {Fault.BAD_FILE, Fault.UNKNOWN_NAME} <= {problem.fault for problem in reported}


def test_yaml_that_cannot_be_read_is_one_problem_at_its_line(problems: Reported) -> None:
    reported = problems(replaced("topics.yaml", "ice: {title: Ice", "ice: {title: [Ice"))

    assert (Fault.BAD_HEADER, 2) in {(problem.fault, place(problem).line) for problem in reported}


def test_a_control_character_in_a_header_is_a_problem_at_its_line(problems: Reported) -> None:
    """YAML 1.2.2, section 5.1: the C0 control characters besides tab and line ends are not printable."""
    reported = problems(replaced("topics.yaml", "ice: {title: Ice", "ice: {title: \x07Ice"))

    assert (Fault.BAD_HEADER, 2) in {(problem.fault, place(problem).line) for problem in reported}
    assert any("U+0007" in problem.sentence() for problem in reported)


def test_a_warning_is_named_by_the_title_of_its_file(tmp_path: Path) -> None:
    (pain,) = load_library(small_world(tmp_path)).warnings

    assert (pain.title.message, pain.title.where.line) == ("Pain", 7)


@pytest.mark.parametrize(("name", "line"), [("options/numb.md", 6), ("materials/plaster.md", 8)])
def test_text_below_the_name_of_an_option_or_material_is_its_notes(tmp_path: Path, name: str, line: int) -> None:
    notes = "\nLook at the skin.\n\n- Then ask.\n"
    library = load_library(small_world(tmp_path, {name: FILES[name] + notes}))

    noted = library.options["numb"] if name.startswith("options") else library.materials["plaster"]
    assert [note.message for note in noted.notes] == ["Look at the skin.", "Then ask."]
    assert noted.notes[0].where.line == line + 2


@pytest.mark.parametrize(
    "changed",
    [
        {"options/numb.md": FILES["options/numb.md"] + "\nFor {the device}.\n"},
        {"materials/plaster.md": FILES["materials/plaster.md"] + "\nDry after {plaster_dry_hours}.\n"},
        replaced("options/numb.md", "# Feels less", "# Feels less under {the device}"),
        replaced("weights.yaml", "label: Full", 'label: "Full for {the device}"'),
    ],
)
def test_a_placeholder_in_a_text_for_staff_is_refused_since_nothing_fills_it_in(
    problems: Reported, changed: dict[str, str | None]
) -> None:
    (problem,) = problems(changed)

    assert problem.fault is Fault.UNKNOWN_PLACEHOLDER
    assert problem.subject[0].startswith("{")
    assert place(problem).line > 0


@pytest.mark.parametrize(("days", "source"), [("first-visit-days", "first-visit-source"), ("weeks", "weeks-source")])
def test_a_usual_time_of_a_device_needs_a_source_and_a_source_needs_a_time(problems: Reported, days: str, source: str) -> None:
    def with_line(line: str) -> Problem:
        (problem,) = problems(replaced("devices/arm-cast.md", "removal: never", f"removal: never\n{line}"))
        return problem

    missing, idle = with_line(f"{days}: [7, 14]"), with_line(f"{source}: a leaflet")

    assert (missing.fault, missing.subject) == (Fault.MISSING_KEY, (source,))
    assert (idle.fault, idle.subject) == (Fault.BAD_VALUE, (source, days))
    assert idle.where
    assert place(idle).line == 13


def test_a_usual_time_of_a_device_is_read_with_its_source(tmp_path: Path) -> None:
    lines = "removal: never\nfirst-visit-days: [7, 14]\nfirst-visit-source: a leaflet\nweeks: 6\nweeks-source: a plan"
    library = load_library(small_world(tmp_path, replaced("devices/arm-cast.md", "removal: never", lines)))

    arm, leg = library.devices["arm-cast"], library.devices["leg-cast"]
    assert (arm.first_visit_days, arm.first_visit_source) == ((7, 14), "a leaflet")
    assert (arm.weeks, arm.weeks_source) == ((6, 6), "a plan")
    assert (leg.first_visit_days, leg.first_visit_source, leg.weeks, leg.weeks_source) == (None, "", None, "")


# ---- nothing idle ----


def test_every_label_is_printed_on_some_page(library: Library, checkout: Path) -> None:
    files = (*checkout.glob("templates/**/*.html"), *checkout.glob("aftercare/**/*.py"))
    named = set(re.findall(r"""['".](\w+)""", " ".join(path.read_text(encoding="utf-8") for path in files)))
    families = {f"tier_{tier.replace('-', '_')}" for tier in Tier} | {f"side_{side}" for side in Side}
    families |= {f"date_{date.name}" for date in fields(Schedule)}
    families |= {id_ for id_ in library.labels if id_.startswith("teach_back_")}

    assert sorted(library.labels.keys() - named - families) == []


def test_every_figure_is_named_in_a_text_or_by_a_date(library: Library) -> None:
    named = {name for text in texts_of(library) for name in placeholders(text.message)}
    named |= {material.dry_after or "" for material in library.materials.values()}
    named |= {material.walk_after or "" for material in library.materials.values()}
    named |= {"early_visit_hours"}  # sheet.schedule: a look within this time where the limb may swell

    assert sorted(library.figures.keys() - named) == []


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("labels.yaml", "Caring for {the device}", "Caring for *{the device}*"),
        ("weights.yaml", "condition: If full", "condition: If **full"),
        ("topics.yaml", "title: Care", "title: Care <b>now</b>"),
        ("warnings/pain.md", "why: Too tight.", "why: Too `tight`."),
    ],
)
def test_markdown_outside_the_subset_is_refused_in_yaml_too(problems: Reported, file: str, old: str, new: str) -> None:
    reported = problems(replaced(file, old, new))

    assert {problem.fault for problem in reported} == {Fault.BAD_MARKDOWN}
    assert {place(problem).path.rsplit("/", 1)[1] for problem in reported} == {file.rsplit("/", 1)[-1]}
