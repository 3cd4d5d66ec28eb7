"""Tests of the page about the advice: approvals, figures, sources and notes for staff, and nothing about a patient."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from aftercare.desk import Desk
from aftercare.language.approval import Approvals, approvals_text, approve
from aftercare.library.catalogue import Library
from aftercare.places import find_places
from aftercare.web.about import about
from aftercare.web.about_rows import AboutPage, Approval, ModuleRow, Origin, SourceLine, State, UsualTime
from tests.desk_world import ARM, Page, client, clinic_home, desk_app
from tests.small_world import FILES, small_world

ROLE = "orthopedic nurse lead"
LANGUAGES_LINE = "languages: [en, es, ar]"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """The demo clinic's desk."""
    return Desk.open(find_places(), clinic_home(tmp_path_factory.mktemp("about")))


@pytest.fixture(scope="module")
def page() -> Page:
    """The demo clinic's page about the advice."""
    return Page(client().get("/about"))


def row(page: Page, section: str, name: str) -> str:
    """The words of one row of a section's tables, selected by the words of its heading cell."""
    return page.text(f"//section[h2/@id='{section}']//tr[th[@scope='row'][contains(normalize-space(), '{name}')]]")


def approved_home(folder: Path, *changes: tuple[str, str]) -> Path:
    """A clinic that approved its own wording, and whose Spanish a medical translator approved."""
    desk = Desk.open(find_places(), clinic_home(folder, *changes))
    line = f'approved: {{edition: {desk.approvals.wording}, by: {ROLE}, on: "2026-11-02"}}'
    old, new = changes[-1] if changes else (LANGUAGES_LINE, LANGUAGES_LINE)
    clinic_home(folder, *changes[:-1], (old, f"{new}\n{line}"))
    approvals = approve(Approvals(), desk.messages["es"], "medical translator", date(2026, 11, 3))
    (folder / "approvals.yaml").write_text(approvals_text(approvals), encoding="utf-8")
    return folder


def modules(shown: AboutPage) -> dict[str, ModuleRow]:
    """Every advice module and warning sign of a page, by its id."""
    return {module.id: module for group in (*shown.advice, *shown.warnings) for module in group.modules}


def small(tmp_path: Path, changed: dict[str, str | None] | None = None) -> AboutPage:
    """The page of a small content folder with some files changed."""
    return about(Desk.open(small_world(tmp_path, changed)))


# ---- approvals ----


def test_a_clinic_that_approved_nothing_sees_each_text_as_a_draft(demo: Desk, page: Page) -> None:
    assert [(approval.name, approval.state) for approval in about(demo).approvals] == [
        ("English wording and figures", State.DRAFT),
        ("Spanish translation", State.DRAFT),
        ("Arabic translation", State.DRAFT),
    ]
    assert f"edition {demo.approvals.wording} draft Approved by nobody yet." in row(page, "approvals", "English wording")
    assert "draft until the clinic has approved its wording" in page.text("//*[@class='notice draft']")


def test_approved_texts_are_shown_with_role_and_day(tmp_path: Path) -> None:
    page = Page(desk_app(approved_home(tmp_path)).test_client().get("/about"))

    english, spanish = row(page, "approvals", "English wording"), row(page, "approvals", "Spanish")
    assert f"Approved by {ROLE} on 2026-11-02." in english
    assert "Approved by medical translator on 2026-11-03." in spanish
    assert "draft" not in english + spanish
    assert "draft Approved by nobody yet." in row(page, "approvals", "Arabic")


def test_a_wording_changed_since_its_approval_is_a_draft_and_names_both_editions(tmp_path: Path) -> None:
    home = approved_home(tmp_path)
    approved = Desk.open(find_places(), home).clinic.approved_edition
    text = (home / "clinic.md").read_text(encoding="utf-8")
    (home / "clinic.md").write_text(
        f"{text}\n## rings\n- Take every ring off that hand before you leave us.\n", encoding="utf-8"
    )

    english, spanish, _ = about(Desk.open(find_places(), home)).approvals
    page = Page(desk_app(home).test_client().get("/about"))

    assert (english.state, english.approved_edition, english.role, english.on) == (State.CHANGED, approved, ROLE, "2026-11-02")
    assert english.edition not in ("", approved)
    assert f"draft Edition {approved} was approved by {ROLE} on 2026-11-02" in row(page, "approvals", "English wording")
    assert spanish.state is State.APPROVED


