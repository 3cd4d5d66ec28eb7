"""The desk in a real browser: by keyboard alone, with and without JavaScript, on a tablet and on a desktop screen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.desk_room import Asked, Room, axe_violations, chromium, nu_messages, running
from tests.desk_world import ARM, LEG, client, clinic_home, demo_desk, desk_app

WIDTHS = {"tablet": (768, 1024), "desktop": (1280, 800)}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def room() -> Iterator[Room]:
    with running(demo_desk()) as found:
        yield found


@pytest.fixture(params=WIDTHS)
def size(request: pytest.FixtureRequest) -> tuple[int, int]:
    return WIDTHS[request.param]


@pytest.fixture
def page(browser: Browser, room: Room) -> Iterator[Page]:
    """The empty desk on a desktop screen; a script error or a blocked resource fails the test that met it."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: wrong.append(message.text) if "Content Security Policy" in message.text else None)
    page.goto(room.address)
    yield page
    cookies = context.cookies()
    context.close()
    assert wrong == []
    assert cookies == []


def fill_arm(page: Page) -> None:
    """An arm cast up to a ready sheet, with the pointer."""
    page.locator("label:has(#device-short-arm-cast)").click()
    page.check("#material-fiberglass")
    page.check("#side-left")
    expect(page.locator("#details")).to_have_attribute("data-ready", "yes")
    page.frame_locator("#preview iframe:not(.coming)").get_by_role("heading", level=1).wait_for()


def shown_sheet(page: Page) -> str:
    """The words of the sheet in sight."""
    return page.frame_locator("#preview iframe:not(.coming)").locator("body").inner_text()


def test_from_an_empty_desk_to_paper_by_keyboard_alone(page: Page, room: Room):
    page.keyboard.type("ulnar gutter spl")
    page.keyboard.press("Enter")
    expect(page.locator("#material-plaster-fast")).to_be_focused()
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    expect(page.locator("#side-left")).to_be_focused()
    page.keyboard.press("ArrowDown")
    with page.expect_popup():
        page.keyboard.press("Control+Enter")

    printed = wait_for(page, room, "/sheet.pdf")
    assert (printed.method, printed.status, printed.type, printed.start) == ("POST", 200, "application/pdf", b"%PDF-")


def wait_for(page: Page, room: Room, target: str) -> Asked:
    """The server's log line of a request that the browser was told to make."""
    for _ in range(200):
        for asked in room.log:
            if asked.target == target:
                return asked
        page.wait_for_timeout(50)
    raise AssertionError([asked.target for asked in room.log])


def test_arrows_walk_through_what_was_found_(page: Page):
    page.keyboard.type("ulnar")
    first = page.locator(".card.next").inner_text()
    page.keyboard.press("ArrowDown")
    second = page.locator(".card.next").inner_text()
    page.keyboard.press("Enter")

    assert first != second
    expect(page.locator(".chosen strong")).to_have_text(second.split("\n")[0])


def test_the_print_key_is_written_on_the_button(page: Page):
    expect(page.locator("#print")).to_contain_text("Ctrl + Enter")


def test_nothing_chosen_ever_stands_in_an_address(page: Page, room: Room):
    fill_arm(page)
    page.check("#options-swelling-risk")
    page.fill("#visit", "2026-12-02T09:00")
    page.check("#paper-a4")
    with page.expect_popup():
        page.click("#print")
    wait_for(page, room, "/sheet.pdf")

    # The browser asks for a favicon beside the PDF; that tells nothing.
    fixed = r"/(favicon\.ico|assets/(desk\.css|choices\.css|desk\.js|regular\.ttf|bold\.ttf)|parts|preview|sheet\.pdf)?"
    assert [asked.target for asked in room.log if not re.fullmatch(fixed, asked.target)] == []
    assert page.url == f"{room.address}/"


def test_the_preview_follows_each_choice_without_adding_to_the_browsers_history(page: Page):
    before = page.evaluate("history.length")
    fill_arm(page)
    page.check("#options-wires")
    page.frame_locator("#preview iframe:not(.coming)").get_by_text("Germs can follow a wire").first.wait_for()

    assert page.evaluate("history.length") == before


def test_the_last_good_sheet_stays_and_says_so_while_a_field_is_wrong(page: Page):
    fill_arm(page)
    page.fill("#visit", "2020-01-01T10:00")
    expect(page.locator("#error-visit")).to_be_visible()

    expect(page.locator("#stale")).to_be_visible()
    assert "Short arm cast" in shown_sheet(page)
    page.fill("#visit", "")
    expect(page.locator("#stale")).to_be_hidden()


def test_another_device_takes_the_old_sheet_away_and_asks_its_own_questions(page: Page):
    fill_arm(page)
    page.click("#picker > summary")
    page.keyboard.type("walking cast")
    page.keyboard.press("Enter")
    expect(page.locator("#details")).to_have_attribute("data-device", "short-leg-walking-cast")

    assert page.locator("#preview iframe").count() == 0
    assert page.locator("[name=weight]:checked, [name=material]:checked").count() == 0


