"""Tests of composing sheets: which modules, under which conditions, in which order, in which words."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.check.combinations import compatible, largest
from aftercare.library.catalogue import Library
from aftercare.library.modules import Tier
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import settle
from aftercare.sheet.sheet import Condition, FullSheet, Passage, Sign
from aftercare.sheet.validate import options_for, weights_for
from tests.composed import full_sheet, items, modules, sheet
from tests.small_world import FILES, advice, option, small_library

CARE, ICE = FILES["advice/care.md"], FILES["advice/ice.md"]


def conditions(full: FullSheet) -> dict[str, Condition]:
    """The condition of each sign and passage of a full sheet, by id."""
    return {entry.item.id: entry.condition for entry in full.entries()}


def leads(full: FullSheet) -> dict[str, list[str]]:
    """The condition of each sign and passage of a full sheet in the patient's words, by id."""
    return {entry.item.id: [text.message for text in entry.lead] for entry in full.entries()}


# ---- conditions ----


@pytest.mark.parametrize(
    ("condition", "true", "holds"),
    [
        (Condition(), set(), True),
        (Condition(options=("wires", "wound")), set(), False),
        (Condition(options=("wires", "wound")), {"wound"}, True),
        (Condition(weights=("touch", "full")), {"none"}, False),
        (Condition(weights=("touch", "full")), {"full"}, True),
        (Condition(without=("wires", "wound")), set(), True),
        (Condition(without=("wires", "wound")), {"wires"}, False),
        (Condition(options=("wires",), weights=("full",)), {"wires"}, False),
        (Condition(options=("wires",), weights=("full",)), {"wires", "full"}, True),
        (Condition(options=("wires",), without=("wound",)), {"wires", "wound"}, False),
    ],
)
def test_a_condition_requires_any_option_and_any_weight_and_none_of_without(
    condition: Condition, true: set[str], holds: bool
) -> None:
    assert condition.holds(true) is holds


def test_a_passage_for_an_option_is_present_only_where_the_option_is_true(tmp_path: Path) -> None:
    library = small_library(tmp_path)
    assert "no-ice" not in modules(sheet(library))
    assert "no-ice" in modules(sheet(library, "arm-cast", "", "numb"))


def test_a_passage_excluded_by_an_option_is_absent_where_the_option_is_true(tmp_path: Path) -> None:
    library = small_library(tmp_path)
    assert "ice" in modules(sheet(library))
    assert "ice" not in modules(sheet(library, "arm-cast", "", "numb"))


def test_a_passage_for_a_weight_order_is_present_only_under_that_order(tmp_path: Path) -> None:
    stairs = "---\nid: stairs\ntopic: care\norder: 30\napplies: {weights: [full]}\n---\n# Stairs\nStep up.\n"
    library = small_library(tmp_path, {"advice/stairs.md": stairs})
    assert "stairs" in modules(sheet(library, "leg-cast", weight="full"))
    assert "stairs" not in modules(sheet(library, "leg-cast", weight="none"))


def test_a_passage_about_another_device_is_absent_even_from_the_full_sheet(tmp_path: Path) -> None:
    assert "leg" not in conditions(full_sheet(small_library(tmp_path), "arm-cast", "plaster"))


def test_on_the_full_sheet_each_passage_has_its_condition_in_the_patients_words(tmp_path: Path) -> None:
    full = full_sheet(small_library(tmp_path), "arm-cast", "plaster")
    assert conditions(full)["ice"] == Condition(without=("numb",))
    assert conditions(full)["no-ice"] == Condition(options=("numb",))
    assert leads(full)["no-ice"] == ["If you feel less"]


def test_a_patients_sheet_has_no_conditions(library: Library) -> None:
    patient = sheet(library, "short-leg-walking-cast", "fiberglass", "wires", "crutches", weight="partial")
    conditional = [entry for entry in patient.full.entries() if entry.condition != Condition()]
    assert {type(entry.item) for entry in conditional} == {Sign, Passage}
    assert {type(item) for item in items(patient)} == {Sign, Passage}
    # The words of a condition that is met are not on the sheet either.
    lead = {text for entry in conditional for text in entry.lead}
    assert lead
    assert not lead & set(patient.texts())


def test_a_patients_sheet_has_the_passages_of_the_full_sheet_whose_condition_is_met(library: Library) -> None:
    for device in library.devices.values():
        material = library.materials[device.materials[0]]
        full = full_sheet(library, device.id, material.id)
        options = options_for(library, device, material)
        for weight in weights_for(library, device) or (None,):
            for ids in {frozenset[str](), *largest(options)}:
                picked = tuple(option for option in options if option.id in ids)
                if compatible(picked, weight):
                    true = ids | ({weight.id} if weight else set())
                    patient = settle(library, full, Choices(device, material, None, picked, weight))
                    assert items(patient) == [entry.item for entry in full.entries() if entry.condition.holds(true)], (
                        device.id,
                        true,
                    )


