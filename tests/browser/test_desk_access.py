"""The desk for everybody: every state checked by tools that are not ours, on a tablet and on a desktop screen."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.desk_room import Room, axe_violations, fill_arm, nu_messages, running
from tests.desk_world import ARM, LEG, client, clinic_home, desk_app

WIDTHS = {"tablet": (768, 1024), "desktop": (1280, 800)}


@pytest.fixture(params=WIDTHS)
def size(request: pytest.FixtureRequest) -> tuple[int, int]:
    return WIDTHS[request.param]


def empty(desk: Page) -> None:
    expect(desk.locator("#find")).to_be_focused()


def searching(desk: Page) -> None:
    desk.keyboard.type("leg")


def nothing_found(desk: Page) -> None:
    desk.keyboard.type("zzz")


def ready(desk: Page) -> None:
    fill_arm(desk)


def contradicting(desk: Page) -> None:
    fill_arm(desk)
    desk.check("#options-wires")
    desk.check("#options-waterproof-liner")
    expect(desk.locator("#error-options")).to_be_visible()


def asked_too_early(desk: Page) -> None:
    desk.locator("label:has(#device-short-leg-walking-cast)").click()
    desk.fill("#visit", "2020-01-01T10:00")
    desk.keyboard.press("Control+Enter")
    expect(desk.locator("#summary")).to_be_focused()


STATES = [empty, searching, nothing_found, ready, contradicting, asked_too_early]


@pytest.mark.parametrize("state", STATES)
def test_every_state_passes_axe_and_fits_the_screen_and_the_finger(
    desk: Page, size: tuple[int, int], state: Callable[[Page], None]
) -> None:
    desk.set_viewport_size({"width": size[0], "height": size[1]})
    state(desk)

    assert axe_violations(desk) == []
    assert desk.evaluate("document.documentElement.scrollWidth") <= size[0]
    # WCAG 2.2, 2.5.5 (AAA): 44 by 44 CSS pixels; a box is pressed anywhere in its label.
    small = desk.evaluate(
        """() => [...document.querySelectorAll('label:has(> input), button, a, summary, input:not(label > input)')]
        .filter(e => e.checkVisibility() && e.type !== 'hidden')
        .filter(e => { const r = e.getBoundingClientRect(); return r.height < 44 || r.width < 44 })
        .map(e => e.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_the_desk_reflows_at_320_pixels(desk: Page) -> None:
    """WCAG 2.2, 1.4.10: 320 CSS pixels wide without scrolling in two directions, as 1280 pixels are at 400 %."""
    desk.set_viewport_size({"width": 320, "height": 640})
    fill_arm(desk)

    assert desk.evaluate("document.documentElement.scrollWidth") <= 320


def test_every_state_passes_the_nu_checker(tmp_path: Path) -> None:
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
        "about": client().get("/about").text,
    }

    assert nu_messages(pages, tmp_path) == []


def test_pages_beside_the_desk_pass_axe(browser: Browser, tmp_path: Path) -> None:
    closed = desk_app(clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", '""')))
    with running(closed) as room:
        desk = browser.new_page()
        for address in ("/", "/nowhere"):
            desk.goto(room.address + address)
            assert axe_violations(desk) == []
        desk.close()


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_the_page_about_the_advice_passes_axe_and_fits_the_screen_and_the_finger(desk: Page, room: Room, width: int) -> None:
    desk.set_viewport_size({"width": width, "height": 800})
    desk.goto(f"{room.address}/about")

    assert axe_violations(desk) == []
    assert desk.evaluate("document.documentElement.scrollWidth") <= width
    # No word runs out of its cell into the next one.
    overflowing = desk.evaluate(
        """() => [...document.querySelectorAll('th, td')]
        .filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.outerHTML)"""
    )
    small = desk.evaluate(
        """() => [...document.querySelectorAll('a')].map(e => [e.getBoundingClientRect(), e.outerHTML])
        .filter(([r]) => r.height < 44 || r.width < 44).map(([, html]) => html)"""
    )
    assert (overflowing, small) == ([], [])


def test_the_page_about_the_advice_opens_beside_a_form_and_leaves_it_as_it_is(desk: Page, room: Room) -> None:
    fill_arm(desk)
    desk.locator("a[href='/about#options']").focus()
    with desk.expect_popup() as opened:
        desk.keyboard.press("Enter")
    about = opened.value

    expect(about.get_by_role("heading", level=1)).to_have_text("About this advice")
    expect(about.get_by_role("heading", name="True of this patient")).to_be_in_viewport()
    expect(about.get_by_role("row", name=re.compile("^Cannot tell us about pain")).get_by_role("cell")).to_have_text(
        "Any age: no speech, dementia, learning disability."
    )
    expect(desk.locator("#side-left")).to_be_checked()
    assert [asked.method for asked in room.log if asked.target.startswith("/about")] == ["GET"]
