"""Tests of problems at the desk: the words on the desk's buttons in place of ids, and typed words unchanged."""

from __future__ import annotations

import pytest

from aftercare.errors import Fault, Problem, Where
from aftercare.library.catalogue import Library
from aftercare.web.problems import ShownProblem, desk_names, shown_problems


def shown(problem: Problem, library: Library) -> ShownProblem:
    (words,) = shown_problems([problem], desk_names(library))
    return words


def test_ids_in_the_subject_the_allowed_values_and_the_suggestion_are_named_as_on_the_buttons(library: Library) -> None:
    problem = Problem(
        Fault.NOT_MADE_IN,
        "{} is not made in {}.",
        subject=("short-arm-cast", "thermoplastic"),
        allowed=("fiberglass", "plaster-rolled"),
        suggestion="fiberglass",
        advice="Choose again.",
        field="material",
    )
    names = desk_names(library)

    assert shown(problem, library) == ShownProblem(
        field="material",
        what=f"“Short arm cast” is not made in “{names['thermoplastic']}”.",
        sentence=(
            f"“Short arm cast” is not made in “{names['thermoplastic']}”. "
            f"Allowed: {names['fiberglass']}, {names['plaster-rolled']}. Did you mean “{names['fiberglass']}”? Choose again."
        ),
    )


@pytest.mark.parametrize(
    ("id_", "name"),
    [
        ("short-arm-cast", "Short arm cast"),
        ("waterproof-liner", "Waterproof lining"),
        ("applied", "Put on"),
        ("visit", "Next visit"),
        ("removal", "Taken off at home on"),
    ],
)
def test_a_device_an_option_and_a_date_are_named(library: Library, id_: str, name: str) -> None:
    assert shown(Problem(Fault.BAD_DATE, "{} is wrong.", subject=(id_,)), library).what == f"“{name}” is wrong."


def test_every_device_material_option_and_weight_order_has_a_name(library: Library) -> None:
    names = desk_names(library)

    assert names.keys() > {*library.devices, *library.materials, *library.options, *library.weights}
    assert "" not in names.values()


@pytest.mark.parametrize("typed", ["shrt-arm-cast", "Short-Arm-Cast", "{}", "2026-13-40T10:00", "'short-arm-cast'", ""])
def test_an_unknown_word_is_shown_as_it_was_typed(library: Library, typed: str) -> None:
    problem = Problem(Fault.UNKNOWN_DEVICE, "No device is called {}.", subject=(typed,))

    assert shown(problem, library).sentence == f"No device is called '{typed}'."


def test_words_outside_the_data_are_never_rewritten(library: Library) -> None:
    problem = Problem(Fault.NEEDED, "No 'short-arm-cast' here.", advice="Choose 'wires': plaster-rolled.")

    assert shown(problem, library).sentence == "No 'short-arm-cast' here. Choose 'wires': plaster-rolled."


def test_the_place_in_a_file_is_in_the_sentence_but_not_in_its_first_part(library: Library) -> None:
    problem = Problem(Fault.BAD_VALUE, "Wrong.", advice="Put it right.", where=Where("clinic.md", 3))

    assert shown(problem, library) == ShownProblem("", "Wrong.", "clinic.md:3: Wrong. Put it right.")
