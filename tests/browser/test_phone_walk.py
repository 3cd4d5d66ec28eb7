"""Check it now: one sign a screen, the worst first; the first yes ends in whom to call, and no answer ends in reassurance."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from playwright.sync_api import Page, Route, expect

from aftercare.language.languages import LANGUAGES
from aftercare.library.modules import Tier
from aftercare.sheet.address import fragment
from tests.browser.desk_room import axe_violations
from tests.phone_world import ARM, LEG, SPLINT, Site, basis, demo_desk

NIGHT, DAY, EMERGENCY = "tel:+1-202-555-0178", "tel:+1-202-555-0143", "tel:911"


def begin(phone: Page, site: Site, device: str, material: str, tag: str = "en", code: str = "") -> None:
    phone.goto(site.page(device, material, tag) + (f"#{code}" if code else ""))
    phone.click("#walk-start")


def asked(phone: Page) -> str:
    return phone.locator("#walk-sign .sign").inner_text()


def until(phone: Page, word: str) -> None:
    """Answer no until a sign with this word is asked."""
    while word not in asked(phone):
        phone.click("#walk-no")


def numbers(phone: Page) -> list[str]:
    hrefs: list[str] = phone.evaluate(
        "Array.from(document.querySelectorAll('#walk .calls a')).filter(link => link.checkVisibility()).map(link => link.href)"
    )
    return hrefs


def test_every_sign_of_this_patient_is_asked_the_worst_first_but_none_that_can_wait_for_clinic_hours(
    phone: Page, site: Site
) -> None:
    library = demo_desk().library
    choices = replace(basis(*LEG), options=(library.options["wires"],), weight=library.weights["partial"])
    translated = demo_desk().translate(choices, "en")
    groups = [group for group in translated.sheet.groups if group.tier is not Tier.OFFICE_HOURS]
    expected = [translated.translation(sign.sign) for group in groups for sign in group.signs]
    begin(phone, site, *LEG, code=fragment(choices))

    signs = []
    while phone.locator("#walk-ask").is_visible():
        signs.append(asked(phone))
        phone.click("#walk-no")

    plain = [text.replace("\xa0", " ") for text in signs]
    assert len(plain) == len(expected) > 8
    for said, sentence in zip(plain, expected, strict=True):
        assert said.startswith(sentence.partition("{")[0])


def test_a_sign_that_depends_says_on_whom_while_no_code_is_known(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)

    conditions = set()
    while phone.locator("#walk-ask").is_visible():
        conditions |= set(phone.locator("#walk-sign .if").all_inner_texts())
        phone.click("#walk-no")
    assert "If you had a nerve block" in conditions


def test_each_question_shows_its_picture_and_takes_the_keyboards_and_the_readers_attention(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)

    expect(phone.locator("#walk-sign svg")).to_be_visible()
    expect(phone.locator("#walk-sign")).to_be_focused()
    phone.keyboard.press("Tab")
    expect(phone.locator("#walk-yes")).to_be_focused()
    phone.keyboard.press("Tab")
    phone.keyboard.press("Enter")
    expect(phone.locator("#walk-count")).to_have_text(re.compile(r"^2 / \d+$"))


def test_a_screen_reader_is_told_each_new_sign_and_how_far_the_check_has_come(phone: Page, site: Site) -> None:
    """By the name and description that the browser computes for what has the focus (W3C, accname-1.2)."""
    begin(phone, site, *ARM)

    for number in range(1, 4):
        focused = phone.locator(":focus")
        expect(focused).to_have_accessible_name(re.compile(f"^Is this true now\\?.*{re.escape(asked(phone))}", re.DOTALL))
        expect(focused).to_have_accessible_description(re.compile(rf"^{number} / \d+$"))
        phone.click("#walk-no")


def test_a_yes_to_chest_signs_ends_in_the_emergency_number_alone(phone: Page, site: Site) -> None:
    begin(phone, site, *LEG)
    assert "breath" in asked(phone)

    phone.click("#walk-yes")

    assert numbers(phone) == [EMERGENCY]
    expect(phone.locator("#walk .end:visible h1")).to_contain_text("Call 911 now")
    expect(phone.locator("#walk .end:visible h1")).to_be_focused()


def test_a_yes_to_a_danger_sign_ends_in_going_now_with_what_not_to_do_and_every_number(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    own = phone.locator(".t-removal .passage:visible li").first.inner_text()
    phone.click("#walk-start")
    until(phone, "numb")

    phone.click("#walk-yes")

    end = phone.locator("#walk .end:visible")
    expect(end).to_contain_text("emergency room now")
    expect(end).to_contain_text("Do not wait for a call back.")
    expect(end).to_contain_text("On the way, do not eat or drink.")
    expect(end).to_contain_text(own)
    assert numbers(phone)[0] == EMERGENCY
    assert sorted(numbers(phone)) == sorted([NIGHT, DAY, EMERGENCY])
    assert phone.locator("#walk-yes").is_hidden()


def test_an_ending_in_going_now_tells_nothing_of_loosening_or_waiting_at_home(phone: Page, site: Site) -> None:
    code = fragment(replace(basis(*SPLINT), options=(demo_desk().library.options["splint-may-be-loosened"],)))
    phone.goto(f"{site.page(*SPLINT)}#{code}")
    loosening = phone.locator("#page .t-removal .passage:visible li").all_inner_texts()
    assert any("Wrap it again" in line for line in loosening)
    phone.click("#walk-start")

    phone.click("#walk-yes")

    told = phone.locator("#walk .end:visible").inner_text()
    assert "emergency room now" in told
    assert [line for line in loosening if line in told] == []


def test_a_yes_to_a_same_day_sign_ends_in_the_clinics_numbers(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    until(phone, "wet")

    phone.click("#walk-yes")

    expect(phone.locator("#walk .end:visible h1")).to_have_text("Call the same day")
    assert sorted(numbers(phone)) == sorted([NIGHT, DAY])


@pytest.mark.parametrize("tag", LANGUAGES)
def test_all_no_ends_in_checking_again_and_never_in_reassurance(phone: Page, site: Site, tag: str) -> None:
    begin(phone, site, *ARM, tag)
    while phone.locator("#walk-ask").is_visible():
        phone.click("#walk-no")

    end = phone.locator("#walk .end:visible")
    assert end.get_attribute("data-tier") == "none"
    expect(end.locator("h1")).to_contain_text("Check again in 2 hours")
    assert sorted(numbers(phone)) == sorted([NIGHT, DAY])
    assert not any(word in end.inner_text().lower() for word in ("fine", "all is well", "no problem", "nothing wrong", "safe"))


def test_back_takes_back_an_answer_and_then_leaves_the_check(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    first = asked(phone)
    phone.click("#walk-no")
    phone.click("#walk-back")
    assert asked(phone) == first
    phone.click("#walk-yes")
    phone.click("#walk-back")
    assert asked(phone) == first

    phone.click("#walk-back")

    expect(phone.locator("#page")).to_be_visible()
    expect(phone.locator("#walk")).to_be_hidden()
    expect(phone.locator("#walk-start")).to_be_focused()


def to_the_end(phone: Page) -> str:
    """Answer no to everything; the last sign that was asked."""
    last = ""
    while phone.locator("#walk-ask").is_visible():
        last = asked(phone)
        phone.click("#walk-no")
    return last


def test_back_from_the_end_of_all_no_asks_the_last_sign_again(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    last = to_the_end(phone)

    phone.click("#walk-back")

    assert asked(phone) == last


def test_starting_again_asks_the_first_sign(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    first = asked(phone)
    to_the_end(phone)

    phone.click("#walk-again")

    assert asked(phone) == first
    expect(phone.locator("#walk-count")).to_have_text(re.compile(r"^1 / \d+$"))


def test_a_check_left_halfway_begins_with_the_first_sign_the_next_time(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    first = asked(phone)
    phone.click("#walk-no")
    phone.go_back()

    phone.click("#walk-start")

    assert asked(phone) == first


def test_while_it_asks_nothing_leads_away_but_the_number_and_at_its_end_only_the_numbers_it_gives(
    phone: Page, site: Site
) -> None:
    begin(phone, site, *LEG)
    assert phone.locator("nav:visible, footer:visible").count() == 0
    expect(phone.locator(".quick")).to_be_visible()

    phone.click("#walk-yes")
    assert {link.get_attribute("href") for link in phone.locator("a:visible").all()} == {EMERGENCY}
    expect(phone.locator("#walk-count")).to_have_text("")

    phone.go_back()
    for part in ("nav", "footer", ".quick"):
        expect(phone.locator(part)).to_be_visible()


def test_each_question_says_why_it_is_asked(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    why = phone.locator("#page .signs .why").first.inner_text()

    phone.click("#walk-start")

    expect(phone.locator("#walk-sign .why")).to_have_text(why)


def test_a_second_ending_shows_its_own_numbers_alone(phone: Page, site: Site) -> None:
    begin(phone, site, *ARM)
    until(phone, "numb")
    for _ in range(2):
        phone.click("#walk-yes")
        assert sorted(numbers(phone)) == sorted([NIGHT, DAY, EMERGENCY])
        phone.click("#walk-back")


def test_each_question_is_read_from_its_top(phone: Page, site: Site) -> None:
    phone.set_viewport_size({"width": 320, "height": 454})
    phone.emulate_media(reduced_motion="reduce")  # so that nothing is still on its way when it is measured
    begin(phone, site, *LEG)
    phone.evaluate("document.documentElement.classList.add('largest')")
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert phone.evaluate("scrollY") > 0

    phone.click("#walk-no")

    assert phone.evaluate("scrollY") == 0


def test_the_phones_way_back_among_codes_is_none_out_of_a_check(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    expect(phone.locator("#larger")).to_be_visible()
    phone.evaluate("location.hash = 'X'")
    phone.focus("#larger")

    phone.go_back()

    expect(phone.locator("#bad-code")).to_be_hidden()
    expect(phone.locator("#larger")).to_be_focused()


def test_the_phones_own_way_back_leaves_the_check_and_keeps_the_code(phone: Page, site: Site) -> None:
    code = fragment(basis(*ARM))
    begin(phone, site, *ARM, code=code)
    phone.click("#walk-no")

    phone.go_back()

    expect(phone.locator("#page")).to_be_visible()
    assert phone.url == f"{site.page(*ARM)}#{code}"
    assert phone.locator(".if:visible").count() == 0


def test_nothing_of_the_answers_is_kept_or_sent(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM), wait_until="networkidle")
    before = phone.evaluate("JSON.stringify(localStorage)")
    site.log.clear()
    phone.click("#walk-start")
    phone.click("#walk-no")
    phone.click("#walk-yes")

    assert phone.evaluate("JSON.stringify(localStorage) + sessionStorage.length") == before + "0"
    assert site.log == []


def test_a_check_that_is_still_not_there_after_a_tap_does_not_open_under_a_reader_later(phone: Page, site: Site) -> None:
    held: list[Route] = []
    phone.route("**/more-*.js", lambda route: held.append(route))
    phone.clock.install()
    phone.goto(site.page(*ARM), wait_until="commit")
    phone.click("#walk-start")
    expect(phone.locator("#walk-start")).to_have_attribute("aria-busy", "true")

    phone.clock.fast_forward("00:06")
    expect(phone.locator("#walk-start")).to_be_hidden()
    held[0].continue_()

    expect(phone.locator("#larger")).to_be_visible()
    assert phone.locator("#page").is_visible()
    assert phone.locator("#walk").is_hidden()


def test_a_tap_before_the_check_has_come_is_kept_for_it(phone: Page, site: Site) -> None:
    held: list[Route] = []
    phone.route("**/more-*.js", lambda route: held.append(route))
    phone.goto(site.page(*ARM), wait_until="commit")
    phone.click("#walk-start")
    assert phone.locator("#page").is_visible()

    held[0].continue_()

    expect(phone.locator("#walk-ask")).to_be_visible()


def test_where_the_check_cannot_come_its_button_goes(phone: Page, site: Site) -> None:
    phone.route("**/more-*.js", lambda route: route.abort())
    phone.goto(site.page(*ARM))

    expect(phone.locator("#walk-start")).to_be_hidden()
    assert phone.locator(".calls a:visible").count() == 3


@pytest.mark.parametrize("tag", LANGUAGES)
def test_axe_finds_nothing_in_the_check(phone: Page, site: Site, tag: str) -> None:
    begin(phone, site, *ARM, tag)
    assert axe_violations(phone) == []
    until(phone, "numb")
    phone.click("#walk-yes")
    assert axe_violations(phone) == []


def test_yes_and_no_lie_under_one_thumb(phone: Page, site: Site) -> None:
    """Both answers in the lower half of a small screen, wide and at least 44 pixels high, whatever the sign's length."""
    begin(phone, site, *LEG)
    while phone.locator("#walk-ask").is_visible():
        for button in ("#walk-yes", "#walk-no"):
            box = phone.locator(button).bounding_box()
            assert box is not None
            assert box["y"] > 320
            assert box["y"] + box["height"] <= 640
            assert box["width"] > 150
        phone.click("#walk-no")


@pytest.mark.parametrize(
    ("width", "height", "size"), [(320, 454, ""), (360, 640, "large"), (360, 640, "largest"), (568, 320, "")]
)
@pytest.mark.parametrize("tag", LANGUAGES)
def test_the_answers_never_lie_over_the_question(phone: Page, site: Site, tag: str, width: int, height: int, size: str) -> None:
    phone.set_viewport_size({"width": width, "height": height})
    phone.emulate_media(reduced_motion="reduce")  # so that nothing is still on its way when it is measured
    begin(phone, site, *LEG, tag)
    if size:
        phone.evaluate("size => document.documentElement.classList.add(size)", size)

    while phone.locator("#walk-ask").is_visible():
        lowest = phone.evaluate("document.getElementById('walk-said').lastElementChild.getBoundingClientRect().bottom")
        highest = phone.evaluate("document.querySelector('.answers').getBoundingClientRect().top")
        assert lowest <= highest
        phone.evaluate("scrollTo(0, document.body.scrollHeight)")
        answers = phone.locator(".answers").bounding_box()
        bar = phone.locator(".quick").bounding_box()
        assert answers
        assert bar
        assert answers["y"] + answers["height"] <= bar["y"] or bar["y"] >= height
        phone.click("#walk-no")
