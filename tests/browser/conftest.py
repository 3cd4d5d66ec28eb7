"""One browser and one published phone site for the tests of a process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.desk_room import chromium
from tests.phone_world import Site, publish_demo, served, sheets


@pytest.fixture(scope="session")
def phone_browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The demo clinic's phone site with a few devices."""
    folder: Path = tmp_path_factory.mktemp("phone-site")
    publish_demo(folder, sheets())
    with served(folder) as found:
        yield found


@pytest.fixture
def context(phone_browser: Browser) -> Iterator[BrowserContext]:
    """A small phone that has seen nothing yet."""
    context = phone_browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    yield context
    cookies = context.cookies()
    context.close()
    assert cookies == []


@pytest.fixture
def phone(context: BrowserContext) -> Iterator[Page]:
    """A page of that phone; a script error or anything the policy blocked fails the test that met it."""
    page = context.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: wrong.append(message.text) if "Content Security Policy" in message.text else None)
    yield page
    assert wrong == []
