"""Tests of tiers, and of advice that no sheet may give, against publications. Each test names its source."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from aftercare.library.body import Extremity
from aftercare.library.catalogue import Library
from aftercare.library.devices import Removal
from aftercare.library.modules import Tier
from aftercare.library.wording import sentences
from aftercare.sheet.compose import arrange_all
from aftercare.sheet.sheet import Condition, Conditional, FullSheet, Passage, Sign

BOAST = "British Orthopaedic Association, compartment syndrome of the limbs, 2014"

# ---- tiers ----


@pytest.fixture(scope="module")
def sheets(library: Library) -> tuple[FullSheet, ...]:
    """The full sheet of every device in every material."""
    return arrange_all(library)


def tiers_of(sheet: FullSheet, fact: str) -> set[Tier]:
    """The tiers whose signs cover a fact."""
    return {group.tier for group in sheet.groups for entry in group.signs if fact in entry.item.covers}


# The standard sends these to hospital at once; children's and fracture clinic leaflets agree.
@pytest.mark.parametrize(
    "fact", ["pain_out_of_proportion", "stretch_pain", "tightness", "numbness", "cannot_move", "color_or_cold", "swelling"]
)
def test_signs_of_a_limb_too_tight_mean_go_now_on_every_sheet(sheets: tuple[FullSheet, ...], fact: str) -> None:
    assert {tier for sheet in sheets for tier in tiers_of(sheet, fact)} == {Tier.GO_NOW}, BOAST
    assert all(tiers_of(sheet, fact) for sheet in sheets)


def test_pain_is_first_of_the_signs_to_go_now(sheets: tuple[FullSheet, ...]) -> None:
    """Pain comes early; pallor, cold and loss of movement come late (the same standard)."""
    for sheet in sheets:
        (signs,) = [group.signs for group in sheet.groups if group.tier is Tier.GO_NOW]
        assert "pain_out_of_proportion" in signs[0].item.covers, sheet.device.id


# Sirona: emergency department now; Kent Community: nearest A&E. Others allow a day; the sheet does not.
def test_calf_signs_mean_go_now_on_every_leg_sheet_and_on_no_arm_sheet(sheets: tuple[FullSheet, ...]) -> None:
    for sheet in sheets:
        expected = {Tier.GO_NOW} if sheet.device.extremity is Extremity.LOWER else set()
        assert tiers_of(sheet, "calf_signs") == expected, sheet.device.id


# Guy's and St Thomas'; Sirona: breathlessness, chest pain, coughing blood and fainting are for the emergency number.
def test_chest_signs_mean_the_emergency_number_on_every_leg_sheet(sheets: tuple[FullSheet, ...]) -> None:
    for sheet in sheets:
        expected = {Tier.CALL_EMERGENCY} if sheet.device.extremity is Extremity.LOWER else set()
        assert tiers_of(sheet, "chest_signs") == expected, sheet.device.id


def test_clot_signs_have_no_condition_so_that_every_leg_patient_reads_them(sheets: tuple[FullSheet, ...]) -> None:
    """The age limit differs between sources (50 or 60 years), so none excludes a patient."""
    for sheet in sheets:
        signs = [entry for group in sheet.groups for entry in group.signs]
        assert all(entry.condition == Condition() for entry in signs if {"calf_signs", "chest_signs"} & set(entry.item.covers))


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
    """Whether a sentence mentions something forbidden without forbidding it."""
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
def test_the_scan_detects_forbidden_advice(what: str, sentence: str) -> None:
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
def test_the_scan_accepts_a_warning(what: str, sentence: str) -> None:
    assert not tells_to(what, sentence)


def sentences_of(sheet: FullSheet) -> Iterator[tuple[Conditional[Sign] | Conditional[Passage], str]]:
    """Every sentence of advice and warning with the sign or passage it belongs to."""
    for entry in sheet.entries():
        item = entry.item
        texts = [item.sign] if isinstance(item, Sign) else [block.text for block in item.blocks]
        texts += [item.why] if item.why else []
        yield from ((entry, sentence) for text in texts for sentence in sentences(text.message))


@pytest.mark.parametrize("what", ["heat to dry", "trust in a pulse", "ice on skin", "trimming or filing"])
def test_no_sheet_mentions(sheets: tuple[FullSheet, ...], what: str) -> None:
    scanned = [sentence for sheet in sheets for _, sentence in sentences_of(sheet)]
    assert len(scanned) > 1000
    assert {sentence for sentence in scanned if tells_to(what, sentence)} == set()


def test_no_sheet_advises_removal_of_what_only_staff_take_off_but_a_semi_rigid_cast_on_its_date(
    library: Library, sheets: tuple[FullSheet, ...]
) -> None:
    """NHS soft cast leaflets (Fife, Dorset, North Cumbria, East Kent): at home only semi-rigid, only on the date told."""
    for sheet in sheets:
        if sheet.device.removal is Removal.NEVER:
            for entry, sentence in sentences_of(sheet):
                if tells_to("taking it off", sentence):
                    (option,) = entry.condition.options
                    assert library.options[option].needs_removal, (sheet.device.id, sentence)
                    assert sheet.material.family == "semi-rigid"


def test_no_sheet_advises_loosening_a_cast_and_a_splints_wrap_only_where_staff_ticked_it(sheets: tuple[FullSheet, ...]) -> None:
    """AAOS as reported; Leeds; Queen's University: never a cast. US leaflets: the soft wrap of a splint.

    A brace that may come off may be loosened.
    """
    loosened = 0
    for sheet in sheets:
        for entry, sentence in sentences_of(sheet):
            assert sheet.device.noun != "cast" or not tells_to("loosening it", sentence), sentence
            if tells_to("loosening it", sentence) and sheet.device.removal is not Removal.YES:
                loosened += 1
                assert sheet.device.loosens, (sheet.device.id, sentence)
                assert entry.condition.options == ("splint-may-be-loosened",)
    assert loosened


def test_ice_is_always_in_a_bag_with_a_cloth_between(library: Library) -> None:
    """Royal Cornwall, Portsmouth and children's leaflets."""
    iced = [advice for advice in library.advice if any("{ice_minutes}" in block.text.message for block in advice.blocks)]
    assert len(iced) >= 2
    for advice in iced:
        words = " ".join(block.text.message for block in advice.blocks)
        assert "bag" in words
        assert "cloth" in words
        assert "Never put ice on bare skin." in words


def test_only_a_sheet_with_a_weight_order_states_when_weight_may_start(sheets: tuple[FullSheet, ...]) -> None:
    """South Yorkshire: no walking on a cast without an order. Every text about weight has a weight order in its condition."""
    for sheet in sheets:
        for section in sheet.sections:
            for entry in section.passages:
                if "weight_order" in entry.item.covers:
                    assert entry.condition.weights, (sheet.device.id, entry.item.id)
