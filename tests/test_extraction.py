"""Tests that PO files have every message of the sheets, and that a translator's file is checked before it is merged."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import polib
import pytest

from aftercare.check.combinations import compatible, largest
from aftercare.errors import Fault, Refused, Where
from aftercare.language.approval import Approvals, approvals_text, parse_approvals
from aftercare.language.extraction import Extracted, messages_of, update_po
from aftercare.language.languages import LANGUAGES
from aftercare.language.messages import read_messages
from aftercare.language.translation_files import approve_language, import_po, status
from aftercare.library.catalogue import Library, load_library
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import arrange_all, settle
from aftercare.sheet.sheet import FullSheet
from aftercare.sheet.validate import options_for, weights_for
from tests.small_world import FILES, small_world

ES = LANGUAGES["es"]
EXTRACTED = (
    Extracted("Wait 48 hours.", ("content/b.md",), ""),
    Extracted("Ice: {ice_minutes}.", ("content/a.md", "content/b.md"), "{ice_minutes} is 15–20 minutes"),
    Extracted("Do not cut it.", ("content/a.md",), ""),
)
DONE = ("Espere 48 horas.", "Hielo: {ice_minutes}.", "No lo corte.")


def filled(*translations: str) -> str:
    """The exported file with these translations."""
    po = polib.pofile(update_po(None, EXTRACTED, ES), wrapwidth=0)
    for text, translation in zip(EXTRACTED, translations, strict=False):
        entry = po.find(text.message)
        assert entry
        entry.msgstr = translation
    return str(po)


NOTHING = read_messages(update_po(None, EXTRACTED, ES), "translations/es.po")


@pytest.fixture
def world(tmp_path: Path) -> Library:
    return load_library(small_world(tmp_path))


def test_words_are_replaced_and_values_stay_in_braces(world: Library) -> None:
    messages = {text.message for text in messages_of(arrange_all(world))}
    assert {"Ice on the cast: {ice_minutes}.", "Raise your arm.", "Raise your leg."} <= messages
    assert not any("{the device}" in message for message in messages)


def test_a_message_names_its_files_and_what_its_values_print(world: Library) -> None:
    extracted = {text.message: text for text in messages_of(arrange_all(world))}
    assert extracted["Ice on the cast: {ice_minutes}."] == Extracted(
        "Ice on the cast: {ice_minutes}.", ("content/advice/ice.md",), "{ice_minutes} is 15–20 minutes"
    )
    assert extracted["It holds your arm still."].places == ("content/devices/arm-cast.md",)


def test_a_clinics_own_wording_is_extracted_in_place_of_the_shipped_one(tmp_path: Path) -> None:
    own = FILES["clinic.md"] + "\n## no-ice\nWe never use ice.\n"
    library = load_library(small_world(tmp_path, {"clinic.md": own}))
    messages = {text.message for text in messages_of(arrange_all(library))}
    assert "We never use ice." in messages
    assert "Do not use ice." not in messages


def patients(library: Library, full: FullSheet) -> Iterator[Choices]:
    """Each option alone and each largest set of options, with each weight order that agrees with it."""
    device, material = full.device, full.material
    options = options_for(library, device, material)
    sets = {frozenset({option.id}) for option in options} | set(largest(options))
    for weight in weights_for(library, device) or (None,):
        for ids in sets:
            picked = tuple(option for option in options if option.id in ids)
            if compatible(picked, weight):
                yield Choices(device, material, None, picked, weight)


def test_every_message_of_every_shipped_sheet_of_one_patient_is_extracted(library: Library) -> None:
    sheets = arrange_all(library)
    extracted = {text.message for text in messages_of(sheets)}
    for full in sheets:
        for choices in patients(library, full):
            assert {text.message for text in settle(library, full, choices).texts()} <= extracted


def test_a_sheet_that_cannot_be_composed_stops_the_extraction_with_its_reason(tmp_path: Path) -> None:
    care = FILES["advice/care.md"].replace("infection, ", "")
    with pytest.raises(Refused, match="infection"):
        messages_of(arrange_all(load_library(small_world(tmp_path, {"advice/care.md": care}))))


def test_the_po_file_is_in_file_order_without_lines_dates_or_flags() -> None:
    text = update_po(None, EXTRACTED, ES)
    assert [line for line in text.splitlines() if line.startswith(("#:", "msgid"))] == [
        'msgid ""',
        "#: content/a.md",
        'msgid "Do not cut it."',
        "#: content/a.md content/b.md",
        'msgid "Ice: {ice_minutes}."',
        "#: content/b.md",
        'msgid "Wait 48 hours."',
    ]
    assert "#. {ice_minutes} is 15–20 minutes" in text
    assert "Date" not in text
    assert "#," not in text


def test_updating_again_changes_nothing() -> None:
    text = filled(*DONE)
    once = update_po(text, EXTRACTED, ES)
    assert update_po(once, EXTRACTED, ES) == once


def test_changed_english_has_no_translation_and_never_one_with_the_old_number() -> None:
    """The known danger of gettext tools: a near match keeps "Espere 48 horas." for the new "Wait 24 hours."."""
    changed = (Extracted("Wait 24 hours.", ("content/b.md",), ""), *EXTRACTED[1:])
    text = update_po(filled(*DONE), changed, ES)
    messages = read_messages(text, "es.po")
    assert messages.entries["Wait 24 hours."].translation == ""
    assert messages.entries["Do not cut it."].translation == "No lo corte."
    assert "fuzzy" not in text
    assert "48" not in text


def test_a_review_is_preserved_while_its_english_is_unchanged() -> None:
    text = filled(*DONE).replace("#: content/b.md\n", "# reviewed: numbers\n#: content/b.md\n")
    updated = read_messages(update_po(text, EXTRACTED, ES), "es.po")
    assert updated.entries["Wait 48 hours."].reviewed == {"numbers"}


def test_a_broken_file_is_not_updated() -> None:
    with pytest.raises(Refused):
        update_po(filled(*DONE).replace('msgstr "No lo corte."', 'msgstr "No lo corte.'), EXTRACTED, ES)


def test_status_counts_each_message_once() -> None:
    text = filled("Espere 24 horas.", "Hielo: {ice_minutes}.").replace(
        "#: content/a.md content", "#, fuzzy\n#: content/a.md content"
    )
    counts = status(EXTRACTED, read_messages(text, "es.po"), Approvals())
    assert (counts.total, counts.translated, counts.missing, counts.fuzzy, counts.unsafe) == (3, 0, 1, 1, 1)
    assert not counts.approved
    assert {problem.fault for problem in counts.problems} == {Fault.NUMBER_CHANGED, Fault.UNTRANSLATED, Fault.FUZZY}


def test_an_export_has_the_clinics_own_translations_in_place_of_the_shipped_ones() -> None:
    own = filled("", "", "No corte la férula.")
    messages = read_messages(update_po(filled(*DONE), EXTRACTED, ES, own), "es.po")
    assert messages.entries["Do not cut it."].translation == "No corte la férula."
    assert messages.entries["Wait 48 hours."].translation == "Espere 48 horas."


def test_an_import_has_only_what_differs_from_the_shipped_translations() -> None:
    shipped = read_messages(filled(*DONE), "translations/es.po")
    imported = import_po(EXTRACTED, ES, filled(DONE[0], "", "No corte la férula."), "back.po", shipped)
    entries = read_messages(imported.text, "es.po").entries
    assert {message: entry.translation for message, entry in entries.items()} == {"Do not cut it.": "No corte la férula."}
    assert (imported.changed, imported.missing, imported.unknown) == (1, 1, ())


def test_an_import_adds_to_the_clinics_earlier_translations() -> None:
    own = import_po(EXTRACTED, ES, filled("", "", DONE[2]), "back.po", NOTHING).text
    both = import_po(EXTRACTED, ES, filled(DONE[0]), "back.po", NOTHING, own).text
    assert {e.message for e in read_messages(both, "es.po").entries.values() if e.translation} == {
        "Do not cut it.",
        "Wait 48 hours.",
    }


def test_an_import_with_unsafe_sentences_is_refused_naming_each_of_them() -> None:
    with pytest.raises(Refused) as refused:
        import_po(EXTRACTED, ES, filled("Espere 24 horas.", "Hielo.", "Córtelo."), "back.po", NOTHING)
    assert {problem.fault for problem in refused.value.problems} == {
        Fault.NUMBER_CHANGED,
        Fault.PLACEHOLDER_LOST,
        Fault.NEGATION_LOST,
    }
    assert all(problem.where and problem.where.path == "back.po" and problem.where.line for problem in refused.value.problems)


def test_an_import_reports_sentences_that_no_sheet_has() -> None:
    text = filled(*DONE) + '\nmsgid "Old sentence."\nmsgstr "Frase vieja."\n'
    assert import_po(EXTRACTED, ES, text, "back.po", NOTHING).unknown == ("Old sentence.",)


def test_an_import_of_another_language_is_refused() -> None:
    with pytest.raises(Refused, match="'ar' was to be imported"):
        import_po(EXTRACTED, LANGUAGES["ar"], filled(*DONE), "back.po", NOTHING)


def test_only_a_language_with_every_message_sound_can_be_approved_and_only_by_a_role() -> None:
    messages = read_messages(filled(*DONE), "es.po")
    approvals = approve_language(EXTRACTED, messages, Approvals(), "bilingual clinician", date(2026, 11, 25))
    assert status(EXTRACTED, messages, approvals).approved
    with pytest.raises(Refused):
        approve_language(EXTRACTED, NOTHING, Approvals(), "bilingual clinician", date(2026, 11, 25))
    with pytest.raises(Refused, match="never a person's name"):
        approve_language(EXTRACTED, messages, Approvals(), "Ana", date(2026, 11, 25))


def test_approvals_are_parsed_as_they_were_formatted() -> None:
    messages = read_messages(filled(*DONE), "es.po")
    approvals = approve_language(EXTRACTED, messages, Approvals(), "medical translator", date(2026, 11, 25))
    assert parse_approvals(approvals_text(approvals), "approvals.yaml") == approvals
    assert parse_approvals("", "approvals.yaml") == Approvals()


def test_a_bad_approvals_file_is_refused_with_its_line() -> None:
    with pytest.raises(Refused, match=r"approvals\.yaml:2: .*role"):
        parse_approvals('# who\nes: {fingerprint: "00", role: Ana, on: "2026-11-25"}\n', "approvals.yaml")


def test_an_approval_of_an_unknown_language_is_refused_with_its_line_and_a_guess() -> None:
    with pytest.raises(Refused) as refused:
        parse_approvals('ess: {fingerprint: "00", role: language service, on: "2026-11-25"}\n', "approvals.yaml")

    (problem,) = refused.value.problems
    assert (problem.subject, problem.suggestion, problem.where) == (("ess",), "es", Where("approvals.yaml", 1))
