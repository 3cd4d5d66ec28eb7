"""The whole phone site of the demo clinic, in every language: weight, links, headers, and what a changed sentence rewrites."""

from __future__ import annotations

import gzip
import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from urllib.parse import urljoin

import lxml.html
import pytest

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES
from aftercare.places import find_places
from aftercare.site.pages import SheetInLanguages
from aftercare.site.publish import WITHDRAWN, Page
from aftercare.site.site_files import HEADERS, headers, site_files, withdrawn, worker
from tests.phone_world import TEMPLATES, at_path, change_a_sentence, demo_desk, sheets

# One round trip of a new connection carries ten segments of 1,460 bytes (RFC 6928); pictures included.
ONE_ROUND_TRIP = 14_600


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    folder = tmp_path_factory.mktemp("whole-site")
    demo_desk().publish(folder)
    yield folder
    shutil.rmtree(folder)


def test_every_page_of_every_language_fits_one_round_trip(site: Path) -> None:
    weights = {path.parent: len(gzip.compress(path.read_bytes())) for path in site.glob("*/*/index.html")}

    library = demo_desk().library
    sheets = sum(len(device.materials) for device in library.devices.values())
    assert len(weights) == sheets * len(library.clinic.languages)
    assert {str(path): weight for path, weight in weights.items() if weight > ONE_ROUND_TRIP} == {}


def test_every_link_of_every_page_leads_to_a_file_that_is_there(site: Path) -> None:
    for path in site.rglob("*.html"):
        for address in lxml.html.parse(str(path)).xpath("//@href | //@src"):
            if not address.startswith("tel:"):
                # The demo clinic's site is the root of its host.
                target = site / address[1:] if address.startswith("/") else path.parent / address
                assert (target / "index.html" if address.endswith("/") else target).is_file(), (path, address)


def test_search_machines_are_asked_to_stay_out(site: Path) -> None:
    assert (site / "robots.txt").read_text() == "User-agent: *\nDisallow: /\n"
    assert all('<meta name="robots" content="noindex">' in path.read_text() for path in site.rglob("*.html"))


def test_staff_find_every_sheet_with_its_code_and_edition(site: Path) -> None:
    table = lxml.html.parse(str(site / "index.html"))

    rows = table.xpath("//tbody/tr")
    codes = [row.xpath("./td[2]")[0].text for row in rows]
    assert sorted(codes) == sorted(path.name for path in (site / "EN").iterdir() if path.is_dir())
    editions = json.loads((site / ".publish/record.json").read_text())
    for row, code in zip(rows, codes, strict=True):
        assert row.xpath(".//a[@hreflang='es']")[0].text == editions[f"ES/{code}/index.html"]["edition"]


def header_rules(text: str) -> dict[str, dict[str, str]]:
    """The rules of a `_headers` file: a path on a line of its own, its headers indented below."""
    rules: dict[str, dict[str, str]] = {}
    path = ""
    for line in text.splitlines():
        if line.startswith("#") or not line:
            continue
        if line.startswith("  "):
            name, value = line.strip().split(": ", 1)
            rules[path][name] = value
        else:
            path = line
            rules[path] = {}
    return rules


def test_a_host_is_told_each_header_once_for_any_file(site: Path) -> None:
    """Static hosts join the values where two rules set one header, and a joined Cache-Control means nothing."""
    rules = header_rules((site / "_headers").read_text())

    for path in ("/", "/EN/SAF/", "/AR/worker.js", "/more-0123456789ab.js", "/archive/AAAAAA/EN/SAF/"):
        matching = [rule for pattern, rule in rules.items() if re.fullmatch(re.escape(pattern).replace(r"\*", ".*"), path)]
        names = [name for rule in matching for name in rule]
        assert sorted(names) == sorted(HEADERS), path


def test_the_headers_a_page_cannot_give_itself_are_strict() -> None:
    everywhere = header_rules(headers(LANGUAGES.values()))["/*"]

    assert everywhere["X-Content-Type-Options"] == "nosniff"
    assert everywhere["Referrer-Policy"] == "no-referrer"
    assert "frame-ancestors 'none'" in everywhere["Content-Security-Policy"]
    assert all(f"{power}=()" in everywhere["Permissions-Policy"] for power in ("camera", "microphone", "geolocation"))


def english_desk(content: Path) -> Desk:
    """The desk of a clinic that offers English alone, with its own copy of the content."""
    clinic = (content / "demo-clinic.md").read_text(encoding="utf-8")
    (content / "clinic.md").write_text(re.sub(r"languages: .*", "languages: [en]", clinic), encoding="utf-8")
    return Desk.open(replace(find_places(), content=content), content)


def test_one_changed_sentence_rewrites_only_the_pages_that_hold_it(tmp_path: Path) -> None:
    content = tmp_path / "content"
    shutil.copytree(find_places().content, content)
    english_desk(content).publish(tmp_path / "site")
    change_a_sentence(content)

    done = english_desk(content).publish(tmp_path / "site")

    patients = {path for path in done.written if path.count("/") == 2}
    holding = {
        path.relative_to(tmp_path / "site").as_posix()
        for path in (tmp_path / "site/EN").glob("*/index.html")
        if "before you fly" in path.read_text()
    }
    assert patients == holding
    assert holding
    assert {path.split("/", 2)[2] for path in done.archived} == holding
    # Besides them only what names their editions: the staff's list and the language's worker.
    assert set(done.written) - patients == {"index.html", "EN/worker.js"}


