"""One browser, one published phone site and one desk for the tests of a process."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.desk_room import Room, chromium, running
from tests.desk_world import demo_desk
from tests.phone_world import Site, publish_demo, served, sheets


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The demo clinic's phone site with a few devices."""
    folder: Path = tmp_path_factory.mktemp("phone-site")
    publish_demo(folder, sheets())
    with served(folder) as served_site:
        yield served_site


@pytest.fixture
def own(tmp_path: Path, site: Site) -> Iterator[Site]:
    """A copy of the site for one test, which may change its files and let its host answer otherwise."""
    shutil.copytree(site.folder, tmp_path / "site", symlinks=True)
    with served(tmp_path / "site") as copy:
        yield copy


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A small phone that has seen nothing yet."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
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


@pytest.fixture
def room() -> Iterator[Room]:
    """The demo clinic's desk, running, with an empty log."""
    with running(demo_desk()) as running_desk:
        yield running_desk


@pytest.fixture
def desk(browser: Browser, room: Room) -> Iterator[Page]:
    """The empty desk on a desktop screen; a script error or anything the policy blocked fails the test that met it."""
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
