"""Tests of translated sheets: every message sound or the sheet refused, and every value as the language writes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused, Where
from aftercare.language.approval import Approvals, approve
from aftercare.language.edition import EDITION_CHARACTERS
from aftercare.language.extraction import wording_edition
from aftercare.language.languages import LANGUAGES
from aftercare.language.messages import Entry, Messages
from aftercare.language.translate import translate
from aftercare.language.translated import TranslatedSheet
from aftercare.language.values import listing, measure
from aftercare.library.catalogue import Library
from aftercare.library.figures import Figure
from aftercare.sheet.compose import arrange_all
from aftercare.sheet.sheet import PatientSheet
from aftercare.sheet.validate import Picked, choose
from tests.composed import sheet_of
from tests.small_world import FILES, small_library

ES = LANGUAGES["es"]


@pytest.fixture
def world(tmp_path: Path) -> Library:
    return small_library(tmp_path)


def arm_sheet(world: Library) -> PatientSheet:
    """The sheet of a patient with an arm cast and every date."""
    choices = choose(world, Picked("arm-cast", "plaster", "left", (), "", "2026-11-25T14:30", "2026-12-02T09:00"))
    return sheet_of(world, replace(choices, removal=date(2026, 12, 30)))


def english(world: Library, approvals: Approvals | None = None) -> TranslatedSheet[PatientSheet]:
    return translate(arm_sheet(world), LANGUAGES["en"], None, world.clinic, approvals or Approvals())


def english_edition(world: Library) -> str:
    """The edition of all English words of a world."""
    return wording_edition(arrange_all(world))


def spanish(sheet: PatientSheet, changed: Mapping[str, str] | None = None) -> Messages:
    """Fake translations with each message's braces and negations, which pass the checks."""
    entries = {}
    for line, text in enumerate(sheet.full.messages, 1):
        fake = text.replace("Do not", "No").replace("same day", "mismo día")
        fake = (changed or {}).get(text, fake + " (es)")
        entries[text] = Entry(text, fake, fuzzy=False, reviewed=frozenset(), where=Where("translations/es.po", line))
    return Messages("es", entries, ())


def test_english_is_its_own_translation(world: Library) -> None:
    translated = english(world)
    assert translated.translation(translated.sheet.full.purpose) == "It holds your arm still."
    assert not translated.draft_language


def test_every_message_of_a_sheet_is_translated(world: Library) -> None:
    sheet = arm_sheet(world)
    translated = translate(sheet, ES, spanish(sheet), world.clinic, Approvals())
    assert all(translated.translation(text).endswith("(es)") for text in sheet.texts())


def test_every_unsound_sentence_is_reported_with_its_line_and_the_sheet_is_refused(world: Library) -> None:
    sheet = arm_sheet(world)
    messages = spanish(
        sheet, {"Raise your arm.": "No levante el brazo.", "wrist": "", "Ice on the cast: {ice_minutes}.": "Hielo."}
    )
    with pytest.raises(Refused) as refused:
        translate(sheet, ES, messages, world.clinic, Approvals())
    assert {problem.fault for problem in refused.value.problems} == {
        Fault.NEGATION_LOST,
        Fault.UNTRANSLATED,
        Fault.PLACEHOLDER_LOST,
    }
    assert all(problem.where and problem.where.line for problem in refused.value.problems)


def test_a_problem_of_the_whole_file_is_reported_once(world: Library) -> None:
    sheet = arm_sheet(world)
    with pytest.raises(Refused) as refused:
        translate(sheet, ES, Messages("", {}, tuple(spanish(sheet, {}).faults("absent"))), world.clinic, Approvals())
    assert len(refused.value.problems) == 1


@pytest.mark.parametrize("messages", [None, Messages("ar", {}, ())], ids=["none", "of another language"])
def test_without_translations_of_its_language_a_sheet_is_refused(world: Library, messages: Messages | None) -> None:
    with pytest.raises(Refused, match="no translations into 'es'"):
        translate(arm_sheet(world), ES, messages, world.clinic, Approvals())


def test_an_unknown_value_is_refused_with_the_place_of_its_text(tmp_path: Path) -> None:
    """A splint that holds nothing cannot fill a list of held parts."""
    care = FILES["advice/care.md"] + "- Keep still: {held_parts}.\n"
    device = FILES["devices/arm-cast.md"].replace("holds: [wrist]", "holds: []")
    world = small_library(tmp_path, {"advice/care.md": care, "devices/arm-cast.md": device})
    with pytest.raises(Refused, match=r"care\.md:\d+: Nothing is known to fill '{held_parts}'"):
        english(world)


def test_dates_lists_phones_and_hours_are_among_the_values(world: Library) -> None:
    values = {name: value.text.replace("\u00a0", " ") for name, value in english(world).values.items()}
    assert values.pop("moving_parts").startswith("shoulder, elbow, thumb, ")
    assert values.pop("tips").startswith("thumb, ")
    assert values == {
        "ice_minutes": "15–20 minutes",
        "ice_days": "2 days",
        "raise_hours": "72 hours",
        "early_visit_hours": "24–48 hours",
        "plaster_dry_hours": "72 hours",
        "held_parts": "wrist",
        "clinic_name": "Tern Harbour Fracture Clinic",
        "clinic_phone": "(202) 555-0143",
        "after_hours_phone": "(202) 555-0178",
        "emergency_number": "911",
        "clinic_hours": "Monday – Friday, 8:00 AM – 4:30 PM",
        "language_in_english": "English",
        "applied": "Wed, November 25, 2:30 PM",
        "ice_until": "Fri, November 27",
        "raise_until": "Sat, November 28",
        "dry_by": "Sat, November 28, 2:30 PM",
        "visit": "Wed, December 2, 9:00 AM",
        "removal": "Wed, December 30",
    }