def test_a_page_whose_translation_waits_is_left_to_its_readers(site: Path, tmp_path: Path) -> None:
    shutil.copytree(site, tmp_path / "site", symlinks=True)
    content = tmp_path / "content"
    shutil.copytree(find_places().content, content)
    shutil.copy(content / "demo-clinic.md", content / "clinic.md")
    change_a_sentence(content)
    before = (tmp_path / "site/ES/SAF/index.html").read_bytes()

    done = Desk.open(replace(find_places(), content=content), content).publish(tmp_path / "site")

    assert "ES/SAF/index.html" in done.retained
    assert done.untranslated == {"es": len(done.retained) / 2, "ar": len(done.retained) / 2}
    assert done.withdrawn == ()
    assert (tmp_path / "site/ES/SAF/index.html").read_bytes() == before
    english = lxml.html.parse(str(tmp_path / "site/EN/SAF/index.html"))
    assert english.xpath("//nav//a/@hreflang") == []
    assert english.xpath("//main//li[contains(., 'before you fly')]")


def test_a_script_named_by_its_hash_may_be_kept_for_good_and_all_else_is_asked_for_anew() -> None:
    """RFC 8246 (immutable) and RFC 9111, section 5.2.2.4 (no-cache: keep it, but ask before each use)."""
    rules = header_rules(headers(LANGUAGES.values()))
    told = {path: rule["Cache-Control"] for path, rule in rules.items() if "Cache-Control" in rule}

    assert set(told.pop("/more-*").split(", ")) == {"public", "immutable", "max-age=31536000"}
    assert set(told) >= {"/", "/EN/*", "/archive/*"}
    assert set(told.values()) == {"no-cache"}


def test_the_pages_around_have_a_policy_as_strict_as_the_patients(site: Path) -> None:
    gone = withdrawn("EN/OLD/index.html", one_waiting(), demo_desk().frame)
    assert gone
    texts = [(site / path).read_text() for path in ("index.html", "EN/index.html", "AR/index.html")]

    for text in (*texts, str(gone.text)):
        policy = lxml.html.fromstring(text).xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy


def test_a_list_for_patients_gives_the_numbers_to_call_and_one_for_staff_none(site: Path) -> None:
    def called(path: str) -> list[str]:
        return [address for address in lxml.html.parse(str(site / path)).xpath("//@href") if address.startswith("tel:")]

    assert called("ES/index.html") == ["tel:+1-202-555-0143", "tel:+1-202-555-0178", "tel:911"]
    assert called("index.html") == []


def test_the_lists_are_in_the_order_of_their_names(site: Path) -> None:
    names = [link.text.strip() for link in lxml.html.parse(str(site / "EN/index.html")).xpath("//ul[@class='sheets']//a")]

    assert names == sorted(names)
    assert len(names) > 50


def test_an_installed_page_keeps_to_the_folder_of_its_language(site: Path) -> None:
    """W3C Web Application Manifest: the scope is resolved against the address of the manifest."""
    for language in LANGUAGES.values():
        address = f"https://care.example/sheets/{language.path}/manifest.webmanifest"
        scope = json.loads((site / language.path / "manifest.webmanifest").read_text())["scope"]
        assert urljoin(address, scope) == f"https://care.example/sheets/{language.path}/"


def one_waiting() -> list[SheetInLanguages]:
    """Two sheets, the first of which waits for its Spanish."""
    arm, boot = sheets(("short-arm-cast",))[0], sheets(("tall-walker-boot",))[0]
    english = {tag: translated for tag, translated in arm.translated.items() if tag != "es"}
    return [replace(arm, translated=english, untranslated={"es": ()}), boot]


def test_a_code_that_is_gone_is_withdrawn_though_another_waits_for_its_translation() -> None:
    waiting = one_waiting()
    gone = withdrawn("ES/OLD/index.html", waiting, demo_desk().frame)

    assert withdrawn(f"ES/{waiting[0].code}/index.html", waiting, demo_desk().frame) is None
    assert gone
    assert gone.edition == WITHDRAWN


def test_a_list_names_only_the_sheets_its_language_has() -> None:
    around = {page.path: page.text for page in site_files(one_waiting(), (), at_path(demo_desk().frame))}

    lists = {name: lxml.html.fromstring(around[f"{name}index.html"]) for name in ("", "EN/", "ES/")}

    assert [len(lists[name].xpath("//ul[@class='sheets']//a")) for name in ("EN/", "ES/")] == [2, 1]
    assert lists[""].xpath("count(//td[text()='waits'])") == 1


def test_a_changed_page_renews_the_worker_of_its_own_language_alone() -> None:
    def workers(spanish: str) -> list[str]:
        pages = [Page("EN/SAF/index.html", "same"), Page("ES/SAF/index.html", spanish)]
        return [worker(LANGUAGES[tag], pages, TEMPLATES) for tag in ("en", "es")]

    (english, spanish), (english_after, spanish_after) = workers("before"), workers("after")
    assert english == english_after
    assert spanish != spanish_after


def test_progress_counts_every_page_that_is_rendered(tmp_path: Path) -> None:
    desk = demo_desk()
    steps: list[tuple[int, int]] = []

    desk.publish(tmp_path, progress=lambda done, total: steps.append((done, total)))

    total = len(desk.sheets) * len(desk.clinic.languages)
    assert steps == [(done, total) for done in range(1, total + 1)]
