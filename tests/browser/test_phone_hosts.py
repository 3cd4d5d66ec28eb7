"""Hosts and networks that answer oddly: whatever comes in a page's place, the advice a phone keeps stays whole and new."""

from __future__ import annotations

import shutil
import threading
from http.server import SimpleHTTPRequestHandler
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.phone_site_updates import wait_until_stored, with_news
from tests.phone_world import ARM, LEG, Answer, Site, demo_desk, path_of, publish_demo, served, sheets


def saying(status: int, text: str, **headers: str) -> Answer:
    """An answer of the host's own."""

    def answer(asked: SimpleHTTPRequestHandler) -> None:
        asked.send_response(status)
        for name, value in {"Content-Type": "text/html; charset=utf-8", **headers}.items():
            asked.send_header(name.replace("_", "-"), value)
        asked.end_headers()
        asked.wfile.write(text.encode())

    return answer


def page_text(site: Site, device: tuple[str, str] = ARM) -> str:
    return (site.folder / path_of(*device) / "index.html").read_text(encoding="utf-8")


def test_the_sign_in_page_of_a_network_is_not_taken_for_the_advice(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    own.instead[f"/{path_of(*ARM)}"] = saying(200, "<!doctype html><title>Welcome</title><p>Sign in to use this network.")

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    expect(phone.locator("#danger")).to_be_visible()


def test_a_page_led_to_from_elsewhere_is_not_taken_for_the_one_asked_for(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    own.instead[f"/{path_of(*ARM)}"] = saying(302, "", Location=f"/{path_of(*LEG)}")

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    assert phone.evaluate("document.documentElement.dataset.code") == "SAF"


def test_a_page_that_comes_with_an_error_is_not_kept(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    own.instead[f"/{path_of(*ARM)}"] = saying(503, page_text(own, LEG))

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    assert phone.evaluate("document.documentElement.dataset.code") == "SAF"


def test_an_address_of_no_sheet_shows_what_the_host_says_of_it(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)

    answer = phone.goto(f"{own.address}EN/NONE/")

    assert answer
    assert answer.status == 404


def test_a_host_that_takes_too_long_keeps_nobody_waiting_for_the_kept_page(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    over = threading.Event()
    own.instead[f"/{path_of(*ARM)}"] = lambda asked: (over.wait(30), saying(200, page_text(own))(asked))[1]
    phone.goto("about:blank")

    try:
        phone.goto(own.page(*ARM), wait_until="commit", timeout=10_000)
        expect(phone.locator("#danger")).to_be_visible()
    finally:
        over.set()


def test_advice_that_a_host_lets_browsers_keep_for_an_hour_is_renewed_all_the_same(phone: Page, own: Site) -> None:
    """RFC 9111, section 5.2.2.1: within max-age a browser may answer from its own store without asking."""
    path = f"/{path_of(*ARM)}"
    own.instead[path] = lambda asked: saying(200, page_text(own), Cache_Control="max-age=3600")(asked)
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    publish_demo(own.folder, with_news(sheets(), "NEWER7"))

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    expect(phone.locator(".lead")).to_have_text("News of NEWER7.")


def test_only_the_window_whose_page_has_changed_is_told(phone: Page, context: BrowserContext, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    other = context.new_page()
    other.goto(own.page(*LEG))
    wait_until_stored(other)
    before = sheets()
    publish_demo(
        own.folder, [new if new.code == "SAF" else old for old, new in zip(before, with_news(before, "NEWER7"), strict=True)]
    )

    other.evaluate("navigator.serviceWorker.getRegistration().then(found => found.update()).then(() => true)")

    expect(phone.locator("#newer")).to_be_visible()
    assert other.locator("#newer").is_hidden()


def test_an_address_with_something_added_opens_the_kept_page(phone: Page, tmp_path: Path, site: Site) -> None:
    """As links that pass through mail and messages have."""
    shutil.copytree(site.folder, tmp_path / "site")
    with served(tmp_path / "site") as own:
        phone.goto(own.page(*ARM))
        wait_until_stored(phone)
        address = own.page(*ARM)
    phone.goto("about:blank")

    phone.goto(f"{address}?from=mail")

    expect(phone.locator("#danger")).to_be_visible()


def test_a_script_that_was_missing_once_is_not_missed_for_good(phone: Page, own: Site) -> None:
    """As while a newer site is being copied to a host, its pages before its script."""
    script = own.folder / demo_desk().frame.assets.deferred.path
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    newer = "more-00000000000a.js"
    own.instead[f"/{path_of(*ARM)}"] = saying(200, page_text(own).replace(script.name, newer))
    phone.goto("about:blank")
    phone.goto(own.page(*ARM))
    expect(phone.locator("#walk-start")).to_be_hidden()
    shutil.copy(script, own.folder / newer)

    phone.reload()

    expect(phone.locator("#larger")).to_be_visible()