def test_a_translation_changed_since_its_approval_is_a_draft(tmp_path: Path) -> None:
    home = approved_home(tmp_path)
    (home / "translations").mkdir()
    changed = 'msgid "Keep it raised"\nmsgstr "Otra cosa"\n'
    (home / "translations" / "es.po").write_text(f'msgid ""\nmsgstr ""\n"Language: es\\n"\n\n{changed}', encoding="utf-8")

    page = Page(desk_app(home).test_client().get("/about"))

    assert "draft Approved by medical translator on 2026-11-03, and changed since." in row(page, "approvals", "Spanish")


def test_a_role_without_an_edition_approves_nothing_and_the_page_reports_it(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, (LANGUAGES_LINE, f'{LANGUAGES_LINE}\napproved: {{edition: "", by: "{ROLE}", on: ""}}'))

    english = row(Page(desk_app(home).test_client().get("/about")), "approvals", "English wording")

    assert "draft Approved by nobody yet: the clinic file says who approved it or when, but not which edition." in english


def test_an_approval_of_a_language_that_is_not_offered_is_shown_as_such(tmp_path: Path) -> None:
    home = approved_home(tmp_path, (LANGUAGES_LINE, "languages: [en, ar]"))

    names = {approval.name: approval.state for approval in about(Desk.open(find_places(), home)).approvals}

    assert names["Spanish translation (not offered here)"] is State.APPROVED


def test_markup_in_a_role_stays_text(tmp_path: Path) -> None:
    home = clinic_home(
        tmp_path,
        (LANGUAGES_LINE, LANGUAGES_LINE + "\napproved: {edition: AAAAAA, by: '<script>alert(1)</script>', on: ''}"),
    )
    answer = desk_app(home).test_client().get("/about")

    assert "<script" not in answer.text
    assert "by <script>alert(1)</script> on a day not given" in row(Page(answer), "approvals", "English wording")


# ---- figures ----


def test_every_figure_is_shown_with_its_range_and_source_and_marked_where_from_memory(page: Page, library: Library) -> None:
    assert {figure.memory for figure in library.figures.values()} == {True, False}
    for figure in library.figures.values():
        shown = row(page, "figures", figure.id)
        assert figure.source in shown
        assert f"{figure.low:g}" in shown
        assert f"{figure.published[1]:g}" in shown
        assert ("from memory" in shown) is figure.memory
        assert "set by this clinic" not in shown


def test_a_figure_that_the_clinic_sets_is_marked_and_shown_with_its_value(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, (LANGUAGES_LINE, f"{LANGUAGES_LINE}\nfigures: {{raise_hours: 48}}"))

    page = Page(desk_app(home).test_client().get("/about"))

    cells = [cell.text_content() for cell in page.elements("//tr[th/code='raise_hours']/td")]
    assert cells[:2] == ["48 hours set by this clinic", "24–168 hours"]
    assert cells[2].startswith("Children's hospital and fracture clinic leaflets")
    assert page.text("//section[h2/@id='figures']").count("set by this clinic") == 1


# ---- advice and warning signs ----


def test_every_module_is_shown_with_its_title_and_each_of_its_sources(page: Page, library: Library) -> None:
    for section, shipped in (("advice", library.advice), ("warnings", library.warnings)):
        rows = page.elements(f"//section[h2/@id='{section}']//tbody/tr")
        shown = {tr.xpath("string(th/code)"): " ".join(tr.text_content().split()) for tr in rows}
        assert shown.keys() == {module.id for module in shipped}
        for module in shipped:
            assert module.sources
            assert all(source in shown[module.id] for source in module.sources)
            assert "{" not in shown[module.id]
            assert module.title.message.partition("{")[0] in shown[module.id]


