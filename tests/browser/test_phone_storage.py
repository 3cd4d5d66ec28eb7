"""What phones have stored for published pages stays readable: the names of stored values and pages never change."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.phone_dates import shown_dates
from tests.browser.phone_site_updates import wait_until_stored
from tests.phone_world import ARM, Site

STORED = {
    "aftercare times SAF": "2026-11-25T14:30|2026-12-02T09:00",
    "aftercare size": "large",
    "aftercare seen en SAF": "AAAAAA",
}


def test_values_stored_by_earlier_pages_are_read(phone: Page, site: Site) -> None:
    phone.goto(f"{site.address}robots.txt")
    phone.evaluate("stored => { for (const key in stored) localStorage.setItem(key, stored[key]) }", STORED)

    phone.goto(site.page(*ARM))

    expect(phone.locator(".dates [data-time=visit]")).to_be_visible()
    assert set(shown_dates(phone)) == {"ice_until", "raise_until", "dry_by", "visit"}
    assert "large" in (phone.locator("html").get_attribute("class") or "").split()
    expect(phone.locator("#changed")).to_be_visible()


def test_nothing_else_is_stored(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    phone.click("#larger")
    phone.click("#times summary")
    phone.fill("#applied", "2026-11-25T14:30")
    phone.click("#times form button")

    assert set(phone.evaluate("Object.keys(localStorage)")) == set(STORED)


def test_pages_are_stored_under_the_name_and_scope_of_earlier_workers(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    wait_until_stored(phone)

    assert phone.evaluate("caches.keys()") == [f"aftercare {site.address}EN/"]
