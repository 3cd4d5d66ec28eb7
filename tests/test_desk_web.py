"""Tests of the nurse's form at the desk: what can be chosen, how problems are shown, and what is printed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from aftercare.library.catalogue import Library
from aftercare.library.devices import Device
from tests.desk_world import ARM, LEG, Page, client, clinic_home, desk_app

HOSTILE = '"\'><script>alert(1)</script><b title="'


def post(address: str, form: dict[str, str], *, options: Sequence[str] = ()) -> Page:
    """The response to a form with these options ticked."""
    return Page(client().post(address, data={**form, "options": list(options)}))


def test_an_empty_desk_offers_every_device_by_picture_and_name(library: Library) -> None:
    page = Page(client().get("/"))

    assert page.status == 200
    assert set(page.values("device")) == set(library.devices)
    assert len(page.elements("//label[contains(@class,'card')]/svg")) == len(library.devices)
    assert page.chosen("device") == []


def test_a_search_finds_a_device_by_its_other_names_and_its_limb(library: Library) -> None:
    page = Page(client().get("/"))

    for device in library.devices.values():
        (card,) = page.elements(f"//input[@id='device-{device.id}']/parent::label")
        words = card.get("data-words")
        for name in (device.name.message, *device.also_called, device.limb):
            assert name.lower() in words, device.id


def test_the_time_of_application_defaults_to_now_in_the_clinics_time_zone() -> None:
    page = Page(client().get("/"))

    assert page.values("applied") == ["2026-11-25T14:30"]


def test_a_device_offers_only_the_materials_it_is_made_in(library: Library) -> None:
    page = post("/", {**ARM, "material": ""})

    assert page.values("material") == list(library.devices["short-arm-cast"].materials)
    assert page.chosen("material") == []


def test_the_only_material_of_a_device_counts_as_chosen(library: Library) -> None:
    single = next(device for device in library.devices.values() if len(device.materials) == 1)
    page = post("/", {**ARM, "device": single.id, "material": ""})

    assert page.chosen("material") == list(single.materials)


def test_a_weight_order_is_offered_for_legs_only_and_none_is_preselected(library: Library) -> None:
    leg, arm = post("/", {**LEG, "weight": ""}), post("/", ARM)

    assert leg.values("weight") == [w for w in library.weights if w in library.devices[LEG["device"]].weights]
    assert leg.chosen("weight") == []
    assert arm.values("weight") == []


def test_options_that_cannot_apply_are_not_offered() -> None:
    arm, leg = post("/", ARM).values("options"), post("/", LEG).values("options")

    assert "sling" in arm
    assert "sling" not in leg
    assert "crutches" in leg
    assert "crutches" not in arm
    assert "splint-may-be-loosened" not in arm + leg


def test_an_option_lists_its_conflicts() -> None:
    page = post("/", ARM, options=["waterproof-liner"])

    assert "Not together with “Waterproof lining”." in page.text("//label[input/@value='wires']")


def test_a_ticked_option_shows_its_notes_for_staff_and_others_do_not() -> None:
    page = post("/", ARM, options=["nerve-block"])

    assert page.text("//label[input/@value='nerve-block']/span/small") == (
        "Tell the patient when feeling should come back, and write it on the sheet."
    )
    assert page.text("//label[input/@value='small-child']") == "Baby or small child"


def test_the_conflicts_of_an_option_come_before_its_notes() -> None:
    page = post("/", ARM, options=["waterproof-liner", "wires"])

    assert page.text("//label[input/@value='wires']/span/small") == (
        "Not together with “Waterproof lining”. Makes wet or smelly go-now signs."
    )


def test_conflicting_options_are_refused_and_both_stay_ticked() -> None:
    page = post("/", ARM, options=["waterproof-liner", "wires"])

    assert page.status == 400
    assert "“Waterproof lining” and “Wires or pins underneath” cannot stand on one sheet" in page.problem("options")
    assert page.chosen("options") == ["wires", "waterproof-liner"]


@pytest.mark.parametrize(
    ("field", "word", "sentence"),
    [
        ("device", "shrt-arm-cast", "No device is called 'shrt-arm-cast'"),
        ("material", "thermoplastic", "“Short arm cast” is not made in “Thermoplastic"),
        ("side", "middle", "No side is called 'middle'"),
        ("applied", "2026-13-40T10:00", "“Put on” is '2026-13-40T10:00', which is no day and time"),
        # The clocks of New York skip this hour on 14 March 2027: tz database, rule "US", second Sunday of March, 2:00.
        ("applied", "2027-03-14T02:30", "a time that the change to summer time skips"),
        ("visit", "2026-11-24T09:00", "is not after it was put on"),
        ("removal", "2026-11-01", "no later than it was put on"),
        ("language", "xx", "No language is called 'xx'"),
        ("paper", "a3", "No paper is called 'a3'"),
        ("size", "tiny", "No size is called 'tiny'"),
    ],
)
@pytest.mark.parametrize("address", ["/", "/sheet.pdf"])
def test_a_wrong_word_is_explained_next_to_its_field_and_the_form_is_unchanged(
    address: str, field: str, word: str, sentence: str
) -> None:
    page = post(address, {**ARM, field: word})

    assert page.status == 400
    assert sentence in page.problem(field)
    assert (f"#field-{field}") in [link for link, _ in page.summary()]
    for other in ("applied", "visit", "removal"):
        assert page.values(other) in ([{**ARM, field: word}.get(other, "")], [])
    for other in {"material", "side", "language", "paper", "size"} - {field}:
        assert field == "device" or page.chosen(other) == [ARM[other]]


def test_every_problem_is_shown_at_once() -> None:
    page = post("/sheet.pdf", {**LEG, "side": "", "weight": "", "visit": "2020-01-01T00:00"})

    assert page.status == 400
    assert {link for link, _ in page.summary()} == {"#field-side", "#field-weight", "#field-visit"}


def test_a_missing_choice_is_not_called_wrong_before_printing() -> None:
    choosing, printing = post("/", {**LEG, "weight": ""}), post("/sheet.pdf", {**LEG, "weight": ""})

    assert (choosing.status, choosing.problem("weight")) == (200, "")
    assert printing.status == 400
    assert "the sheet never guesses" in printing.problem("weight")


def test_printing_answers_with_a_pdf_in_the_browser_named_by_ids_in_ascii() -> None:
    response = client().post("/sheet.pdf", data=ARM)

    assert (response.status_code, response.mimetype) == (200, "application/pdf")
    assert response.data.startswith(b"%PDF-")
    assert response.headers["Content-Disposition"] == 'inline; filename="short-arm-cast-en.pdf"'


def test_the_preview_is_the_page_that_would_be_printed() -> None:
    page = post("/preview", ARM)

    assert page.status == 200
    assert "Short arm cast" in page.text("//body")
    assert page.elements("//*[contains(@class,'qr')]")
    assert page.elements("//script") == []


def test_the_preview_of_an_unfinished_form_lists_what_is_missing() -> None:
    page = post("/preview", {**ARM, "side": ""})

    assert page.status == 400
    assert "No side was chosen" in page.text("//main")


def test_the_preview_of_a_wrong_form_uses_the_names_on_the_buttons() -> None:
    page = post("/preview", ARM, options=["waterproof-liner", "wires"])

    assert page.status == 400
    assert "“Waterproof lining”" in page.text("//main")
    assert "waterproof-liner" not in page.text("//main")


def test_the_qr_code_is_on_the_screen_with_its_address_in_words() -> None:
    page = post("/", ARM)
    address = "".join(page.text("//*[@class='address']").split())

    assert address.startswith("HTTPS://CARE.TERNHARBOUR.EXAMPLE/EN/")
    assert page.text("//*[@class='phone']/*[local-name()='svg']/*[local-name()='title']") == f"Code that opens {address}"


def test_an_option_that_requires_an_early_visit_shows_until_when() -> None:
    page = post("/", ARM, options=["swelling-risk"])

    # 48 hours after it was put on: content/figures.yaml gives the range and its source.
    assert "Fri Nov 27, 14:30" in page.text("//*[@id='hint-visit']")


def test_unapproved_wording_is_marked_as_a_draft() -> None:
    assert "not approved this wording" in post("/", ARM).text("//*[contains(@class,'draft')]")


def test_an_address_that_patients_cannot_open_at_home_has_a_caution(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, ("https://care.ternharbour.example/", "http://192.168.1.20/"))
    page = Page(desk_app(home).test_client().get("/"))

    assert "Patients cannot open" in page.text("//*[@class='notice']")


def test_a_language_with_an_untranslated_sentence_is_disabled_and_english_offered(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, more="\n## rings\n- Take every ring off that hand before you leave us.\n")
    desk = desk_app(home).test_client()
    form, spanish = Page(desk.post("/", data=ARM)), Page(desk.post("/sheet.pdf", data={**ARM, "language": "es"}))

    assert form.elements("//input[@id='language-es'][@disabled]")
    assert not form.elements("//input[@id='language-en'][@disabled]")
    assert "Take every ring off that hand before you leave us." in form.text("//*[@id='waiting']")
    assert spanish.status == 400
    assert "Print it in English and go through it with an interpreter" in spanish.problem("language")


def test_a_day_of_removal_is_offered_only_where_the_device_may_come_off_at_home(library: Library) -> None:
    def asked(device: Device) -> bool:
        return bool(post("/", {**ARM, "device": device.id, "material": device.materials[0]}).values("removal"))

    assert not asked(library.devices["short-arm-cast"])
    assert asked(library.devices["mallet-splint"]) or asked(library.devices["prefabricated-wrist-splint"])


@pytest.mark.parametrize("field", [*ARM, "weight", "options", "removal"])
@pytest.mark.parametrize("address", ["/", "/parts", "/preview", "/sheet.pdf"])
def test_markup_in_a_field_stays_text(address: str, field: str) -> None:
    response = client().post(address, data={**ARM, field: HOSTILE})

    assert b"<script>alert" not in response.data
    assert b"<b title" not in response.data
