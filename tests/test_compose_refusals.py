"""Tests of refused sheets: those without a required fact, and those with modules that exclude each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.body import Extremity
from aftercare.library.catalogue import Library
from aftercare.sheet.compose import arrange_all
from tests.composed import full_sheet, modules, sheet
from tests.small_world import FILES, advice, small_library, without_fact

CARE, ICE = FILES["advice/care.md"], FILES["advice/ice.md"]
# What every leaflet and the trauma standard agree on (British Orthopaedic Association, compartment syndrome, 2014; leaflets of
# children's hospitals and fracture clinics), typed here a second time so that the program's own list cannot shrink unseen.
ON_EVERY_SHEET = (
    "pain_out_of_proportion",
    "numbness",
    "color_or_cold",
    "cannot_move",
    "tightness",
    "wet_or_broken",
    "nothing_inside",
    "no_self_removal",
    "keep_dry",
    "raise",
    "who_to_call",
    "move",
    "swelling",
    "infection",
    "stretch_pain",
    "burning",
)


def why_refused(library: Library, device: str, *options: str, weight: str = "") -> tuple[Problem, ...]:
    with pytest.raises(Refused) as refused:
        sheet(library, device, "", *options, weight=weight)
    return refused.value.problems


@pytest.mark.parametrize("fact", ON_EVERY_SHEET)
def test_a_sheet_that_lacks_a_required_fact_is_refused_naming_the_fact_and_the_devices_file(tmp_path: Path, fact: str) -> None:
    (problem,) = why_refused(small_library(tmp_path, without_fact(fact)), "arm-cast")
    assert problem.fault is Fault.REQUIRED_MISSING
    assert f"'{fact}'" in problem.sentence()
    assert problem.where
    assert problem.where.path.endswith("devices/arm-cast.md")


# Clots follow a leg held still: Emerg Med J 2011;28:718; NHS Guy's and St Thomas' leaflet.
@pytest.mark.parametrize("fact", ["calf_signs", "chest_signs", "weight_order"])
def test_a_leg_sheet_that_lacks_clot_signs_or_the_weight_order_is_refused_and_an_arm_sheet_is_not(
    tmp_path: Path, fact: str
) -> None:
    leg = FILES["advice/leg.md"]
    names = [name for name in ("calf_signs", "chest_signs", "weight_order") if name != fact]
    library = small_library(tmp_path, {"advice/leg.md": leg.replace("calf_signs, chest_signs, weight_order", ", ".join(names))})
    (problem,) = why_refused(library, "leg-cast", weight="none")
    assert f"'{fact}'" in problem.sentence()
    assert sheet(library).choices.device.extremity is Extremity.UPPER


def test_a_required_fact_under_only_one_of_two_weight_orders_is_missing_on_the_full_sheet(tmp_path: Path) -> None:
    leg = FILES["advice/leg.md"].replace("extremities: [lower]", "extremities: [lower], weights: [full]")
    library = small_library(tmp_path, {"advice/leg.md": leg})
    with pytest.raises(Refused, match="'calf_signs'"):
        full_sheet(library, "leg-cast", "plaster")


def test_a_required_fact_for_an_option_alone_is_missing_on_the_full_sheet(tmp_path: Path) -> None:
    library = small_library(tmp_path, without_fact("raise") | advice("up", "covers: [raise]\napplies: {options: [numb]}"))
    with pytest.raises(Refused, match="'raise'"):
        full_sheet(library, "arm-cast", "plaster")


def test_a_required_fact_under_every_weight_order_of_an_option_alone_is_missing_on_the_full_sheet(
    tmp_path: Path,
) -> None:
    library = small_library(
        tmp_path, without_fact("raise") | advice("up", "covers: [raise]\napplies: {options: [numb], weights: [none, full]}")
    )
    with pytest.raises(Refused, match="'raise'"):
        full_sheet(library, "leg-cast", "plaster")


def test_a_sheet_without_advice_on_ice_is_refused(tmp_path: Path) -> None:
    library = small_library(tmp_path, {"advice/ice.md": ICE.replace("covers: [ice]\n", "")})
    (problem,) = why_refused(library, "arm-cast")
    assert problem.fault is Fault.REQUIRED_MISSING
    assert "'ice'" in problem.sentence()


@pytest.mark.parametrize(
    ("option", "fact"), [("wires", "pin_infection"), ("small-child", "child_signs"), ("cannot-tell-pain", "child_signs")]
)
def test_an_option_that_requires_a_sign_is_refused_without_it(tmp_path: Path, option: str, fact: str) -> None:
    extra = f"---\nid: {option}\nbit: 2\ncondition: If so\n---\n# So\n"
    library = small_library(tmp_path, {f"options/{option}.md": extra})
    (problem,) = why_refused(library, "arm-cast", option)
    assert f"'{fact}'" in problem.sentence()


def test_exclusive_modules_are_refused_on_one_sheet_with_the_reason_and_the_rules_line(tmp_path: Path) -> None:
    library = small_library(tmp_path, {"advice/ice.md": ICE.replace("not: {options: [numb]}\n", "")})
    (problem,) = why_refused(library, "arm-cast", "numb")
    assert problem.fault is Fault.CONTRADICTION
    assert "'ice' and 'no-ice'" in problem.sentence()
    assert "one forbids the other" in problem.sentence()
    assert problem.where
    assert problem.where.path.endswith("exclusive.yaml")
    assert modules(sheet(library)) == ["pain", "care", "ice", "ice-days"]  # apart from each other they may stand


def test_a_sign_and_advice_that_exclude_each_other_are_refused_on_one_sheet(tmp_path: Path) -> None:
    rule = "pain: {why: the advice calls the sign harmless, modules: [pain, care]}\n"
    (problem,) = why_refused(small_library(tmp_path, {"exclusive.yaml": FILES["exclusive.yaml"] + rule}), "arm-cast")
    assert (problem.fault, "'pain' and 'care'" in problem.sentence()) == (Fault.CONTRADICTION, True)


def test_all_problems_of_a_sheet_are_reported_at_once(tmp_path: Path) -> None:
    library = small_library(tmp_path, {"advice/care.md": CARE.replace("numbness, ", "").replace("raise, ", "")})
    assert len(why_refused(library, "arm-cast")) == 2


def test_all_problems_of_all_sheets_are_reported_at_once(tmp_path: Path) -> None:
    library = small_library(tmp_path, without_fact("raise"))
    with pytest.raises(Refused) as refused:
        arrange_all(library)
    assert [(problem.fault, problem.where) for problem in refused.value.problems] == [
        (Fault.REQUIRED_MISSING, library.devices[id_].where) for id_ in ("arm-cast", "leg-cast")
    ]
