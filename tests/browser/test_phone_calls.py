"""Whom to call: the number that answers now comes first, by the clinic's own clock, wherever and whenever the page is open."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.phone_clock import MIDNIGHT_IS_24
from tests.phone_world import ARM, Site, path_of

NIGHT, DAY = "tel:+1-202-555-0178", "tel:+1-202-555-0143"


@pytest.mark.parametrize(
    ("moment", "first"), [("2026-11-25T19:30:00Z", DAY), ("2026-11-26T02:00:00Z", NIGHT), ("2026-11-28T17:00:00Z", NIGHT)]
)
def test_the_number_that_answers_now_comes_first(phone: Page, site: Site, moment: str, first: str) -> None:
    """Wednesday 14:30, Wednesday 21:00 and Saturday noon in New York; the clinic is open Monday to Friday 08:00-16:30."""
    phone.clock.install(time=moment)
    phone.goto(site.page(*ARM))

    assert phone.locator("#page .calls a").first.get_attribute("href") == first
    assert [link.get_attribute("href") for link in phone.locator(".quick a:visible").all()] == [first]
    assert phone.locator("#page .calls a").count() == 3


@pytest.mark.parametrize(
    ("moment", "first"), [("2026-03-09T12:00:00Z", DAY), ("2026-03-06T12:30:00Z", NIGHT), ("2026-03-06T13:00:00Z", DAY)]
)
def test_opening_hours_follow_the_clinics_clock_change(phone: Page, site: Site, moment: str, first: str) -> None:
    """New York moved to summer time on 8 March 2026 (tz database): 08:00 is 13:00 UTC on the 6th and 12:00 UTC on the 9th."""
    phone.clock.install(time=moment)
    phone.goto(site.page(*ARM))

    assert phone.locator("#page .calls a").first.get_attribute("href") == first


@pytest.mark.parametrize(
    ("moment", "first"),
    [("2026-11-25T12:59:59Z", NIGHT), ("2026-11-25T21:29:59Z", DAY), ("2026-11-25T21:30:00Z", NIGHT)],
    ids=["before eight", "before half past four", "at half past four"],
)
def test_the_clinic_opens_and_closes_on_the_minute(phone: Page, site: Site, moment: str, first: str) -> None:
    phone.clock.install(time=moment)
    phone.goto(site.page(*ARM))

    assert phone.locator("#page .calls a").first.get_attribute("href") == first


def with_hours(phone: Page, site: Site, hours: str) -> None:
    """Open the page of a clinic that differs by its hours alone."""

    def answer(route: Route) -> None:
        text = (site.folder / path_of(*ARM) / "index.html").read_text()
        assert 'data-hours="0,4,08:00,16:30"' in text
        route.fulfill(content_type="text/html", body=text.replace("0,4,08:00,16:30", hours))

    phone.route(site.page(*ARM), answer)
    phone.goto(site.page(*ARM))


@pytest.mark.parametrize(("moment", "first"), [("2026-11-28T15:00:00Z", DAY), ("2026-11-29T15:00:00Z", NIGHT)])
def test_a_clinic_open_on_saturday_is_not_called_on_sunday(phone: Page, site: Site, moment: str, first: str) -> None:
    """28 November 2026 is a Saturday."""
    phone.clock.install(time=moment)
    with_hours(phone, site, "0,4,08:00,16:30 5,5,09:00,12:00")

    assert phone.locator("#page .calls a").first.get_attribute("href") == first


def test_a_clinic_open_all_day_is_called_after_midnight_on_a_phone_that_calls_it_24_too(phone: Page, site: Site) -> None:
    phone.add_init_script(MIDNIGHT_IS_24)
    phone.clock.install(time="2026-11-25T05:10:00Z")
    with_hours(phone, site, "0,6,00:00,23:59")

    assert phone.locator("#page .calls a").first.get_attribute("href") == DAY


def test_a_page_left_open_from_noon_to_night_shows_the_number_that_answers_then(phone: Page, site: Site) -> None:
    phone.clock.install(time="2026-11-25T18:00:00Z")
    phone.goto(site.page(*ARM), wait_until="networkidle")
    assert [link.get_attribute("href") for link in phone.locator(".quick a:visible").all()] == [DAY]

    phone.clock.fast_forward("14:00:00")

    assert [link.get_attribute("href") for link in phone.locator(".quick a:visible").all()] == [NIGHT]
    assert phone.locator("#page .calls a").first.get_attribute("href") == NIGHT


@pytest.mark.parametrize(
    "event", ["window.dispatchEvent(new Event('pageshow'))", "document.dispatchEvent(new Event('visibilitychange'))"]
)
def test_a_page_taken_up_again_at_night_shows_the_number_that_answers_then_at_once(phone: Page, site: Site, event: str) -> None:
    """A phone stops the clocks of pages that nobody sees, and shows them again as they were."""
    phone.clock.install(time="2026-11-25T18:00:00Z")
    phone.goto(site.page(*ARM))
    expect(phone.locator("#larger")).to_be_visible()
    phone.clock.set_system_time("2026-11-26T08:00:00Z")

    phone.evaluate(event)

    assert [link.get_attribute("href") for link in phone.locator(".quick a:visible").all()] == [NIGHT]


def test_while_the_same_number_answers_nothing_is_taken_from_under_the_reader(phone: Page, site: Site) -> None:
    """A part that is moved, be it to where it was, loses the focus (DOM Standard, insert; HTML Standard, focus fixup)."""
    phone.clock.install(time="2026-11-25T18:00:00Z")
    phone.goto(site.page(*ARM), wait_until="networkidle")
    number = phone.locator("#page .calls a").first
    number.focus()

    phone.clock.fast_forward("10:00")

    expect(number).to_be_focused()


def test_a_phone_that_does_not_know_the_clinics_time_zone_shows_both_numbers_and_still_checks(phone: Page, site: Site) -> None:
    """As ECMA-402 says for a time zone it does not know: the constructor throws a RangeError."""
    phone.add_init_script(
        "const Known = Intl.DateTimeFormat; Intl.DateTimeFormat = function (tag, asked) {"
        " if (asked && asked.timeZone) throw new RangeError('unknown'); return new Known(tag, asked); }"
    )
    phone.goto(site.page(*ARM))

    expect(phone.locator("#larger")).to_be_visible()
    assert [link.get_attribute("href") for link in phone.locator(".quick a:visible").all()] == [DAY, NIGHT]
    assert phone.locator("#times").is_hidden()
    phone.click("#walk-start")
    expect(phone.locator("#walk-ask")).to_be_visible()