def test_only_passages_that_depend_on_the_patient_have_a_title(tmp_path: Path) -> None:
    patient = sheet(small_library(tmp_path), "arm-cast", "", "numb")
    titles = {passage.id: passage.title for section in patient.sections for passage in section.passages}
    assert titles["care"] is None
    assert titles["no-ice"] is not None


SHIN: dict[str, str | None] = option("shin", 2, "applies: {extremities: [lower]}")


def test_a_passage_excluded_by_a_weight_order_is_absent_under_that_order(tmp_path: Path) -> None:
    library = small_library(tmp_path, advice("rest", "not: {weights: [full]}"))
    assert "rest" in modules(sheet(library, "leg-cast", weight="none"))
    assert "rest" not in modules(sheet(library, "leg-cast", weight="full"))


def test_a_passage_excluded_for_one_device_under_an_option_is_present_on_another(tmp_path: Path) -> None:
    library = small_library(tmp_path, advice("rest", "not: {limbs: [leg], options: [numb]}"))
    assert "rest" in modules(sheet(library, "arm-cast", "", "numb"))
    assert "rest" not in modules(sheet(library, "leg-cast", "", "numb", weight="none"))


def test_on_the_full_sheet_a_condition_has_only_what_can_be_true_of_the_device(tmp_path: Path) -> None:
    full_only = FILES["devices/leg-cast.md"].replace("[none, full]", "[full]")
    library = small_library(
        tmp_path,
        {**SHIN, "devices/leg-cast.md": full_only}
        | advice("either", "applies: {options: [numb, shin]}")
        | advice("neither", "not: {options: [numb, shin]}")
        | advice("shin-only", "applies: {options: [shin]}")
        | advice("bearing", "applies: {weights: [none, full]}"),
    )
    arm, leg = (conditions(full_sheet(library, device, "plaster")) for device in ("arm-cast", "leg-cast"))
    assert (arm["either"], arm["neither"]) == (Condition(options=("numb",)), Condition(without=("numb",)))
    assert leg["either"] == Condition(options=("numb", "shin"))
    assert leg["bearing"] == Condition(weights=("full",))
    assert "shin-only" in leg
    assert not {"shin-only", "bearing"} & set(arm)


def test_on_the_full_sheet_a_weight_order_is_in_the_patients_words(tmp_path: Path) -> None:
    full = full_sheet(small_library(tmp_path, advice("stairs", "applies: {weights: [full]}")), "leg-cast", "plaster")
    assert leads(full)["stairs"] == ["If full"]


# ---- order ----


def test_the_most_urgent_signs_come_first(library: Library) -> None:
    tiers = [group.tier for group in sheet(library, "short-leg-cast", "fiberglass", weight="none").groups]
    assert tiers == [Tier.CALL_EMERGENCY, Tier.GO_NOW, Tier.SAME_DAY, Tier.OFFICE_HOURS]


def test_topics_are_in_the_order_of_their_file(tmp_path: Path) -> None:
    before = sheet(small_library(tmp_path / "before"))
    swapped = "\n".join(reversed(FILES["topics.yaml"].splitlines()))
    after = sheet(small_library(tmp_path / "after", {"topics.yaml": swapped}))
    assert [section.topic for section in before.sections] == ["care", "ice"]
    assert [section.topic for section in after.sections] == ["ice", "care"]


def test_passages_of_a_topic_are_sorted_by_their_order(tmp_path: Path) -> None:
    library = small_library(tmp_path, {"advice/leg.md": FILES["advice/leg.md"].replace("order: 20", "order: 5")})
    care = sheet(library, "leg-cast", weight="none").sections[0]
    assert [passage.id for passage in care.passages] == ["leg", "care"]


def test_a_topic_without_a_passage_has_no_heading(tmp_path: Path) -> None:
    library = small_library(tmp_path, {"topics.yaml": FILES["topics.yaml"] + "sleep: {title: Sleep, picture: raise}\n"})
    assert "sleep" not in [section.topic for section in sheet(library).sections]


def test_a_topic_whose_passages_do_not_apply_has_no_heading(tmp_path: Path) -> None:
    topics = FILES["topics.yaml"] + "sleep: {title: Sleep, picture: raise}\n"
    numb = advice("sleep", "applies: {options: [numb]}")
    numb = {name: (text or "").replace("topic: care", "topic: sleep") for name, text in numb.items()}
    library = small_library(tmp_path, {"topics.yaml": topics, **numb})
    assert "sleep" not in [section.topic for section in sheet(library).sections]
    assert "sleep" in [section.topic for section in sheet(library, "arm-cast", "", "numb").sections]


def test_a_tier_whose_signs_do_not_apply_has_no_heading(tmp_path: Path) -> None:
    cold = "---\nid: cold\ntier: same-day\norder: 10\napplies: {options: [numb]}\nwhy: It is so.\n---\n# Cold\nIt is cold.\n"
    library = small_library(tmp_path, {"warnings/cold.md": cold})
    assert [group.tier for group in sheet(library).groups] == [Tier.GO_NOW]
    assert [group.tier for group in sheet(library, "arm-cast", "", "numb").groups] == [Tier.GO_NOW, Tier.SAME_DAY]
