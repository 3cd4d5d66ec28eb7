"""Tests that problems are data, and of their sentences in the words of the reader."""

from __future__ import annotations

import json
import pickle

import pytest

from aftercare.errors import Fault, Problem, Refused, Where, nearest

NAMES = {"short-arm-cast": "Short arm cast", "fiberglass": "Fiberglass", "visit": "Next visit"}


def name(word: str) -> str:
    """The reader's name for an id, "" for an unknown word."""
    return NAMES.get(word, "")


# ---- sentences ----


def test_each_subject_is_quoted_in_its_place() -> None:
    problem = Problem(Fault.NOT_MADE_IN, "{} is not made in {}.", subject=("short-arm-cast", "foam"))
    assert problem.sentence() == "'short-arm-cast' is not made in 'foam'."


def test_a_sentence_without_a_subject_is_unchanged() -> None:
    assert Problem(Fault.NEEDED, "No device was chosen.").sentence() == "No device was chosen."


def test_what_is_allowed_the_suggestion_and_the_advice_follow_in_this_order() -> None:
    problem = Problem(
        Fault.BAD_VALUE,
        "No paper is called {}.",
        subject=("lettr",),
        allowed=("letter", "a4"),
        suggestion="letter",
        advice="Choose one.",
    )
    assert problem.sentence() == ("No paper is called 'lettr'. Allowed: letter, a4. Did you mean 'letter'? Choose one.")


def test_ids_that_the_reader_has_names_for_are_named_and_other_words_are_not() -> None:
    problem = Problem(
        Fault.NOT_MADE_IN,
        "{} is not made in {}.",
        subject=("short-arm-cast", "foam"),
        allowed=("fiberglass", "plaster"),
        suggestion="fiberglass",
        advice="Choose again.",
    )
    assert problem.sentence(name) == (
        "“Short arm cast” is not made in 'foam'. Allowed: Fiberglass, plaster. Did you mean “Fiberglass”? Choose again."
    )


@pytest.mark.parametrize("word", ["{}", "{0}", "{held_parts}", "}{", "%s", "'", "", "a {} b {} c"])
def test_braces_in_a_subject_are_unchanged(word: str) -> None:
    problem = Problem(Fault.UNKNOWN_NAME, "{} is unknown beside {}.", subject=(word, "device"))
    assert problem.sentence() == f"'{word}' is unknown beside 'device'."


def test_braces_in_a_name_are_unchanged() -> None:
    problem = Problem(Fault.UNKNOWN_NAME, "{} is unknown beside {}.", subject=("device", "material"))
    assert problem.sentence(lambda word: f"{{}} {word}") == "“{} device” is unknown beside “{} material”."


@pytest.mark.parametrize(("what", "subject"), [("{} is wrong.", ("a", "b")), ("Wrong.", ("a",)), ("{} in {}.", ("a",))])
def test_a_sentence_with_another_number_of_places_than_subjects_is_an_error(what: str, subject: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="subjects for"):
        Problem(Fault.BAD_VALUE, what, subject=subject).sentence()


@pytest.mark.parametrize(
    ("where", "text"),
    [
        (Where("clinic.md", 3), "clinic.md:3: Wrong."),
        (Where("clinic.md"), "clinic.md: Wrong."),
        (None, "Wrong."),
    ],
)
def test_a_problem_as_text_begins_with_its_place(where: Where | None, text: str) -> None:
    assert str(Problem(Fault.BAD_VALUE, "Wrong.", where=where)) == text


# ---- data ----


def test_a_problem_as_data_has_every_part_of_it_and_the_sentence() -> None:
    problem = Problem(
        Fault.BAD_DATE,
        "{} is {}, which is no day and time.",
        subject=("visit", "2026-13-40"),
        allowed=("a day and time such as 2026-11-25T14:30",),
        suggestion="2026-11-30",
        advice="Write it so.",
        where=Where("clinic.md", 3),
        field="visit",
    )
    assert json.loads(json.dumps(problem.as_data())) == {
        "fault": "bad_date",
        "message": "'visit' is '2026-13-40', which is no day and time. Allowed: a day and time such as 2026-11-25T14:30. "
        "Did you mean '2026-11-30'? Write it so.",
        "subject": ["visit", "2026-13-40"],
        "allowed": ["a day and time such as 2026-11-25T14:30"],
        "suggestion": "2026-11-30",
        "advice": "Write it so.",
        "field": "visit",
        "file": "clinic.md",
        "line": 3,
    }


@pytest.mark.parametrize(
    ("where", "file", "line"), [(None, None, None), (Where("clinic.md"), "clinic.md", None), (Where("a.yaml", 1), "a.yaml", 1)]
)
def test_a_problem_as_data_has_no_line_where_it_is_about_a_whole_file(
    where: Where | None, file: str | None, line: int | None
) -> None:
    data = Problem(Fault.BAD_FILE, "Wrong.", where=where).as_data()
    assert (data["file"], data["line"]) == (file, line)


# ---- refusals ----


def test_a_refusal_of_one_problem_has_every_argument() -> None:
    refused = Refused.one(
        Fault.UNKNOWN_DEVICE,
        "No device is called {}.",
        subject=("shrt",),
        allowed=(word for word in ("short", "long")),
        suggestion="short",
        advice="Choose one.",
        where=Where("clinic.md", 3),
        field="device",
    )
    assert refused.problems == (
        Problem(
            Fault.UNKNOWN_DEVICE,
            "No device is called {}.",
            subject=("shrt",),
            allowed=("short", "long"),
            suggestion="short",
            advice="Choose one.",
            where=Where("clinic.md", 3),
            field="device",
        ),
    )


def test_a_refusal_of_one_problem_needs_no_more_than_its_fault_and_sentence() -> None:
    assert Refused.one(Fault.NEEDED, "No device was chosen.").problems == (Problem(Fault.NEEDED, "No device was chosen."),)


def test_a_refusal_as_text_has_each_problem_on_a_line() -> None:
    problems = (Problem(Fault.NEEDED, "No device."), Problem(Fault.NEEDED, "No side.", where=Where("clinic.md", 3)))
    assert str(Refused(problems)) == "No device.\nclinic.md:3: No side."


def test_a_pickled_refusal_has_the_same_problems() -> None:
    refused = Refused.one(Fault.BAD_VALUE, "{} is wrong.", subject=("{}",), where=Where("clinic.md", 3))
    assert pickle.loads(pickle.dumps(refused)).problems == refused.problems


# ---- suggestions ----


@pytest.mark.parametrize(
    ("word", "suggestion"), [("shrt-arm-cast", "short-arm-cast"), ("FIBERGLAS", "fiberglass"), ("xyz", ""), ("", "")]
)
def test_the_nearest_known_word_is_suggested_where_one_is_near(word: str, suggestion: str) -> None:
    assert nearest(word, NAMES) == suggestion
