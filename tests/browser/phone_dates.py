"""The form for dates on a phone page, and the dates it then shows."""

from __future__ import annotations

from playwright.sync_api import Page


def enter_dates(phone: Page, applied: str, visit: str = "") -> None:
    """Enter when it was put on and the next visit, each as `2026-11-25T14:30` or empty, and save them."""
    phone.evaluate("document.getElementById('times').open = true")
    phone.fill("#applied", applied)
    phone.fill("#visit", visit)
    phone.click("#times form button")


def shown_dates(phone: Page) -> dict[str, str]:
    """Each visible date by its name, with ordinary blanks."""
    rows = phone.locator(".dates li:visible").all()
    return {row.get_attribute("data-time") or "": " ".join(row.locator("b").inner_text().split()) for row in rows}
