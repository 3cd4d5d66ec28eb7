"""Tests that each request at the desk translates its sheet once."""

from __future__ import annotations

import pytest

from aftercare.language.approval import Approvals
from aftercare.language.languages import Language
from aftercare.language.messages import Messages
from aftercare.language.translate import SheetT, translate
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Clinic
from aftercare.sheet.sheet import FullSheet, PatientSheet
from tests.desk_world import ARM, client

Calls = list[tuple[type[FullSheet] | type[PatientSheet], str]]


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Calls:
    """The kind of sheet and the language of each translation at the desk."""
    recorded: Calls = []

    def counted(
        sheet: SheetT, language: Language, messages: Messages | None, clinic: Clinic, approvals: Approvals
    ) -> TranslatedSheet[SheetT]:
        recorded.append((type(sheet), language.tag))
        return translate(sheet, language, messages, clinic, approvals)

    client()  # opens the desk, which is no request
    monkeypatch.setattr("aftercare.desk.translate", counted)
    return recorded


@pytest.mark.parametrize("address", ["/preview", "/sheet.pdf"])
@pytest.mark.parametrize("tag", ["en", "es"])
def test_the_preview_and_the_print_translate_the_sheet_once(calls: Calls, address: str, tag: str) -> None:
    assert client().post(address, data={**ARM, "language": tag}).status_code == 200
    assert calls == [(PatientSheet, tag)]


@pytest.mark.parametrize("address", ["/", "/parts"])
@pytest.mark.parametrize(("tag", "others"), [("en", ["ar", "es"]), ("es", ["ar"]), ("ar", ["es"])])
def test_the_form_translates_the_sheet_once_and_once_into_each_other_language(
    calls: Calls, address: str, tag: str, others: list[str]
) -> None:
    assert client().post(address, data={**ARM, "language": tag}).status_code == 200
    assert calls[0] == (PatientSheet, tag)
    # Whether the sheet can be had in another language is asked of the full sheet; English needs no asking.
    assert sorted(other for kind, other in calls[1:] if kind is FullSheet) == others
    assert len(calls) == 1 + len(others)


@pytest.mark.parametrize("address", ["/", "/preview", "/sheet.pdf"])
def test_a_form_that_is_not_complete_translates_no_sheet_of_a_patient(calls: Calls, address: str) -> None:
    client().post(address, data={**ARM, "side": ""})
    assert PatientSheet not in {kind for kind, _ in calls}
