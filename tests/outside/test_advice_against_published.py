"""Tiers, and advice that no sheet may give, beside what is published. Each test names its source."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from aftercare.library.body import Extremity
from aftercare.library.catalogue import Library
from aftercare.library.devices import Removal
from aftercare.library.modules import Tier
from aftercare.library.text import Text
from aftercare.library.wording import sentences
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.sheet import Passage, Sheet, Sign

BOAST = "British Orthopaedic Association, compartment syndrome of the limbs, 2014"

# ---- tiers ----


def sheets(library: Library) -> Iterator[Sheet]:
    """Everything that can stand on any sheet, in the words of its device."""
    for device in library.devices.values():
        for material in device.materials:
            yield compose(library, Choices(device, library.materials[material], everyone=True))


def tiers_of(sheet: Sheet, fact: str) -> set[Tier]:
    return {group.tier for group in sheet.groups for sign in group.signs if fact in sign.covers}


# The standard sends these to hospital at once; children's and fracture clinic leaflets agree.
@pytest.mark.parametrize(
    "fact", ["pain_out_of_proportion", "stretch_pain", "tightness", "numbness", "cannot_move", "color_or_cold", "swelling"]
)
def test_signs_of_a_limb_too_tight_mean_go_now_on_every_sheet(library: Library, fact: str) -> None:
    assert {tier for sheet in sheets(library) for tier in tiers_of(sheet, fact)} == {Tier.GO_NOW}, BOAST
    assert all(tiers_of(sheet, fact) for sheet in sheets(library))


def test_pain_leads_the_signs_to_go_now(library: Library) -> None:
    """Pain comes early; pallor, cold and lost movement come late (the same standard)."""
    for sheet in sheets(library):
        (signs,) = [group.signs for group in sheet.groups if group.tier is Tier.GO_NOW]
        assert "pain_out_of_proportion" in signs[0].covers, sheet.choices.device.id


# Sirona: emergency department now; Kent Community: nearest A&E. Others allow a day; the sheet does not.
def test_calf_signs_mean_go_now_on_every_leg_sheet_and_on_no_arm_sheet(library: Library) -> None:
    for sheet in sheets(library):
        expected = {Tier.GO_NOW} if sheet.choices.device.extremity is Extremity.LOWER else set()
        assert tiers_of(sheet, "calf_signs") == expected, sheet.choices.device.id


# Guy's and St Thomas'; Sirona: breathlessness, chest pain, coughing blood and fainting are for the emergency number.
def test_chest_signs_mean_the_emergency_number_on_every_leg_sheet(library: Library) -> None:
    for sheet in sheets(library):
        expected = {Tier.CALL_EMERGENCY} if sheet.choices.device.extremity is Extremity.LOWER else set()
        assert tiers_of(sheet, "chest_signs") == expected, sheet.choices.device.id


def test_clot_signs_ask_nothing_first_so_that_every_leg_patient_is_told_them(library: Library) -> None:
    """The age line differs between sources (50 or 60 years), so no patient is left out by one."""
    for sheet in sheets(library):
        signs = [sign for group in sheet.groups for sign in group.signs if {"calf_signs", "chest_signs"} & set(sign.covers)]
        assert not any(sign.condition for sign in signs)


def test_infection_over_wires_or_a_wound_means_go_now_and_else_the_same_day(library: Library) -> None:
    """Leeds and RNOH leaflets for the plain case; the case with wires is from memory: common practice, no source."""
    warnings = {warning.id: warning for warning in library.warnings}
    assert warnings["infection"].tier is Tier.SAME_DAY
    assert warnings["wound-infected"].tier is Tier.GO_NOW


# ---- what no sheet may say ----

NEGATED = re.compile(r"\b(do not|never|no heat|nothing|keep .+ from|use no|cannot)\b", re.IGNORECASE)
FORBIDDEN = {
    # Milton Keynes, North Tees, Plymouth, Leeds, Starship: never a dryer or heat on a plaster.
    "heat to dry": re.compile(
        r"\b(hair ?dryers?|heaters?|radiators?|oven|fan)\b|\bdry\b.*\b(heat|hot|warm)\b|\b(heat|hot|warm)\b.*\bdry\b",
        re.IGNORECASE,
    ),
    # BOA 2014: pulses are usually present while muscle dies.
    "trust in a pulse": re.compile(r"\b(pulses?|heartbeat)\b", re.IGNORECASE),
    # Royal Cornwall, Portsmouth: never directly on skin.
    "ice on skin": re.compile(r"\bice\b.*\bskin\b|\bskin\b.*\bice\b", re.IGNORECASE),
    # AAOS as reported, Leeds, Queen's University: no cutting, trimming or filing at home.
    "trimming or filing": re.compile(
        r"\b(trim|file|filing|sand (it|the|down)|grind|shorten|snip|cut|saw|break off)\b", re.IGNORECASE
    ),
    # The same: a cast is neither taken off nor loosened at home.
    "taking it off": re.compile(r"\b(take|pull|slide|slip|soak|get|unroll|peel)\b.*\b(off|loose)\b|\bremove\b", re.IGNORECASE),
    "loosening it": re.compile(r"\b(loosen|undo(?! the healing)|unwrap|unfasten|slacken|looser)\b", re.IGNORECASE),
}


def tells_to(what: str, sentence: str) -> bool:
    """Whether a sentence speaks of something forbidden without forbidding it."""
    return bool(FORBIDDEN[what].search(sentence)) and not NEGATED.search(sentence)


@pytest.mark.parametrize(
    ("what", "sentence"),
    [
        ("heat to dry", "Dry the cast with a hair dryer."),
        ("heat to dry", "Put it near a heater until it is dry."),
        ("trust in a pulse", "If you can feel a pulse, all is well."),
        ("ice on skin", "Lay the ice on your skin."),
        ("trimming or filing", "File down a sharp edge."),
        ("trimming or filing", "Cut away the soft padding."),
        ("taking it off", "Take the cast off to wash."),
        ("taking it off", "Soak it and pull it off."),
        ("taking it off", "Remove it at night."),
        ("loosening it", "Loosen the cast if it feels tight."),
    ],
)
def test_the_scan_sees_what_it_is_for(what: str, sentence: str) -> None:
    assert tells_to(what, sentence)


@pytest.mark.parametrize(
    ("what", "sentence"),
    [
        ("heat to dry", "Never use heat or a hair dryer on it."),
        ("ice on skin", "Never put ice on bare skin."),
        ("taking it off", "Do not take the cast off, cut, trim or loosen it."),
        ("taking it off", "Wipe the splint with cool soapy water and dry it."),
    ],
)
def test_the_scan_lets_a_warning_pass(what: str, sentence: str) -> None:
    assert not tells_to(what, sentence)


def said(sheet: Sheet) -> Iterator[tuple[Passage | Sign, str]]:
    """Every sentence of advice and warning with what it belongs to."""
    for group in sheet.groups:
        for sign in group.signs:
            yield from ((sign, sentence) for text in (sign.sign, sign.why) for sentence in sentences(text.message))
    for section in sheet.sections:
        for passage in section.passages:
            texts: list[Text] = [block.text for block in passage.blocks] + ([passage.why] if passage.why else [])
            yield from ((passage, sentence) for text in texts for sentence in sentences(text.message))


@pytest.mark.parametrize("what", ["heat to dry", "trust in a pulse", "ice on skin", "trimming or filing"])
def test_no_sheet_tells_of(library: Library, what: str) -> None:
    found = {sentence for sheet in sheets(library) for _, sentence in said(sheet) if tells_to(what, sentence)}
    assert found == set()


def test_no_sheet_tells_to_take_off_what_only_staff_take_off_but_a_semi_rigid_cast_on_its_date(library: Library) -> None:
    """NHS soft cast leaflets (Fife, Dorset, North Cumbria, East Kent): at home only semi-rigid, only on the date told."""
    for sheet in sheets(library):
        if sheet.choices.device.removal is Removal.NEVER:
            for item, sentence in said(sheet):
                if tells_to("taking it off", sentence):
                    (option,) = item.condition.options
                    assert library.options[option].needs_removal, (sheet.choices.device.id, sentence)
                    assert sheet.choices.material.family == "semi-rigid"


def test_no_sheet_tells_to_loosen_a_cast_and_a_splints_wrap_only_where_staff_ticked_it(library: Library) -> None:
    """AAOS as reported; Leeds; Queen's University: never a cast. US leaflets: the soft wrap of a splint.

    A brace that may come off may be loosened.
    """
    told = 0
    for sheet in sheets(library):
        for item, sentence in said(sheet):
            assert sheet.choices.device.noun != "cast" or not tells_to("loosening it", sentence), sentence
            if tells_to("loosening it", sentence) and sheet.choices.device.removal is not Removal.YES:
                told += 1
                assert sheet.choices.device.loosens, (sheet.choices.device.id, sentence)
                assert item.condition.options == ("splint-may-be-loosened",)
    assert told


def test_ice_is_always_in_a_bag_with_a_cloth_between(library: Library) -> None:
    """Royal Cornwall, Portsmouth and children's leaflets."""
    iced = [advice for advice in library.advice if any("{ice_minutes}" in block.text.message for block in advice.blocks)]
    assert len(iced) >= 2
    for advice in iced:
        words = " ".join(block.text.message for block in advice.blocks)
        assert "bag" in words
        assert "cloth" in words
        assert "Never put ice on bare skin." in words


def test_a_sheet_that_says_when_weight_may_start_was_given_an_order(library: Library) -> None:
    """South Yorkshire: no walking on a cast without an order. No weight text stands outside a weight order's condition."""
    for sheet in sheets(library):
        for section in sheet.sections:
            for passage in section.passages:
                if "weight_order" in passage.covers:
                    assert passage.condition.weights, (sheet.choices.device.id, passage.id)
