"""The desk in a real browser: by keyboard alone, with and without JavaScript, on a tablet and on a desktop screen."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, Page, expect

from tests.browser.desk_room import Asked, Room, fill_arm

# Answers arrive, but the desk hears of them only when the test lets it.
HOLD_ANSWERS = """() => {
    window.held = [];
    window.answered = window.fetch;
    window.fetch = async (...asked) => {
        const answer = await answered(...asked);
        await new Promise(let_go => document.documentElement.dataset.held = held.push(let_go));
        return answer;
    };
}"""


def shown_sheet(desk: Page) -> str:
    """The words of the sheet in sight."""
    return desk.frame_locator("#preview iframe:not(.coming)").locator("body").inner_text()


def test_from_an_empty_desk_to_paper_by_keyboard_alone(desk: Page, room: Room) -> None:
    desk.keyboard.type("ulnar gutter spl")
    desk.keyboard.press("Enter")
    expect(desk.locator("#material-plaster-fast")).to_be_focused()
    desk.keyboard.press("Space")
    desk.keyboard.press("Tab")
    expect(desk.locator("#side-left")).to_be_focused()
    desk.keyboard.press("ArrowDown")
    with desk.expect_popup():
        desk.keyboard.press("Control+Enter")

    printed = wait_for(desk, room, "/sheet.pdf")
    assert (printed.method, printed.status, printed.type, printed.start) == ("POST", 200, "application/pdf", b"%PDF-")


def wait_for(desk: Page, room: Room, target: str) -> Asked:
    """The server's log line of a request that the browser was told to make."""
    for _ in range(200):
        for asked in room.log:
            if asked.target == target:
                return asked
        desk.wait_for_timeout(50)
    raise AssertionError([asked.target for asked in room.log])


def test_a_card_taken_by_pointer_leads_to_the_first_question(desk: Page) -> None:
    desk.locator("label:has(#device-short-arm-cast)").click()

    expect(desk.locator("#material-fiberglass")).to_be_focused()


def test_arrows_walk_through_what_was_found_(desk: Page) -> None:
    desk.keyboard.type("ulnar")
    first = desk.locator(".card.next").inner_text()
    desk.keyboard.press("ArrowDown")
    second = desk.locator(".card.next").inner_text()
    desk.keyboard.press("Enter")

    assert first != second
    expect(desk.locator(".chosen strong")).to_have_text(second.split("\n")[0])


def test_the_print_key_is_written_on_the_button(desk: Page) -> None:
    expect(desk.locator("#print")).to_contain_text("Ctrl + Enter")


def test_a_choice_made_while_an_answer_is_on_its_way_is_kept(desk: Page) -> None:
    """The answer to an older question must not undo a newer choice."""
    desk.locator("label:has(#device-short-arm-cast)").click()
    expect(desk.locator("#material-fiberglass")).to_be_visible()
    desk.evaluate(HOLD_ANSWERS)
    desk.check("#material-fiberglass")
    expect(desk.locator("html")).to_have_attribute("data-held", "1")
    desk.check("#side-left")
    desk.evaluate("window.fetch = answered; held[0]()")

    expect(desk.locator("#details")).to_have_attribute("data-ready", "yes")
    expect(desk.locator("#side-left")).to_be_checked()


def test_nothing_chosen_ever_stands_in_an_address(desk: Page, room: Room) -> None:
    fill_arm(desk)
    desk.check("#options-swelling-risk")
    desk.fill("#visit", "2026-12-02T09:00")
    desk.check("#paper-a4")
    with desk.expect_popup():
        desk.click("#print")
    wait_for(desk, room, "/sheet.pdf")

    # The browser asks for a favicon beside the PDF; that tells nothing.
    fixed = r"/(favicon\.ico|assets/(desk\.css|choices\.css|desk\.js|regular\.ttf|bold\.ttf)|parts|preview|sheet\.pdf)?"
    assert [asked.target for asked in room.log if not re.fullmatch(fixed, asked.target)] == []
    assert desk.url == f"{room.address}/"


