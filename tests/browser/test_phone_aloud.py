"""The page read aloud: when it is offered, when it stops, and what is said in which voice; and the page printed."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.phone_world import Site

# A phone whose voices a test gives, and which finishes or fails what it says when the test says so.
PHONE = """(() => {
  window.voices = [{lang: 'es-ES', name: 'first'}, {lang: 'EN_us', name: 'second'}];
  window.said = [];
  window.stopped = 0;
  window.listeners = [];
  window.printed = 0;
  window.print = () => { printed++ };
  Object.defineProperty(window, 'SpeechSynthesisUtterance', {value: function (text) { this.text = text }});
  Object.defineProperty(window, 'speechSynthesis', {value: {
    getVoices: () => voices, cancel() { stopped++ }, addEventListener(name, heard) { listeners.push([name, heard]) },
    speak(utterance) { said.push(utterance) },
  }});
})()"""


@pytest.fixture
def talking(phone: Page, site: Site) -> Page:
    """The page on such a phone."""
    phone.add_init_script(PHONE)
    phone.goto(site.page())
    expect(phone.locator("#aloud")).to_be_visible()
    return phone


def heard(phone: Page) -> list[str]:
    texts: list[str] = phone.evaluate("said.map(one => one.text.trim())")
    return texts


def test_it_is_said_in_a_voice_of_the_pages_language_however_the_phone_writes_that(talking: Page) -> None:
    """BCP 47 has a hyphen and no case; some phones write an underscore (from memory)."""
    talking.click("#aloud")

    assert talking.evaluate("[said[0].voice.name, said[0].lang]") == ["second", "EN_us"]


def test_it_is_offered_once_the_phone_has_found_its_voices(phone: Page, site: Site) -> None:
    """Web Speech API, 4.2.2: the list may be empty at first; voiceschanged tells when it is not."""
    phone.add_init_script(f"{PHONE}; window.found = voices; window.voices = []")
    phone.goto(site.page())
    expect(phone.locator("#larger")).to_be_visible()
    assert phone.locator("#aloud").is_hidden()

    phone.evaluate("voices = found; listeners.forEach(([name, heard]) => { if (name === 'voiceschanged') heard() })")

    expect(phone.locator("#aloud")).to_be_visible()


def test_questions_and_calls_and_arabic_sentences_are_said_one_by_one(talking: Page) -> None:
    talking.evaluate("document.querySelector('.lead').textContent = 'Is it blue? Call! هل يؤلمك؟ اتصل الآن.'")
    talking.click("#aloud")

    talking.evaluate("for (let at = 0; at < said.length; at++) said[at].onend()")

    all_said = heard(talking)
    place = all_said.index("Is it blue?")
    assert all_said[place : place + 4] == ["Is it blue?", "Call!", "هل يؤلمك؟", "اتصل الآن."]


def test_a_sentence_the_voice_fails_at_is_passed_over(talking: Page) -> None:
    talking.click("#aloud")

    talking.evaluate("said[0].onerror()")

    assert len(heard(talking)) == 2


def test_what_was_stopped_does_not_go_on_beside_what_was_started_again(talking: Page) -> None:
    """Web Speech API, 4.2.4: a sentence that is cancelled still ends, or fails, some time later."""
    talking.click("#aloud")
    talking.evaluate("said[0].onend()")
    talking.click("#aloud")
    talking.click("#aloud")
    first, second, again = heard(talking)

    talking.evaluate("said[1].onend()")

    assert heard(talking) == [first, second, again]
    assert talking.locator(".said").inner_text() == again == first


def test_a_late_end_of_a_stopped_sentence_is_not_taken_for_that_of_the_same_sentence_said_again(talking: Page) -> None:
    talking.click("#aloud")
    talking.click("#aloud")
    talking.click("#aloud")
    first, again = heard(talking)

    talking.evaluate("said[0].onend()")

    assert heard(talking) == [first, again]
    assert first == again


@pytest.mark.parametrize("leaving", ["document.getElementById('walk-start').click()", "dispatchEvent(new Event('pagehide'))"])
def test_it_falls_silent_where_the_check_begins_and_where_the_page_is_left(talking: Page, leaving: str) -> None:
    talking.click("#aloud")
    assert talking.evaluate("stopped") == 0

    talking.evaluate(leaving)

    assert talking.evaluate("stopped") == 1
    assert talking.locator(".said").count() == 0


def test_the_page_is_printed_at_a_tap(talking: Page) -> None:
    talking.click("#print")

    assert talking.evaluate("printed") == 1