def test_a_module_of_common_practice_is_marked(demo: Desk) -> None:
    shown = modules(about(demo))

    assert shown["call"].sources == (SourceLine("common practice, no source", True),)
    assert shown["wires"].sources == (
        SourceLine("Kingston and Richmond, K-wires", False),
        SourceLine("common practice, no source", True),
    )


def test_common_practice_is_named_in_the_same_words_everywhere(library: Library) -> None:
    """The mark depends on these words."""
    sources = {source for advice in library.advice for source in advice.sources}
    sources |= {source for warning in library.warnings for source in warning.sources}
    sources |= {source for device in library.devices.values() for source in (device.first_visit_source, device.weeks_source)}

    assert {source for source in sources if "no source" in source} == {"common practice, no source"}


def test_a_module_without_sources_is_shown_as_common_practice(tmp_path: Path) -> None:
    assert modules(small(tmp_path))["ice"].sources == (SourceLine("no source named: common practice", True),)


def test_the_clinics_own_title_and_wording_are_shown_and_marked(tmp_path: Path) -> None:
    own = "\n## numb\n# Feeling gone\n\n## rings\n- Take every ring off that hand before you leave us.\n"
    home = clinic_home(tmp_path, more=own)

    shown = modules(about(Desk.open(find_places(), home)))
    page = Page(desk_app(home).test_client().get("/about"))

    assert (shown["numb"].title, shown["numb"].origin) == ("Feeling gone", Origin.TITLE)
    assert shown["rings"].origin is Origin.CLINIC
    assert {id_ for id_, module in shown.items() if module.origin is not Origin.PROGRAM} == {"numb", "rings"}
    assert "Feeling gone" in page.text("//section[h2/@id='warnings']")
    assert "this clinic’s own" in row(page, "advice", "rings")


def test_a_module_that_the_clinic_leaves_out_is_listed(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, more="\n## flying\n\n## rings\n# Rings\n")
    page = Page(desk_app(home).test_client().get("/about"))

    assert about(Desk.open(find_places(), home)).left_out == ("flying",)
    assert page.text("//h3[.='Left out by this clinic']/following-sibling::p") == "flying"
    assert page.elements("//th/code[.='flying']") == []


def test_a_title_names_its_values_and_words_without_braces(tmp_path: Path) -> None:
    title = "# Cold on {the device}, **{ice_minutes}**, or call {clinic_phone}"
    shown = modules(small(tmp_path, {"advice/ice.md": FILES["advice/ice.md"].replace("# Ice", title)}))

    assert shown["ice"].title == "Cold on the device, 15–20 minutes, or call (202) 555-0143"


def test_signs_are_grouped_by_how_soon_to_act(page: Page) -> None:
    assert [heading.text for heading in page.elements("//section[h2/@id='warnings']/h3")] == [
        "Call 911 now",
        "Go to the emergency room now, day or night",
        "Call the same day",
        "Call in clinic hours",
    ]


# ---- devices, options, materials ----


def test_every_device_is_shown_with_its_other_names_usual_times_and_position(page: Page, library: Library, demo: Desk) -> None:
    shown = {device.name: device for group in about(demo).devices for device in group.devices}
    assert shown.keys() == {device.name.message for device in library.devices.values()}
    for device in library.devices.values():
        device_row = shown[device.name.message]
        assert (device_row.first_visit is None) is (device.first_visit_days is None)
        assert (device_row.time_in_device is None) is (device.weeks is None)
        text = page.text(f"//section[h2/@id='devices']//tr[th/text()[normalize-space()='{device.name.message}']]")
        for words in (device.position, device.first_visit_source, device.weeks_source, *device.also_called):
            assert words in text, device.id


def test_usual_times_are_shown_in_days_and_weeks(demo: Desk) -> None:
    shown = {device.name: device for group in about(demo).devices for device in group.devices}

    boot, wrist = shown["Boot with heel wedges"], shown["Ready-made wrist splint"]
    assert boot.first_visit == UsualTime("7 to 14 days", SourceLine("common practice, no source", True))
    assert boot.time_in_device == UsualTime("8 to 10 weeks", SourceLine("NHS Achilles plan", False))
    assert wrist.first_visit is None
    assert wrist.time_in_device is not None
    assert wrist.time_in_device.text == "3 weeks"