def test_phones_can_be_called(world: Library) -> None:
    values = english(world).values
    assert {name: value.phone for name, value in values.items() if value.phone} == {
        "clinic_phone": "tel:+1-202-555-0143",
        "after_hours_phone": "tel:+1-202-555-0178",
        "emergency_number": "tel:911",
    }


def figure(low: float, high: float, unit: str) -> Figure:
    return Figure("f", low, high, unit, (low, high), "", memory=False, where=Where(""))


@pytest.mark.parametrize(
    ("low", "high", "unit", "tag", "expected"),
    [
        (1, 1, "week", "en", "1 week"),
        (3.5, 7, "minute", "en", "3.5–7 minutes"),
        (1, 1, "hour", "es", "1 hora"),
        # Arabic has six plural forms (CLDR plural rules): one and two in the word, few 3-10, many 11-99, other 100-102.
        (1, 1, "day", "ar", "يوم"),
        (2, 2, "day", "ar", "يومين"),
        (3, 3, "day", "ar", "3 أيام"),
        (11, 11, "day", "ar", "11 يوما"),
        (100, 100, "day", "ar", "100 يوم"),
        (6, 8, "week", "ar", "\u20666–8\u2069 أسابيع"),
        (1, 2, "week", "ar", "\u20661–2\u2069 أسبوع"),
        (5, 10, "count", "ar", "5–10"),
        # 38.0 °C is 100.4 °F and 38.3 °C is 100.9 °F: published pairs.
        (38, 38, "celsius", "en", "38 °C (100.4 °F)"),
        (38.3, 38.3, "celsius", "es", "38.3 °C (100.9 °F)"),
        (38, 38.3, "celsius", "ar", "38–38.3 °C (100.4–100.9 °F)"),
        (40, 40, "celsius", "en", "40 °C (104 °F)"),
    ],
)
def test_measures(low: float, high: float, unit: str, tag: str, expected: str) -> None:
    assert measure(figure(low, high, unit), LANGUAGES[tag]).text.replace("\u00a0", " ") == expected


def test_a_list_in_arabic_joins_its_names_with_and() -> None:
    assert listing(["الكتف", "المرفق", "الإبهام"], LANGUAGES["ar"]).text == "الكتف والمرفق والإبهام"


def test_wording_is_a_draft_until_the_clinic_file_names_the_edition_in_force(tmp_path: Path) -> None:
    world = small_library(tmp_path)
    code = english_edition(world)
    assert english(world, Approvals(wording=code)).draft_wording
    clinic = FILES["clinic.md"].replace(
        "languages:", f"approved: {{edition: {code}, by: cast clinic lead, on: 2026-11-01}}\nlanguages:"
    )
    approved = small_library(tmp_path, {"clinic.md": clinic})
    assert not english(approved, Approvals(wording=english_edition(approved))).draft_wording


def test_a_language_is_a_draft_again_when_one_of_its_sentences_changes(world: Library) -> None:
    sheet = arm_sheet(world)
    before, after = spanish(sheet), spanish(sheet, {"wrist": "la muñeca"})
    approvals = approve(Approvals(), before, "bilingual clinician", date(2026, 11, 1))
    assert not translate(sheet, ES, before, world.clinic, approvals).draft_language
    assert translate(sheet, ES, after, world.clinic, approvals).draft_language


def test_the_edition_changes_with_every_word_translation_and_figure_and_with_nothing_else(tmp_path: Path) -> None:
    world = small_library(tmp_path / "a")
    warmer = FILES["figures.yaml"].replace("[15, 20]", "[15, 25]")
    other_figure = small_library(tmp_path / "b", {"figures.yaml": warmer})
    other_word = small_library(tmp_path / "c", {"advice/leg.md": FILES["advice/leg.md"].replace("told", "asked")})
    sheet = arm_sheet(world)
    codes = [
        english(world).edition,
        english(other_figure).edition,
        translate(sheet, ES, spanish(sheet), world.clinic, Approvals()).edition,
        translate(sheet, ES, spanish(sheet, {"wrist": "muñeca"}), world.clinic, Approvals()).edition,
    ]
    assert len(set(codes)) == len(codes)
    assert english(world).edition == english(other_word).edition  # the changed words are on leg sheets only
    assert english_edition(world) != english_edition(other_word)


def test_a_sheet_has_the_edition_of_its_phone_page_whatever_is_true_of_the_patient(world: Library) -> None:
    plain = arm_sheet(world)
    numb = sheet_of(world, replace(plain.choices, options=(world.options["numb"],)))
    assert list(numb.texts()) != list(plain.texts())
    editions = {
        translate(plain, LANGUAGES["en"], None, world.clinic, Approvals()).edition,
        translate(numb, LANGUAGES["en"], None, world.clinic, Approvals()).edition,
        translate(plain.full, LANGUAGES["en"], None, world.clinic, Approvals()).edition,
    }
    assert len(editions) == 1


def test_a_sheet_is_refused_when_only_its_phone_page_has_an_untranslated_sentence(world: Library) -> None:
    sheet = arm_sheet(world)
    with pytest.raises(Refused) as refused:
        translate(sheet, ES, spanish(sheet, {"Do not use ice.": ""}), world.clinic, Approvals())
    assert [problem.fault for problem in refused.value.problems] == [Fault.UNTRANSLATED]


def test_an_edition_is_six_characters_that_are_not_confused_on_paper(world: Library) -> None:
    code = english(world).edition
    assert len(code) == 6
    assert set(code) <= set(EDITION_CHARACTERS)
    assert not set(EDITION_CHARACTERS) & set("0O1IL8B5S2ZU")
