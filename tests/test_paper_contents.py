"""Tests of the printed sheet besides its advice: draft marks, the clinic's box, and no field for a patient's identity."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import lxml.html

from aftercare.desk import Desk
from aftercare.language.approval import approvals_text, approve
from aftercare.library.clinic import Paper
from aftercare.places import find_places
from tests.desk_world import clinic_home
from tests.phone_world import demo_desk
from tests.printed import ARM, Copy, text, text_of, words


def sides_of(desk: Desk, tag: str) -> list[str]:
    """The words of each side, without line breaks."""
    file = desk.print_sheet(desk.choose(ARM), tag, Paper.LETTER)
    return [" ".join(side.split()) for side in text_of(file).split("\f") if side.strip()]


def marks(desk: Desk, tag: str, label: str) -> list[bool]:
    """Whether each side has a draft mark."""
    mark = demo_desk().translate(demo_desk().choose(ARM), tag).label(label)
    return [mark in side for side in sides_of(desk, tag)]


def approved(folder: Path, *tags: str) -> Desk:
    """The demo clinic after it has approved the English, and translations."""
    approval = f'\napproved: {{edition: "{demo_desk().approvals.wording}", by: clinical lead, on: "2026-11-01"}}'
    home = clinic_home(folder, ("languages: [en, es, ar]", f"languages: [en, es, ar]{approval}"))
    approvals = demo_desk().approvals
    for tag in tags:
        approvals = approve(approvals, demo_desk().messages[tag], "medical translator", date(2026, 11, 1))
    (home / "approvals.yaml").write_text(approvals_text(approvals), encoding="utf-8")
    return Desk.open(find_places(), home)


def test_every_side_of_an_unapproved_sheet_is_marked_as_a_draft() -> None:
    assert marks(demo_desk(), "en", "draft_wording") == [True, True]
    assert marks(demo_desk(), "es", "draft_both") == [True, True]


def test_an_approved_sheet_has_no_draft_mark_and_the_clinic_and_edition_on_every_side(tmp_path: Path) -> None:
    desk = approved(tmp_path)
    edition = desk.translate(desk.choose(ARM), "en").edition
    assert marks(desk, "en", "draft_wording") == [False, False]
    assert [f"Tern Harbour Fracture Clinic · Edition {edition}" in side for side in sides_of(desk, "en")] == [True, True]


def test_a_translation_stays_a_draft_until_it_is_approved_itself(tmp_path: Path) -> None:
    assert marks(approved(tmp_path), "es", "draft_language") == [True, True]
    assert marks(approved(tmp_path, "es"), "es", "draft_language") == [False, False]


def paper_tree() -> lxml.html.HtmlElement:
    """The page of an English sheet."""
    translated = demo_desk().translate(demo_desk().choose(ARM), "en")
    return lxml.html.document_fromstring(demo_desk().paper_html(translated))


def test_the_clinics_own_label_has_a_box() -> None:
    (box,) = paper_tree().find_class("staff-label")
    assert box.text_content() == "Clinic label goes here"


def test_nothing_on_the_sheet_asks_who_the_patient_is() -> None:
    tree = paper_tree()
    assert tree.xpath("//input | //textarea | //form") == []
    asking = {"name", "birth", "born", "mrn", "patient", "insurance", "address of", "signature"}
    printed_words = set(re.findall(r"[a-z]+", text(Copy("en")).lower()))
    assert printed_words & asking == set()
    assert len(words(text(Copy("en")))) > 300
