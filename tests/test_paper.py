"""Tests that printing refuses unsound sheets; tests/outside has those of accessibility."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from aftercare.desk import Desk
from aftercare.errors import Fault, Refused
from aftercare.language.languages import LANGUAGES
from aftercare.library.clinic import Paper
from aftercare.page import pdf
from aftercare.page.paper import MOST_SIDES, Size
from aftercare.page.pdf import render_pdf
from aftercare.page.printer import SheetPrinter
from aftercare.page.stylesheet import pictogram_rules, stylesheet
from aftercare.page.templates import Templates
from aftercare.places import find_places
from tests.desk_world import clinic_home
from tests.phone_world import TEMPLATES, demo_desk
from tests.printed import ARM, text_of

ENGLISH = LANGUAGES["en"]
STYLE_FILE = find_places().templates / "paper" / "page.css"
STYLE = TEMPLATES.text("paper/page.css")


def page(body: str) -> str:
    return f'<!doctype html><html lang="en"><head><title>A sheet</title></head><body>{body}</body></html>'


def printed(body: str, templates: Templates = TEMPLATES) -> bytes:
    """A page with this body as PDF, without pictograms."""
    return render_pdf(page(body), stylesheet(ENGLISH, Paper.LETTER, templates, ""), ENGLISH).pdf


def faults(refused: Refused) -> list[Fault]:
    return [problem.fault for problem in refused.problems]


def restyled(folder: Path, style: str) -> Templates:
    """The templates with another stylesheet of the sheet."""
    shutil.copytree(find_places().templates, folder / "templates")
    (folder / "templates" / "paper" / "page.css").write_text(style, encoding="utf-8")
    return Templates(folder / "templates")


@contextmanager
def recording_server() -> Iterator[tuple[str, list[str]]]:
    """The address of a server on this machine, and the paths of the requests it has received."""
    requested: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            requested.append(self.path)
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_: object) -> None:
            pass

    with ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}", requested
        server.shutdown()
        thread.join()


# ---- what is refused ----


def test_a_character_that_no_font_of_the_language_draws_is_refused_by_name() -> None:
    with pytest.raises(Refused) as refused:
        printed("<p>Call 漢 now ☎</p>")
    assert faults(refused.value) == [Fault.NO_FONT]
    (problem,) = refused.value.problems
    assert problem.subject == ("☎ (U+260E)", "漢 (U+6F22)")
    assert "has '☎ (U+260E)', '漢 (U+6F22)'." in problem.sentence()


def test_a_clinic_whose_name_cannot_be_drawn_is_refused(tmp_path: Path) -> None:
    desk = Desk.open(find_places(), clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", "Tern 漢 Clinic")))
    choices = desk.choose(ARM)
    with pytest.raises(Refused) as refused:
        desk.print_sheet(choices, "en", Paper.LETTER)
    assert faults(refused.value) == [Fault.NO_FONT]


@pytest.mark.parametrize("rule", ["p { colr: red }", "p { color: }", "p:wrong { color: red }"])
def test_a_stylesheet_with_warnings_of_the_engine_is_refused_each_time(tmp_path: Path, rule: str) -> None:
    templates = restyled(tmp_path, STYLE + rule)
    for _ in range(2):
        with pytest.raises(Refused) as refused:
            printed("<p>Words</p>", templates)
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}


@pytest.mark.parametrize("source", ["missing.png", "data:image/png;base64,AAAA", STYLE_FILE.as_uri()])
def test_a_picture_that_cannot_be_loaded_is_refused(source: str) -> None:
    with pytest.raises(Refused) as refused:
        printed(f'<img alt="A cast" src="{source}">')
    assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}


def test_no_address_on_the_network_is_fetched_for_a_page() -> None:
    with recording_server() as (site, requested):
        with pytest.raises(Refused) as refused:
            printed(f'<img alt="A cast" src="{site}/a.png"><link rel="stylesheet" href="{site}/b.css">')
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}
    assert requested == []


def test_no_address_on_the_network_is_fetched_for_a_stylesheet(tmp_path: Path) -> None:
    with recording_server() as (site, requested):
        templates = restyled(tmp_path, f"p {{ background: url({site}/a.png) }} {STYLE}")
        with pytest.raises(Refused) as refused:
            printed("<p>Words</p>", templates)
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}
    assert requested == []


def test_a_sheet_omits_the_reasons_of_advice_then_of_signs_then_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    choices = demo_desk().choose(ARM)
    translated = demo_desk().translate(choices, "en")
    advice = [p.why for section in translated.sheet.sections for p in section.passages if p.why]
    signs = [sign.why for sign in translated.sheet.groups[0].signs]

    def reasons() -> tuple[bool, bool]:
        read = text_of(demo_desk().print_sheet(choices, "en", Paper.LETTER, Size.LARGE)).replace("\n", " ")
        return any(translated.translation(why) in read for why in advice), any(
            translated.translation(why) in read for why in signs
        )

    given = []
    with pytest.raises(Refused) as refused:  # noqa: PT012 - one side fewer each time, until it is refused
        for most in range(8, 0, -1):
            monkeypatch.setitem(MOST_SIDES, Size.LARGE, most)
            given.append(reasons())

    assert list(dict.fromkeys(given)) in ([(True, True), (False, True)], [(True, True), (False, True), (False, False)])
    assert faults(refused.value) == [Fault.TOO_MANY_PAGES]


# ---- the printer ----


def test_the_same_page_gives_the_same_bytes() -> None:
    html = demo_desk().paper_html(demo_desk().translate(demo_desk().choose(ARM), "en"))
    css = stylesheet(ENGLISH, Paper.LETTER, TEMPLATES, pictogram_rules(demo_desk().library))
    first, second = (render_pdf(html, css, ENGLISH) for _ in range(2))
    assert first == second


def test_a_page_already_printed_is_cached() -> None:
    printer = SheetPrinter(TEMPLATES, "")
    first = printer.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER)
    assert printer.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER) is first
    assert printer.print(page("<p>Words</p>"), ENGLISH, Paper.A4) is not first


def test_a_refused_page_is_not_cached(monkeypatch: pytest.MonkeyPatch) -> None:
    printer = SheetPrinter(TEMPLATES, "")
    with monkeypatch.context() as fontless:
        fontless.setattr(pdf, "_drawable_characters", lambda _: frozenset())
        with pytest.raises(Refused):
            printer.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER)
    assert printer.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER).sides == 1


def test_four_threads_print_their_own_sheets_at_once() -> None:
    desk = demo_desk()
    days = [f"2027-03-0{day}" for day in range(1, 9)]
    sheets = [desk.choose(replace(ARM, applied=f"{day}T08:00", visit=f"{day}T20:00")) for day in days]

    with ThreadPoolExecutor(4) as threads:
        files = list(threads.map(lambda choices: desk.print_sheet(choices, "en", Paper.LETTER), sheets))

    for day, file in zip(range(1, 9), files, strict=True):
        with pikepdf.open(BytesIO(file)) as opened:
            assert len(opened.pages) == 2
        assert f"March {day}, 8:00 PM" in text_of(file)