def test_a_change_elsewhere_leaves_focus_and_a_half_typed_date_alone(page: Page):
    fill_arm(page)
    page.focus("#visit")
    page.keyboard.type("1202")
    page.evaluate("document.getElementById('options-wires').click()")
    expect(page.locator("#options-wires")).to_be_checked()
    page.wait_for_load_state("networkidle")
    page.keyboard.type("2026")
    page.keyboard.press("Tab")
    page.keyboard.type("0900A")

    expect(page.locator("#visit")).to_be_focused()
    expect(page.locator("#visit")).to_have_value("2026-12-02T09:00")


def test_printing_too_early_moves_focus_to_the_summary_whose_links_lead_to_the_fields(page: Page):
    page.locator("label:has(#device-short-leg-walking-cast)").click()
    page.check("#material-fiberglass")
    page.keyboard.press("Control+Enter")
    expect(page.locator("#summary")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.locator("#weight-touch")).to_be_focused()
    assert page.locator("[name=weight]:checked").count() == 0


def test_without_javascript_the_same_form_leads_to_the_same_sheet(browser: Browser, room: Room):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 768, "height": 1024})
    page = context.new_page()
    page.goto(room.address)
    page.locator("label:has(#device-short-arm-cast)").click()
    page.get_by_role("button", name="Show what fits this choice").click()
    page.check("#material-fiberglass")
    page.check("#side-right")
    page.get_by_role("button", name="Show the sheet here").click()
    page.frame_locator("iframe[name=sheet]").get_by_role("heading", level=1).wait_for()
    with context.expect_page():
        page.click("#print")

    assert wait_for(page, room, "/sheet.pdf").start == b"%PDF-"
    context.close()


def empty(page: Page) -> None:
    expect(page.locator("#find")).to_be_focused()


def searching(page: Page) -> None:
    page.keyboard.type("leg")


def nothing_found(page: Page) -> None:
    page.keyboard.type("zzz")


def ready(page: Page) -> None:
    fill_arm(page)


def contradicting(page: Page) -> None:
    fill_arm(page)
    page.check("#options-wires")
    page.check("#options-waterproof-liner")
    expect(page.locator("#error-options")).to_be_visible()


def asked_too_early(page: Page) -> None:
    page.locator("label:has(#device-short-leg-walking-cast)").click()
    page.fill("#visit", "2020-01-01T10:00")
    page.keyboard.press("Control+Enter")
    expect(page.locator("#summary")).to_be_focused()


STATES = [empty, searching, nothing_found, ready, contradicting, asked_too_early]


@pytest.mark.parametrize("state", STATES)
def test_every_state_passes_axe_fits_the_screen_and_has_targets_of_44_pixels(page: Page, size: tuple[int, int], state):
    page.set_viewport_size({"width": size[0], "height": size[1]})
    state(page)

    assert axe_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    # WCAG 2.2, 2.5.5 (AAA): 44 by 44 CSS pixels; a box is pressed anywhere in its label.
    small = page.evaluate(
        """() => [...document.querySelectorAll('label:has(> input), button, a, summary, input:not(label > input)')]
        .filter(e => e.checkVisibility() && e.type !== 'hidden')
        .filter(e => { const r = e.getBoundingClientRect(); return r.height < 44 || r.width < 44 })
        .map(e => e.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_the_desk_reflows_at_320_pixels(page: Page):
    """WCAG 2.2, 1.4.10: 320 CSS pixels wide without scrolling in two directions, as 1280 pixels are at 400 %."""
    page.set_viewport_size({"width": 320, "height": 640})
    fill_arm(page)

    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_every_state_passes_the_nu_checker(tmp_path: Path):
    closed = clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", '""'))
    wrong = {**LEG, "weight": "", "visit": "2020-01-01T10:00", "options": ["wires", "waterproof-liner"]}
    pages = {
        "empty": client().get("/").text,
        "arm": client().post("/", data=ARM).text,
        "leg": client().post("/", data=LEG | {"options": "swelling-risk"}).text,
        "wrong": client().post("/sheet.pdf", data=wrong).text,
        "unknown": client().post("/", data={**ARM, "device": "x"}).text,
        "not-yet": client().post("/preview", data={**ARM, "side": ""}).text,
        "closed": desk_app(closed).test_client().get("/").text,
        "missing": client().get("/nowhere").text,
    }

    assert nu_messages(pages, tmp_path) == []


def test_pages_beside_the_desk_pass_axe(browser: Browser, tmp_path: Path):
    closed = desk_app(clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", '""')))
    with running(closed) as room:
        page = browser.new_page()
        for address in ("/", "/nowhere"):
            page.goto(room.address + address)
            assert axe_violations(page) == []
        page.close()
