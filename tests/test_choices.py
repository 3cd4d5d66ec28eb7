"""Tests of the validation of choices: each bad input is a problem with what is allowed, and all are reported at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.catalogue import Library, load_library
from aftercare.sheet.choices import Side
from aftercare.sheet.validate import Picked, choose
from tests.small_world import small_world

ARM = Picked("short-arm-cast", "fiberglass")
LEG = Picked("short-leg-cast", "fiberglass", weight="none")


def problems(library: Library, picked: Picked) -> tuple[Problem, ...]:
    """The problems for which these words are refused."""
    with pytest.raises(Refused) as refused:
        choose(library, picked)
    return refused.value.problems


def statement(problem: Problem) -> str:
    """The sentence of a problem without what is allowed and what to do next."""
    return replace(problem, allowed=(), suggestion="", advice="").sentence()


@pytest.mark.parametrize(
    ("picked", "fault", "field", "stated", "allowed", "advice"),
    [
        (Picked("short-arm-cats"), Fault.UNKNOWN_DEVICE, "device", "'short-arm-cats'", "short-arm-cast", "'short-arm-cast'?"),
        (Picked(""), Fault.UNKNOWN_DEVICE, "device", "No device was chosen", "short-arm-cast", ""),
        (
            replace(ARM, material="fibreglass"),
            Fault.UNKNOWN_MATERIAL,
            "material",
            "'fibreglass'",
            "fiberglass",
            "'fiberglass'?",
        ),
        (replace(ARM, material="walker-boot"), Fault.NOT_MADE_IN, "material", "not made in", "fiberglass", "another device"),
        (replace(ARM, material=""), Fault.NEEDED, "material", "No material", "fiberglass", "what it was made from"),
        (replace(ARM, options=("wire",)), Fault.UNKNOWN_OPTION, "options", "'wire'", "wires", "'wires'?"),
        (
            replace(ARM, options=("crutches",)),
            Fault.CANNOT_APPLY,
            "options",
            "'crutches' cannot apply",
            "sling",
            "Leave it out",
        ),
        (replace(ARM, weight="full"), Fault.CANNOT_APPLY, "weight", "takes no weight order", "", "Leave the weight order out"),
        (replace(LEG, weight=""), Fault.NEEDED, "weight", "No weight order", "none", "what the clinician ordered"),
        (replace(LEG, weight="ful"), Fault.UNKNOWN_WEIGHT, "weight", "'ful'", "none", "'full'?"),
        (replace(ARM, side="lft"), Fault.UNKNOWN_SIDE, "side", "'lft'", "left, right", "'left'?"),
        (replace(ARM, applied="yesterday"), Fault.BAD_DATE, "applied", "'yesterday'", "2026-11-25T14:30", ""),
        (replace(ARM, applied="2026-02-30T10:00"), Fault.BAD_DATE, "applied", "no day and time", "2026-11-25T14:30", ""),
        (replace(ARM, visit="2026-12-02"), Fault.BAD_DATE, "visit", "no day and time", "2026-11-25T14:30", ""),
        (replace(ARM, removal="23 December"), Fault.BAD_DATE, "removal", "no day", "2026-12-23", ""),
    ],
)
def test_a_bad_choice_is_reported_with_its_field_the_word_and_what_is_allowed(
    library: Library, picked: Picked, fault: Fault, field: str, stated: str, allowed: str, advice: str
) -> None:
    (problem,) = [reported for reported in problems(library, picked) if reported.fault is fault]
    assert problem.field == field
    assert stated in statement(problem)
    assert allowed in ", ".join(problem.allowed)
    assert advice in f"'{problem.suggestion}'? {problem.advice}"


def test_a_visit_before_it_was_put_on_is_refused_with_both_dates(library: Library) -> None:
    (problem,) = problems(library, replace(ARM, applied="2026-12-02T09:00", visit="2026-11-25T14:30"))
    assert problem.fault is Fault.DATE_ORDER
    assert problem.subject == ("2026-11-25 14:30", "2026-12-02 09:00")


def test_a_visit_at_the_minute_of_application_is_refused(library: Library) -> None:
    (problem,) = problems(library, replace(ARM, applied="2026-12-02T09:00", visit="2026-12-02T09:00"))
    assert problem.fault is Fault.DATE_ORDER


def test_a_removal_on_the_day_of_application_is_refused(library: Library) -> None:
    boot = Picked("tall-walker-boot", "walker-boot", weight="full", applied="2026-12-02T09:00", removal="2026-12-02")
    (problem,) = problems(library, boot)
    assert (problem.fault, problem.field) == (Fault.DATE_ORDER, "removal")


def test_a_day_of_removal_for_what_only_staff_take_off_is_refused(library: Library) -> None:
    (problem,) = problems(library, replace(ARM, removal="2026-12-23"))
    assert (problem.fault, problem.field) == (Fault.CANNOT_APPLY, "removal")


# NHS soft cast leaflets: taken off at home only on the day the clinic names.
def test_removal_at_home_on_a_date_needs_the_date(library: Library) -> None:
    soft = Picked("short-arm-cast", "semi-rigid", options=("semi-rigid-removal",))
    (problem,) = problems(library, soft)
    assert (problem.fault, problem.field) == (Fault.NEEDED, "removal")
    assert choose(library, replace(soft, removal="2026-12-23")).removal == date(2026, 12, 23)


def test_all_problems_of_a_choice_are_reported_at_once(library: Library) -> None:
    picked = Picked("short-leg-cast", "wood", "up", ("wings",), "some", "noon", "soon", "later")
    assert {(problem.fault, problem.field) for problem in problems(library, picked)} >= {
        (Fault.UNKNOWN_MATERIAL, "material"),
        (Fault.UNKNOWN_SIDE, "side"),
        (Fault.UNKNOWN_OPTION, "options"),
        (Fault.UNKNOWN_WEIGHT, "weight"),
        (Fault.BAD_DATE, "applied"),
        (Fault.BAD_DATE, "visit"),
        (Fault.BAD_DATE, "removal"),
    }


def test_an_unknown_material_causes_no_problem_of_an_option(library: Library) -> None:
    assert [problem.fault for problem in problems(library, replace(ARM, material="wood", options=("sling",)))] == [
        Fault.UNKNOWN_MATERIAL
    ]


# ---- what contradicts itself ----


def test_a_walking_cast_under_no_weight_is_refused_with_the_orders_that_can_apply(library: Library) -> None:
    (problem,) = problems(library, Picked("short-leg-walking-cast", "fiberglass", weight="none"))
    assert problem.fault is Fault.CONTRADICTION
    assert problem.allowed == ("touch", "partial", "as-comfortable", "full")
    assert "may be walked on" in problem.advice


@pytest.mark.parametrize("device", ["short-leg-cast", "long-leg-cast"])
def test_a_cast_shoe_under_no_weight_is_refused(library: Library, device: str) -> None:
    reported = problems(library, Picked(device, "fiberglass", options=("cast-shoe",), weight="none"))
    assert {problem.fault for problem in reported} <= {Fault.CONTRADICTION, Fault.CANNOT_APPLY}


def test_a_waterproof_lining_in_plaster_is_refused(library: Library) -> None:
    (problem,) = problems(library, Picked("short-arm-cast", "plaster-rolled", options=("waterproof-liner",)))
    assert problem.fault is Fault.CANNOT_APPLY
    assert "'waterproof-liner' cannot apply to 'short-arm-cast' in 'plaster-rolled'" in statement(problem)


# Orange fracture clinic, Australia: no waterproof lining over wounds or wires.
@pytest.mark.parametrize("other", ["wires", "wound"])
def test_a_waterproof_lining_over_wires_or_a_wound_is_refused_once(library: Library, other: str) -> None:
    (problem,) = problems(library, replace(ARM, options=(other, "waterproof-liner")))
    assert problem.fault is Fault.CONTRADICTION
    assert set(problem.subject) == {other, "waterproof-liner"}


# A splint's wrap may be loosened at home, a full cast never (AAOS; Leeds; Queen's University).
def test_loosening_a_full_cast_is_refused(library: Library) -> None:
    (problem,) = problems(library, replace(ARM, options=("splint-may-be-loosened",)))
    assert problem.fault is Fault.CANNOT_APPLY
    assert "splint-may-be-loosened" not in problem.allowed


def test_an_option_against_a_weight_order_is_refused(tmp_path: Path) -> None:
    world = load_library(small_world(tmp_path))
    (problem,) = problems(world, Picked("leg-cast", options=("swelling",), weight="full"))
    assert problem.fault is Fault.CONTRADICTION
    assert "'swelling' and 'full'" in statement(problem)


# ---- what is taken ----


def test_the_only_material_need_not_be_named(library: Library) -> None:
    only = next(device for device in library.devices.values() if len(device.materials) == 1 and not device.weights)
    assert choose(library, Picked(only.id)).material.id == only.materials[0]


def test_options_are_in_the_order_of_their_bits_each_once(library: Library) -> None:
    chosen = choose(library, replace(ARM, options=("wires", "sling", "less-feeling", "wires")))
    assert [option.id for option in chosen.options] == ["less-feeling", "wires", "sling"]


@pytest.mark.parametrize(("word", "side"), [("left", Side.LEFT), ("right", Side.RIGHT), ("", None)])
def test_a_side_is_optional(library: Library, word: str, side: Side | None) -> None:
    assert choose(library, replace(ARM, side=word)).side is side


def test_a_side_is_refused_for_a_device_without_sides(library: Library) -> None:
    device = next(device for device in library.devices.values() if not device.sided)
    weight = next(iter(device.weights), "")
    (problem,) = problems(library, Picked(device.id, device.materials[0], "left", weight=weight))
    assert (problem.fault, problem.field) == (Fault.CANNOT_APPLY, "side")


def test_times_are_in_the_clinics_time_zone(library: Library) -> None:
    chosen = choose(library, replace(ARM, applied="2026-11-25T14:30", visit="2026-12-02 09:00"))
    zone = ZoneInfo("America/New_York")
    assert chosen.applied == datetime(2026, 11, 25, 14, 30, tzinfo=zone)
    assert chosen.visit == datetime(2026, 12, 2, 9, 0, tzinfo=zone)


# IANA tz database: on 8 March 2026 New York's clocks go from 2:00 to 3:00, so 2:30 never comes.
@pytest.mark.parametrize("key", ["applied", "visit"])
def test_a_time_that_the_clock_change_skips_is_refused(library: Library, key: str) -> None:
    picked = replace(ARM, applied="2026-03-08T02:30") if key == "applied" else replace(ARM, visit="2026-03-08T02:30")
    (problem,) = problems(library, picked)
    assert (problem.fault, problem.field) == (Fault.BAD_DATE, key)
    assert "skips in 'America/New_York'" in statement(problem)


@pytest.mark.parametrize("time", ["2026-03-08T01:59", "2026-03-08T03:00", "2026-11-01T01:30"])
def test_times_next_to_a_clock_change_and_in_the_repeated_hour_are_accepted(library: Library, time: str) -> None:
    assert choose(library, replace(ARM, applied=time)).applied is not None
