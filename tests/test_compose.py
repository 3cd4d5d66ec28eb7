"""What stands on a sheet: which modules, under which conditions, in which order, in which words."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.check.combinations import compatible, largest
from aftercare.errors import Fault, Problem, Refused
from aftercare.library.body import Extremity
from aftercare.library.catalogue import Library, load_library
from aftercare.library.modules import Tier
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.sheet import Condition, Sheet
from aftercare.sheet.validate import options_for, weights_for
from tests.composed import for_everyone, sheet
from tests.small_world import COVERED, FILES, advice, option, small_world, without_fact

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


def world(folder: Path, changed: dict[str, str | None] | None = None) -> Library:
    return load_library(small_world(folder, changed))


def modules(sheet: Sheet) -> list[str]:
    """The ids of everything on a sheet, in its order."""
    signs = [sign.id for group in sheet.groups for sign in group.signs]
    return signs + [passage.id for section in sheet.sections for passage in section.passages]


def why_refused(library: Library, device: str, *options: str, weight: str = "") -> tuple[Problem, ...]:
    with pytest.raises(Refused) as refused:
        sheet(library, device, "", *options, weight=weight)
    return refused.value.problems


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
def test_a_condition_asks_any_option_and_any_weight_and_none_of_without(
    condition: Condition, true: set[str], holds: bool
) -> None:
    assert condition.holds(true) is holds


def test_a_passage_for_an_option_stands_only_where_the_option_is_true(tmp_path: Path) -> None:
    library = world(tmp_path)
    assert "no-ice" not in modules(sheet(library))
    assert "no-ice" in modules(sheet(library, "arm-cast", "", "numb"))


def test_a_passage_ruled_out_by_an_option_is_gone_where_the_option_is_true(tmp_path: Path) -> None:
    library = world(tmp_path)
    assert "ice" in modules(sheet(library))
    assert "ice" not in modules(sheet(library, "arm-cast", "", "numb"))


def test_a_passage_for_a_weight_order_stands_only_under_that_order(tmp_path: Path) -> None:
    stairs = "---\nid: stairs\ntopic: care\norder: 30\napplies: {weights: [full]}\n---\n# Stairs\nStep up.\n"
    library = world(tmp_path, {"advice/stairs.md": stairs})
    assert "stairs" in modules(sheet(library, "leg-cast", weight="full"))
    assert "stairs" not in modules(sheet(library, "leg-cast", weight="none"))


def test_a_passage_about_another_device_never_stands_even_for_everyone(tmp_path: Path) -> None:
    assert "leg" not in modules(for_everyone(world(tmp_path), "arm-cast", "plaster"))


def test_for_everyone_each_passage_keeps_its_condition_in_the_patients_words(tmp_path: Path) -> None:
    whole = for_everyone(world(tmp_path), "arm-cast", "plaster")
    asked = {passage.id: passage for section in whole.sections for passage in section.passages}
    assert asked["ice"].condition == Condition(without=("numb",))
    assert asked["no-ice"].condition == Condition(options=("numb",))
    assert [text.message for text in asked["no-ice"].conditions] == ["If you feel less"]


def test_for_one_patient_no_condition_is_left(library: Library) -> None:
    made = sheet(library, "short-leg-walking-cast", "fiberglass", "wires", "crutches", weight="partial")
    signs = [sign for group in made.groups for sign in group.signs]
    passages = [passage for section in made.sections for passage in section.passages]
    assert not any(item.condition or item.conditions for item in (*signs, *passages))


def test_one_patients_sheet_is_everyones_with_the_passages_whose_condition_holds(library: Library) -> None:
    for device in library.devices.values():
        material = library.materials[device.materials[0]]
        whole = for_everyone(library, device.id, material.id)
        items = [sign for group in whole.groups for sign in group.signs]
        items += [passage for section in whole.sections for passage in section.passages]
        options = options_for(library, device, material)
        for weight in weights_for(library, device) or (None,):
            for ids in {frozenset(), *largest(options)}:
                picked = tuple(option for option in options if option.id in ids)
                if compatible(picked, weight):
                    true = ids | ({weight.id} if weight else set())
                    found = compose(library, Choices(device, material, None, picked, weight))
                    assert modules(found) == [item.id for item in items if item.condition.holds(true)], (device.id, true)


def test_a_title_leads_only_passages_that_depend_on_the_patient(tmp_path: Path) -> None:
    made = sheet(world(tmp_path), "arm-cast", "", "numb")
    titles = {passage.id: passage.title for section in made.sections for passage in section.passages}
    assert titles["care"] is None
    assert titles["no-ice"] is not None


SHIN: dict[str, str | None] = option("shin", 2, "applies: {extremities: [lower]}")


def conditions(library: Library, device: str) -> dict[str, Condition]:
    """What the phone page asks for each of its passages."""
    sections = for_everyone(library, device, "plaster").sections
    return {passage.id: passage.condition for section in sections for passage in section.passages}


def test_a_passage_ruled_out_by_a_weight_order_is_gone_under_that_order(tmp_path: Path) -> None:
    library = world(tmp_path, advice("rest", "not: {weights: [full]}"))
    assert "rest" in modules(sheet(library, "leg-cast", weight="none"))
    assert "rest" not in modules(sheet(library, "leg-cast", weight="full"))


def test_a_passage_ruled_out_for_one_device_under_an_option_stays_on_another_under_that_option(tmp_path: Path) -> None:
    library = world(tmp_path, advice("rest", "not: {limbs: [leg], options: [numb]}"))
    assert "rest" in modules(sheet(library, "arm-cast", "", "numb"))
    assert "rest" not in modules(sheet(library, "leg-cast", "", "numb", weight="none"))


def test_for_everyone_a_passage_asks_only_what_can_be_true_of_the_device(tmp_path: Path) -> None:
    full_only = FILES["devices/leg-cast.md"].replace("[none, full]", "[full]")
    library = world(
        tmp_path,
        {**SHIN, "devices/leg-cast.md": full_only}
        | advice("either", "applies: {options: [numb, shin]}")
        | advice("neither", "not: {options: [numb, shin]}")
        | advice("shin-only", "applies: {options: [shin]}")
        | advice("bearing", "applies: {weights: [none, full]}"),
    )
    arm, leg = conditions(library, "arm-cast"), conditions(library, "leg-cast")
    assert (arm["either"], arm["neither"]) == (Condition(options=("numb",)), Condition(without=("numb",)))
    assert leg["either"] == Condition(options=("numb", "shin"))
    assert leg["bearing"] == Condition(weights=("full",))
    assert "shin-only" in leg
    assert not {"shin-only", "bearing"} & set(arm)


def test_for_everyone_a_weight_order_is_asked_in_the_patients_words(tmp_path: Path) -> None:
    whole = for_everyone(world(tmp_path, advice("stairs", "applies: {weights: [full]}")), "leg-cast", "plaster")
    asked = {passage.id: passage.conditions for section in whole.sections for passage in section.passages}
    assert [text.message for text in asked["stairs"]] == ["If full"]


# ---- what compose refuses ----


@pytest.mark.parametrize("fact", ON_EVERY_SHEET)
def test_a_sheet_that_lacks_a_required_fact_is_refused_naming_the_fact_and_the_devices_file(tmp_path: Path, fact: str) -> None:
    names = COVERED.split(", ")
    library = world(tmp_path, {"advice/care.md": CARE.replace(COVERED, ", ".join(name for name in names if name != fact))})
    (problem,) = why_refused(library, "arm-cast")
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
    library = world(tmp_path, {"advice/leg.md": leg.replace("calf_signs, chest_signs, weight_order", ", ".join(names))})
    (problem,) = why_refused(library, "leg-cast", weight="none")
    assert f"'{fact}'" in problem.sentence()
    assert sheet(library).choices.device.extremity is Extremity.UPPER


def test_a_required_fact_under_only_one_of_two_weight_orders_is_missing_for_everyone(tmp_path: Path) -> None:
    leg = FILES["advice/leg.md"].replace("extremities: [lower]", "extremities: [lower], weights: [full]")
    library = world(tmp_path, {"advice/leg.md": leg})
    with pytest.raises(Refused, match="'calf_signs'"):
        for_everyone(library, "leg-cast", "plaster")


def test_a_required_fact_for_an_option_alone_is_missing_for_everyone(tmp_path: Path) -> None:
    library = world(tmp_path, without_fact("raise") | advice("up", "covers: [raise]\napplies: {options: [numb]}"))
    with pytest.raises(Refused, match="'raise'"):
        for_everyone(library, "arm-cast", "plaster")


def test_a_required_fact_under_every_weight_order_but_for_an_option_alone_is_missing_for_everyone(tmp_path: Path) -> None:
    library = world(
        tmp_path, without_fact("raise") | advice("up", "covers: [raise]\napplies: {options: [numb], weights: [none, full]}")
    )
    with pytest.raises(Refused, match="'raise'"):
        for_everyone(library, "leg-cast", "plaster")


def test_a_sheet_that_says_neither_to_ice_nor_not_to_is_refused(tmp_path: Path) -> None:
    library = world(tmp_path, {"advice/ice.md": ICE.replace("covers: [ice]\n", "")})
    (problem,) = why_refused(library, "arm-cast")
    assert problem.fault is Fault.REQUIRED_MISSING
    assert "'ice'" in problem.sentence()


@pytest.mark.parametrize(
    ("option", "fact"), [("wires", "pin_infection"), ("small-child", "child_signs"), ("cannot-tell-pain", "child_signs")]
)
def test_an_option_that_asks_for_a_sign_of_its_own_is_refused_without_it(tmp_path: Path, option: str, fact: str) -> None:
    extra = f"---\nid: {option}\nbit: 2\ncondition: If so\n---\n# So\n"
    library = world(tmp_path, {f"options/{option}.md": extra})
    (problem,) = why_refused(library, "arm-cast", option)
    assert f"'{fact}'" in problem.sentence()


def test_two_modules_kept_apart_are_refused_on_one_sheet_with_the_reason_and_the_rules_line(tmp_path: Path) -> None:
    library = world(tmp_path, {"advice/ice.md": ICE.replace("not: {options: [numb]}\n", "")})
    (problem,) = why_refused(library, "arm-cast", "numb")
    assert problem.fault is Fault.CONTRADICTION
    assert "'ice' and 'no-ice'" in problem.sentence()
    assert "one forbids the other" in problem.sentence()
    assert problem.where
    assert problem.where.path.endswith("exclusive.yaml")
    assert modules(sheet(library)) == ["pain", "care", "ice", "ice-days"]  # apart from each other they may stand


def test_a_sign_kept_apart_from_advice_is_refused_beside_it(tmp_path: Path) -> None:
    rule = "pain: {why: the advice calls the sign harmless, modules: [pain, care]}\n"
    (problem,) = why_refused(world(tmp_path, {"exclusive.yaml": FILES["exclusive.yaml"] + rule}), "arm-cast")
    assert (problem.fault, "'pain' and 'care'" in problem.sentence()) == (Fault.CONTRADICTION, True)


def test_all_that_is_wrong_with_a_sheet_is_said_at_once(tmp_path: Path) -> None:
    library = world(tmp_path, {"advice/care.md": CARE.replace("numbness, ", "").replace("raise, ", "")})
    assert len(why_refused(library, "arm-cast")) == 2


# ---- order ----


def test_the_most_urgent_signs_come_first(library: Library) -> None:
    tiers = [group.tier for group in sheet(library, "short-leg-cast", "fiberglass", weight="none").groups]
    assert tiers == [Tier.CALL_EMERGENCY, Tier.GO_NOW, Tier.SAME_DAY, Tier.OFFICE_HOURS]


def test_topics_come_in_the_order_of_their_file(tmp_path: Path) -> None:
    before = sheet(world(tmp_path / "before"))
    swapped = "\n".join(reversed(FILES["topics.yaml"].splitlines()))
    after = sheet(world(tmp_path / "after", {"topics.yaml": swapped}))
    assert [section.topic for section in before.sections] == ["care", "ice"]
    assert [section.topic for section in after.sections] == ["ice", "care"]


def test_inside_a_topic_passages_come_by_their_order(tmp_path: Path) -> None:
    library = world(tmp_path, {"advice/leg.md": FILES["advice/leg.md"].replace("order: 20", "order: 5")})
    care = sheet(library, "leg-cast", weight="none").sections[0]
    assert [passage.id for passage in care.passages] == ["leg", "care"]


def test_a_topic_without_a_passage_has_no_heading(tmp_path: Path) -> None:
    library = world(tmp_path, {"topics.yaml": FILES["topics.yaml"] + "sleep: {title: Sleep, picture: raise}\n"})
    assert "sleep" not in [section.topic for section in sheet(library).sections]


def test_a_topic_all_of_whose_passages_are_for_others_has_no_heading(tmp_path: Path) -> None:
    topics = FILES["topics.yaml"] + "sleep: {title: Sleep, picture: raise}\n"
    numb = advice("sleep", "applies: {options: [numb]}")
    numb = {name: (text or "").replace("topic: care", "topic: sleep") for name, text in numb.items()}
    library = world(tmp_path, {"topics.yaml": topics, **numb})
    assert "sleep" not in [section.topic for section in sheet(library).sections]
    assert "sleep" in [section.topic for section in sheet(library, "arm-cast", "", "numb").sections]


def test_a_tier_all_of_whose_signs_are_for_others_has_no_heading(tmp_path: Path) -> None:
    cold = "---\nid: cold\ntier: same-day\norder: 10\napplies: {options: [numb]}\nwhy: It is so.\n---\n# Cold\nIt is cold.\n"
    library = world(tmp_path, {"warnings/cold.md": cold})
    assert [group.tier for group in sheet(library).groups] == [Tier.GO_NOW]
    assert [group.tier for group in sheet(library, "arm-cast", "", "numb").groups] == [Tier.GO_NOW, Tier.SAME_DAY]