def test_a_usual_time_of_one_is_singular(tmp_path: Path) -> None:
    lines = "removal: never\nweeks: 1\nweeks-source: a leaflet"
    shown = small(tmp_path, {"devices/arm-cast.md": FILES["devices/arm-cast.md"].replace("removal: never", lines)})

    assert shown.devices[0].devices[0].time_in_device == UsualTime("1 week", SourceLine("a leaflet", False))


def test_every_option_and_material_is_shown_with_its_notes(page: Page, library: Library) -> None:
    options = {option.label.message: option.notes for option in library.options.values()}
    materials = {material.name.message: material.notes for material in library.materials.values()}

    for section, notes_by_name in (("options", options), ("materials", materials)):
        rows = page.elements(f"//section[h2/@id='{section}']//tbody/tr")
        shown = {tr.xpath("string(th)"): tr.xpath("string(td)") for tr in rows}
        assert shown == {name: "".join(note.message for note in notes) or "none" for name, notes in notes_by_name.items()}


# ---- the page ----


def test_it_needs_no_form_and_an_address_with_choices_changes_nothing() -> None:
    plain = client().get("/about")

    assert plain.status_code == 200
    assert client().get("/about", query_string=ARM).data == plain.data
    assert client().post("/about", data=ARM).status_code == 405
    assert Page(plain).elements("//form | //input | //script") == []


def test_every_table_has_headings_that_a_screen_reader_can_name(page: Page) -> None:
    tables = page.elements("//table")

    assert len(tables) > 20
    for table in tables:
        assert page.text(f"//*[@id='{table.get('aria-labelledby')}']")
        assert table.xpath("not(.//th[not(@scope)])")
        assert table.xpath("count(tbody/tr[not(th[@scope='row'])])") == 0


def test_links_to_its_sections_and_from_the_desk_work(page: Page) -> None:
    desk = Page(client().post("/", data=ARM))
    links = [str(link) for link in page.elements("//nav//@href") if link != "/"]
    from_desk = [str(link) for link in desk.elements("//@href[starts-with(., '/about')]")]

    assert len(links) == 7
    assert sorted(from_desk) == ["/about", "/about#options"]
    for link in (*links, *(link.removeprefix("/about") for link in from_desk if "#" in link)):
        assert page.text(f"//*[@id='{link.removeprefix('#')}']")
    # A filled-in form would be lost with its tab.
    assert desk.elements("//a[starts-with(@href, '/about')]/@target") == ["_blank", "_blank"]


def test_while_an_edit_cannot_be_used_it_shows_what_is_in_force(tmp_path: Path) -> None:
    figures = f"{LANGUAGES_LINE}\nfigures: {{raise_hours: 48}}"
    desk = desk_app(clinic_home(tmp_path, (LANGUAGES_LINE, figures))).test_client()
    clinic_home(tmp_path, (LANGUAGES_LINE, figures.replace("48", "fast")))

    page = Page(desk.get("/about"))

    assert page.status == 200
    assert "This page shows what sheets were made from" in page.text("//*[@id='problems']")
    assert "clinic.md:" in page.text("//*[@id='problems']//li")
    assert "48 hours set by this clinic" in row(page, "figures", "raise_hours")


def test_before_the_clinic_file_is_filled_in_it_lists_what_is_missing(tmp_path: Path) -> None:
    closed = Page(desk_app(clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", '""'))).test_client().get("/about"))

    assert closed.status == 503
    assert "clinic.md:" in closed.text("//code")


def test_it_is_computed_from_the_desk_alone(demo: Desk) -> None:
    shown, edition = about(demo), demo.approvals.wording or ""
    approved = replace(demo.clinic, approved_edition=edition, approved_by=ROLE, approved_on="2026-11-02")
    after = about(replace(demo, library=replace(demo.library, clinic=approved)))

    assert about(demo) == shown
    assert after == replace(shown, approvals=(after.approvals[0], *shown.approvals[1:]))
    assert after.approvals[0] == Approval("English wording and figures", State.APPROVED, ROLE, "2026-11-02", edition, edition)
