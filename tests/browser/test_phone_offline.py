"""Again without a network; newer, earlier and withdrawn advice; and the page read aloud."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from aftercare.language.languages import LANGUAGES
from aftercare.sheet.address import fragment
from tests.browser.phone_site_updates import STORED, wait_until, wait_until_stored, with_news
from tests.phone_world import ARM, LEG, Site, basis, demo_desk, path_of, publish_demo, served, sheets

CODE = fragment(basis(*ARM))


def test_a_page_opened_once_opens_again_without_a_network_with_everything_it_can_do(
    phone: Page, tmp_path: Path, site: Site
) -> None:
    shutil.copytree(site.folder, tmp_path / "site")
    with served(tmp_path / "site") as own:
        phone.goto(f"{own.page(*ARM)}#{CODE}")
        wait_until_stored(phone)
        phone.click("#times summary")
        phone.fill("#applied", "2026-11-25T14:30")
        phone.click("#times form button")
        address = own.page(*ARM)
    # The server is gone, socket and all.
    phone.goto("about:blank")
    phone.goto(f"{address}#{CODE}")

    expect(phone.locator("#danger")).to_be_visible()
    assert phone.locator(".if:visible").count() == 0
    expect(phone.locator(".dates li:visible").first).to_be_visible()
    phone.click("#walk-start")
    phone.click("#walk-yes")
    expect(phone.locator("#walk .calls a:visible").first).to_be_visible()


def test_a_page_never_opened_does_not_open_without_a_network(phone: Page, tmp_path: Path, site: Site) -> None:
    """The check of the check above: without the worker's store the same steps must fail."""
    shutil.copytree(site.folder, tmp_path / "site")
    with served(tmp_path / "site") as own:
        phone.goto(own.page(*ARM))
        wait_until_stored(phone)
        other = own.page(*LEG)

    with pytest.raises(Exception, match="ERR_"):
        phone.goto(other)