def test_the_preview_follows_each_choice_without_adding_to_the_browsers_history(desk: Page) -> None:
    before = desk.evaluate("history.length")
    fill_arm(desk)
    desk.check("#options-wires")
    desk.frame_locator("#preview iframe:not(.coming)").get_by_text("Germs can follow a wire").first.wait_for()

    assert desk.evaluate("history.length") == before


def test_the_last_good_sheet_stays_and_says_so_while_a_field_is_wrong(desk: Page) -> None:
    fill_arm(desk)
    desk.fill("#visit", "2020-01-01T10:00")
    expect(desk.locator("#error-visit")).to_be_visible()

    expect(desk.locator("#stale")).to_be_visible()
    assert "Short arm cast" in shown_sheet(desk)
    desk.fill("#visit", "")
    expect(desk.locator("#stale")).to_be_hidden()


def test_a_desk_that_does_not_answer_says_so_and_prints_nothing(desk: Page, room: Room) -> None:
    fill_arm(desk)
    desk.context.set_offline(True)
    desk.keyboard.press("Control+Enter")
    expect(desk.locator("#silent")).to_be_visible()

    assert [asked for asked in room.log if asked.target == "/sheet.pdf"] == []
    desk.context.set_offline(False)
    desk.check("#options-wires")
    expect(desk.locator("#silent")).to_be_hidden()


def test_another_device_takes_the_old_sheet_away_and_asks_its_own_questions(desk: Page) -> None:
    fill_arm(desk)
    desk.click("#picker > summary")
    desk.keyboard.type("walking cast")
    desk.keyboard.press("Enter")
    expect(desk.locator("#details")).to_have_attribute("data-device", "short-leg-walking-cast")

    assert desk.locator("#preview iframe").count() == 0
    assert desk.locator("[name=weight]:checked, [name=material]:checked").count() == 0


def test_a_change_elsewhere_leaves_focus_and_a_half_typed_date_alone(desk: Page) -> None:
    fill_arm(desk)
    desk.focus("#visit")
    desk.keyboard.type("1202")
    desk.evaluate("document.getElementById('options-wires').click()")
    expect(desk.locator("#options-wires")).to_be_checked()
    desk.wait_for_load_state("networkidle")
    desk.keyboard.type("2026")
    desk.keyboard.press("Tab")
    desk.keyboard.type("0900A")

    expect(desk.locator("#visit")).to_be_focused()
    expect(desk.locator("#visit")).to_have_value("2026-12-02T09:00")


def test_printing_too_early_moves_focus_to_the_summary_whose_links_lead_to_the_fields(desk: Page) -> None:
    desk.locator("label:has(#device-short-leg-walking-cast)").click()
    desk.check("#material-fiberglass")
    desk.keyboard.press("Control+Enter")
    expect(desk.locator("#summary")).to_be_focused()
    desk.keyboard.press("Tab")
    desk.keyboard.press("Tab")
    desk.keyboard.press("Enter")

    expect(desk.locator("#weight-touch")).to_be_focused()
    assert desk.locator("[name=weight]:checked").count() == 0


def test_without_javascript_the_same_form_leads_to_the_same_sheet(browser: Browser, room: Room) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 768, "height": 1024})
    desk = context.new_page()
    desk.goto(room.address)
    desk.locator("label:has(#device-short-arm-cast)").click()
    desk.get_by_role("button", name="Show what fits this choice").click()
    desk.check("#material-fiberglass")
    desk.check("#side-right")
    desk.get_by_role("button", name="Show the sheet here").click()
    desk.frame_locator("iframe[name=sheet]").get_by_role("heading", level=1).wait_for()
    with context.expect_page():
        desk.click("#print")

    assert wait_for(desk, room, "/sheet.pdf").start == b"%PDF-"
    context.close()
