"""Phone pages stored for use without a network, and newer editions of the site they come from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from playwright.sync_api import Page

from aftercare.site.pages import SheetInLanguages


def wait_until(phone: Page, condition: str, argument: str = "") -> None:
    """Evaluate a condition on the page again and again, for at most ten seconds, until it is true."""
    for _ in range(100):
        if phone.evaluate(condition, argument):
            return
        phone.wait_for_timeout(100)
    pytest.fail(f"never became true: {condition}")


# Whether a worker controls this page and has stored a page that contains `text`, and a script.
STORED = """async text => {
  for (const name of await caches.keys()) {
    const store = await caches.open(name), requests = await store.keys();
    const texts = await Promise.all(requests.map(request => store.match(request).then(answer => answer.text())));
    if (requests.some((request, at) => request.url.endsWith('/') && texts[at].includes(text))
        && requests.some(request => request.url.endsWith('.js')))
      return navigator.serviceWorker.controller !== null;
  }
  return false;
}"""


def wait_until_stored(phone: Page) -> None:
    """Wait until the worker controls this page and has stored it."""
    wait_until(phone, STORED, f'data-code="{phone.evaluate("document.documentElement.dataset.code")}"')


def with_news(sheets: Iterable[SheetInLanguages], edition: str) -> list[SheetInLanguages]:
    """The sheets as another edition, with the main message of each changed."""
    changed = []
    for sheet in sheets:
        translated = {}
        for tag, in_language in sheet.translated.items():
            main_message = in_language.sheet.labels["main_message"].message
            translations = {**in_language.translations, main_message: f"News of {edition}."}
            translated[tag] = replace(in_language, translations=translations, edition=edition)
        changed.append(replace(sheet, translated=translated))
    return changed