def test_losing_the_network_says_that_the_page_still_works(phone: Page, context: BrowserContext, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    assert phone.locator("#offline").is_hidden()

    context.set_offline(True)

    expect(phone.locator("#offline")).to_be_visible()
    context.set_offline(False)
    expect(phone.locator("#offline")).to_be_hidden()


def test_a_page_opened_where_there_is_no_network_says_so(phone: Page, context: BrowserContext, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    context.set_offline(True)

    phone.reload()

    expect(phone.locator("#offline")).to_be_visible()


def test_after_the_clinic_publishes_the_phone_shows_the_newer_advice_and_says_so(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    publish_demo(own.folder, with_news(sheets(), "NEWER7"))

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    expect(phone.locator(".lead")).to_have_text("News of NEWER7.")
    expect(phone.locator("#changed")).to_be_visible()


def test_a_window_that_shows_older_advice_is_told_and_led_to_the_newer(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    publish_demo(own.folder, with_news(sheets(), "NEWER7"))
    assert phone.locator("#newer").is_hidden()

    phone.evaluate("navigator.serviceWorker.getRegistration().then(found => found.update()).then(() => true)")

    expect(phone.locator("#newer")).to_be_visible()
    phone.click("#reload")
    expect(phone.locator(".lead")).to_have_text("News of NEWER7.")


def test_offline_copies_are_renewed_when_the_clinic_publishes(phone: Page, tmp_path: Path, site: Site) -> None:
    shutil.copytree(site.folder, tmp_path / "site")
    with served(tmp_path / "site") as own:
        phone.goto(own.page(*LEG))
        wait_until_stored(phone)
        phone.goto(own.page(*ARM))
        expect(phone.locator("#times")).to_be_visible()
        publish_demo(own.folder, with_news(sheets(), "NEWER7"))
        phone.goto(own.page(*ARM))
        # Opening one page brings the new worker, which renews the other.
        wait_until(phone, STORED, 'data-code="WCF" data-edition="NEWER7"')
        address = own.page(*LEG)
    phone.goto(address)

    expect(phone.locator(".lead")).to_have_text("News of NEWER7.")


def test_paper_of_an_earlier_edition_is_told_that_the_advice_has_changed(phone: Page, site: Site) -> None:
    phone.goto(f"{site.page(*ARM)}#{CODE}-AAAAAA")

    expect(phone.locator("#changed")).to_be_visible()
    assert phone.locator(".if:visible").count() == 0


def test_earlier_paper_is_told_so_by_a_phone_that_has_seen_the_newer_advice_too(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    expect(phone.locator("#times")).to_be_visible()

    phone.goto("about:blank")
    phone.goto(f"{site.page(*ARM)}#{CODE}-AAAAAA")

    expect(phone.locator("#changed")).to_be_visible()


@pytest.mark.parametrize("other", [("short-arm-cast", "fiberglass", "es"), ("short-leg-walking-cast", "fiberglass", "en")])
def test_another_sheet_or_language_is_not_taken_for_a_newer_edition(
    phone: Page, own: Site, other: tuple[str, str, str]
) -> None:
    changed = [
        replace(
            sheet,
            translated={
                tag: replace(translated, edition=f"{tag}{sheet.code}".upper()) for tag, translated in sheet.translated.items()
            },
        )
        for sheet in sheets()
    ]
    publish_demo(own.folder, changed)
    phone.goto(own.page(*ARM))
    expect(phone.locator("#times")).to_be_visible()

    phone.goto(own.page(*other))

    expect(phone.locator("#times")).to_be_visible()
    assert phone.locator("#changed").is_hidden()


def test_paper_of_the_present_edition_is_told_nothing(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    edition = phone.evaluate("document.documentElement.dataset.edition")

    phone.goto("about:blank")
    phone.goto(f"{site.page(*ARM)}#{CODE}-{edition}")

    expect(phone.locator("#times")).to_be_visible()
    assert phone.locator("#changed").is_hidden()


def test_the_edition_is_not_taken_along_to_another_language(phone: Page, site: Site) -> None:
    """Each language has its own editions; the code itself goes along."""
    phone.goto(f"{site.page(*ARM)}#{CODE}-AAAAAA")

    phone.get_by_role("link", name="Español").click()

    phone.wait_for_url(f"{site.page(*ARM, 'es')}#{CODE}")
    expect(phone.locator("#times")).to_be_visible()
    assert phone.locator("#changed").is_hidden()


def test_an_earlier_edition_stays_readable_says_so_and_leads_to_the_present_one(phone: Page, own: Site) -> None:
    edition = next(sheet.translated["en"].edition for sheet in sheets() if sheet.code == "SAF")
    publish_demo(own.folder, with_news(sheets(), "NEWER7"))

    phone.goto(f"{own.address}archive/{edition}/{path_of(*ARM)}#{CODE}")

    expect(phone.locator("#earlier")).to_be_visible()
    expect(phone.locator("#times")).to_be_visible()  # its own script still fits it
    assert phone.evaluate("navigator.serviceWorker.getRegistrations().then(found => found.length)") == 0
    phone.locator("#earlier a").click()
    phone.wait_for_url(f"{own.page(*ARM)}**")
    expect(phone.locator(".lead")).to_have_text("News of NEWER7.")


def test_an_earlier_edition_never_says_that_it_is_newer_nor_makes_the_present_one_look_so(phone: Page, own: Site) -> None:
    edition = next(sheet.translated["en"].edition for sheet in sheets() if sheet.code == "SAF")
    publish_demo(own.folder, with_news(sheets(), "NEWER7"))
    phone.goto(own.page(*ARM))
    expect(phone.locator("#times")).to_be_visible()

    phone.goto(f"{own.address}archive/{edition}/{path_of(*ARM)}")
    expect(phone.locator("#earlier")).to_be_visible()
    expect(phone.locator("#times")).to_be_visible()
    assert phone.locator("#changed").is_hidden()

    phone.goto(own.page(*ARM))
    expect(phone.locator("#times")).to_be_visible()
    assert phone.locator("#changed").is_hidden()


@pytest.mark.parametrize("tag", LANGUAGES)
def test_a_withdrawn_code_says_so_and_gives_the_clinics_numbers(phone: Page, own: Site, tag: str) -> None:
    address = own.page(*LEG, tag)
    publish_demo(own.folder, sheets(("short-arm-cast",)))

    phone.goto(f"{address}#{CODE}")

    expect(phone.locator("h1")).to_have_text("Sheet no longer in use")
    expect(phone.locator(".lead")).to_contain_text("go to the emergency room now")
    assert [link.get_attribute("hreflang") for link in phone.locator(".langs a").all()] == list(LANGUAGES)
    assert phone.locator("html").get_attribute("lang") == tag
    assert [link.get_attribute("href") for link in phone.locator(".calls a").all()] == [
        "tel:+1-202-555-0143",
        "tel:+1-202-555-0178",
        "tel:911",
    ]


def test_a_withdrawn_code_says_so_to_a_phone_that_kept_the_old_page(phone: Page, own: Site) -> None:
    phone.goto(own.page(*LEG))
    wait_until_stored(phone)
    publish_demo(own.folder, sheets(("short-arm-cast",)))

    phone.goto("about:blank")
    phone.goto(own.page(*LEG))

    expect(phone.locator("h1")).to_have_text("Sheet no longer in use")


def test_an_error_of_the_host_never_replaces_the_kept_page(phone: Page, own: Site) -> None:
    phone.goto(own.page(*ARM))
    wait_until_stored(phone)
    (own.folder / path_of(*ARM) / "index.html").unlink()

    phone.goto("about:blank")
    phone.goto(own.page(*ARM))

    expect(phone.locator("#danger")).to_be_visible()


@pytest.mark.parametrize("tag", LANGUAGES)
def test_each_language_has_a_manifest_a_phone_accepts(site: Site, tag: str) -> None:
    """W3C Web Application Manifest: its required members; 12 letters fit under an icon (from memory)."""
    folder = site.folder / LANGUAGES[tag].path
    manifest = json.loads((folder / "manifest.webmanifest").read_text())

    assert (manifest["lang"], manifest["dir"], manifest["display"]) == (tag, LANGUAGES[tag].direction, "standalone")
    assert "Tern Harbour" in manifest["name"]
    assert len(manifest["short_name"]) <= 12
    assert (folder / manifest["icons"][0]["src"]).is_file()


def test_the_browser_finds_no_fault_with_the_manifest(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))

    session = phone.context.new_cdp_session(phone)
    assert session.send("Page.getAppManifest")["errors"] == []


def test_a_changed_script_beside_the_page_is_refused_and_the_page_stays_whole(browser: Browser, own: Site) -> None:
    """Subresource integrity: the page takes the file it was made with or none."""
    (own.folder / demo_desk().frame.assets.deferred.path).write_text("document.title = 'changed'")
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{own.page(*ARM)}#{CODE}", wait_until="networkidle")

    assert page.title() != "changed"
    assert page.locator(".if:visible").count() == 0
    assert page.locator(".tools, #times").filter(visible=True).count() == 0
    context.close()


# A phone with one voice, which says what it is given and notes it.
VOICE = """(() => {
  const heard = [];
  const voices = [{lang: 'en-US', name: 'Test'}];
  Object.defineProperty(window, 'SpeechSynthesisUtterance', {value: function (text) { this.text = text }});
  Object.defineProperty(window, 'speechSynthesis', {value: {
    getVoices: () => voices, cancel() { heard.push('(stopped)') }, addEventListener() {},
    speak(said) { heard.push(said.text.trim()); setTimeout(() => { if (!window.hold) said.onend() }, 0) },
  }});
  window.heard = heard;
})()"""


def test_without_a_voice_for_the_language_nothing_is_offered(phone: Page, site: Site) -> None:
    phone.add_init_script(VOICE)
    phone.goto(site.page(*ARM, "ar"))

    expect(phone.locator("#larger")).to_be_visible()
    assert phone.locator("#aloud").is_hidden()


def test_the_page_is_read_sentence_by_sentence_each_marked_while_it_is_said(phone: Page, site: Site) -> None:
    phone.add_init_script(VOICE)
    phone.goto(f"{site.page(*ARM)}#{CODE}")
    text = phone.locator("#page h1").inner_text()
    phone.evaluate("window.hold = true")

    phone.click("#aloud")

    assert phone.evaluate("heard") == [text]
    assert phone.locator(".said").inner_text() == text
    expect(phone.locator("#aloud")).to_have_text("Stop")
    phone.click("#aloud")
    assert phone.locator(".said").count() == 0
    expect(phone.locator("#aloud")).to_have_text("Read aloud")


def test_what_is_read_is_what_is_seen_and_no_sentence_is_lost(phone: Page, site: Site) -> None:
    phone.add_init_script(VOICE)
    phone.goto(f"{site.page(*ARM)}#{CODE}")
    blocks = (
        "#page h1, #page section h2, #page h3, #page .lead, #page .sign, #page .why, #page .calls a > span, #page .dates li,"
        " #page .passage p, #page .passage li"
    )
    phone.click("#times summary")
    phone.fill("#applied", "2026-11-25T14:30")
    phone.click("#times form button")
    seen = [" ".join(text.split()) for text in phone.locator(blocks).filter(visible=True).all_inner_texts()]

    phone.click("#aloud")
    expect(phone.locator("#aloud")).to_have_text("Read aloud", timeout=20_000)
    assert any("(202) 555-0178" in text for text in seen)
    assert any("November" in text for text in seen)

    heard = [" ".join(text.split()) for text in phone.evaluate("heard")]
    assert " ".join(heard) == " ".join(seen)
    assert all(sentence.count(". ") == 0 for sentence in heard)
    assert [" ".join(text.split()) for text in phone.locator(blocks).filter(visible=True).all_inner_texts()] == seen
