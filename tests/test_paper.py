"""The printed sheet refuses rather than prints anything unsound; how it looks to screen readers is tested in tests/outside."""

from __future__ import annotations

import re
import shutil
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path

import lxml.html
import pikepdf
import pytest

from aftercare.desk import Desk
from aftercare.errors import Fault, Refused
from aftercare.language.approval import approvals_text, approve
from aftercare.language.languages import LANGUAGES
from aftercare.library.clinic import Paper
from aftercare.page import pdf, stylesheet
from aftercare.page.paper import MOST_SIDES, Size
from aftercare.page.pdf import render_pdf
from aftercare.page.press import Press
from aftercare.places import find_places
from aftercare.sheet.choices import Choices
from tests.desk_world import clinic_home
from tests.phone_world import TEMPLATES, demo_desk
from tests.printed import ARM, Copy, text, text_of, words

ENGLISH = LANGUAGES["en"]
STYLE = (TEMPLATES / "paper" / "page.css").read_text(encoding="utf-8")


def page(body: str) -> str:
    return f'<!doctype html><html lang="en"><head><title>A sheet</title></head><body>{body}</body></html>'


def printed(body: str, templates: Path = TEMPLATES, pictograms: str = "") -> bytes:
    return render_pdf(page(body), ENGLISH, Paper.LETTER, templates, pictograms).pdf


def faults(refused: Refused) -> list[Fault]:
    return [problem.fault for problem in refused.problems]


def restyled(folder: Path, style: str) -> Path:
    """The templates with another stylesheet of the sheet."""
    shutil.copytree(TEMPLATES, folder / "templates")
    (folder / "templates" / "paper" / "page.css").write_text(style, encoding="utf-8")
    return folder / "templates"


@contextmanager
def eavesdropping() -> Iterator[tuple[str, list[str]]]:
    """A server on this machine, and the paths it was asked for."""
    asked: list[str] = []

    class Ear(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_: object) -> None:
            pass

    with ThreadingHTTPServer(("127.0.0.1", 0), Ear) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}", asked
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


def test_a_clinic_whose_name_cannot_be_drawn_gets_no_sheet_with_a_gap_in_it(tmp_path: Path) -> None:
    desk = Desk.open(find_places(), clinic_home(tmp_path, ("Tern Harbour Fracture Clinic", "Tern 漢 Clinic")))
    choices = desk.choose(ARM)
    with pytest.raises(Refused) as refused:
        desk.print_sheet(choices, "en", Paper.LETTER)
    assert faults(refused.value) == [Fault.NO_FONT]


@pytest.mark.parametrize("rule", ["p { colr: red }", "p { color: }", "p:wrong { color: red }"])
def test_a_stylesheet_the_engine_complains_of_is_refused_the_first_time_and_the_second(tmp_path: Path, rule: str) -> None:
    templates = restyled(tmp_path, STYLE + rule)
    for _ in range(2):
        with pytest.raises(Refused) as refused:
            printed("<p>Words</p>", templates)
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}


@pytest.mark.parametrize("source", ["missing.png", "data:image/png;base64,AAAA", (TEMPLATES / "paper" / "page.css").as_uri()])
def test_a_picture_that_cannot_be_had_is_refused(source: str) -> None:
    with pytest.raises(Refused) as refused:
        printed(f'<img alt="A cast" src="{source}">')
    assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}


def test_no_address_on_the_network_is_fetched_for_a_page() -> None:
    with eavesdropping() as (site, asked):
        with pytest.raises(Refused) as refused:
            printed(f'<img alt="A cast" src="{site}/a.png"><link rel="stylesheet" href="{site}/b.css">')
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}
    assert asked == []


def test_no_address_on_the_network_is_fetched_for_a_stylesheet(tmp_path: Path) -> None:
    with eavesdropping() as (site, asked):
        templates = restyled(tmp_path, f"p {{ background: url({site}/a.png) }} {STYLE}")
        with pytest.raises(Refused) as refused:
            printed("<p>Words</p>", templates)
        assert set(faults(refused.value)) == {Fault.ENGINE_COMPLAINED}
    assert asked == []


def test_a_sheet_gives_up_the_reasons_of_advice_then_of_signs_then_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    choices = demo_desk().choose(ARM)
    translated = demo_desk().translate(choices, "en")
    advice = [p.why for section in translated.sheet.sections for p in section.passages if p.why]
    signs = [sign.why for sign in translated.sheet.groups[0].signs]

    def reasons() -> tuple[bool, bool]:
        read = text_of(demo_desk().print_sheet(choices, "en", Paper.LETTER, Size.LARGE)).replace("\n", " ")
        return any(translated.translation(why) in read for why in advice), any(
            translated.translation(why) in read for why in signs
        )

    found = []
    with pytest.raises(Refused) as refused:  # noqa: PT012 - one side fewer each time, until it is refused
        for most in range(8, 0, -1):
            monkeypatch.setitem(MOST_SIDES, Size.LARGE, most)
            found.append(reasons())

    assert list(dict.fromkeys(found)) in ([(True, True), (False, True)], [(True, True), (False, True), (False, False)])
    assert faults(refused.value) == [Fault.TOO_MANY_PAGES]


# ---- the press ----


def test_the_same_page_gives_the_same_bytes() -> None:
    html = demo_desk().paper_html(demo_desk().choose(ARM), "en", Paper.LETTER)
    rules = stylesheet.pictogram_rules(demo_desk().library)
    first, second = (render_pdf(html, ENGLISH, Paper.LETTER, TEMPLATES, rules) for _ in range(2))
    assert first == second


def test_a_page_already_printed_comes_from_memory() -> None:
    press = Press(TEMPLATES, "")
    first = press.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER)
    assert press.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER) is first
    assert press.print(page("<p>Words</p>"), ENGLISH, Paper.A4) is not first


def test_a_refused_page_is_not_kept_as_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    press = Press(TEMPLATES, "")
    with monkeypatch.context() as fontless:
        fontless.setattr(pdf, "_drawn", lambda _: frozenset())
        with pytest.raises(Refused):
            press.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER)
    assert press.print(page("<p>Words</p>"), ENGLISH, Paper.LETTER).sides == 1


def test_four_threads_at_once_each_get_their_own_whole_sheet() -> None:
    desk = demo_desk()
    days = [f"2027-03-0{day}" for day in range(1, 9)]
    sheets = [desk.choose(replace(ARM, applied=f"{day}T08:00", visit=f"{day}T20:00")) for day in days]

    with ThreadPoolExecutor(4) as threads:
        files = list(threads.map(lambda choices: desk.print_sheet(choices, "en", Paper.LETTER), sheets))

    for day, file in zip(range(1, 9), files, strict=True):
        with pikepdf.open(BytesIO(file)) as opened:
            assert len(opened.pages) == 2
        assert f"March {day}, 8:00 PM" in text_of(file)


# ---- what stands on it ----


def sides_of(desk: Desk, tag: str) -> list[str]:
    """The words of each side, without line breaks."""
    file = desk.print_sheet(desk.choose(ARM), tag, Paper.LETTER)
    return [" ".join(side.split()) for side in text_of(file).split("\f") if side.strip()]


def marks(desk: Desk, tag: str, name: str) -> list[bool]:
    """Whether each side carries a mark of a draft."""
    translated = demo_desk().translate(demo_desk().choose(ARM), tag)
    return [translated.translation(translated.sheet.labels[name]) in side for side in sides_of(desk, tag)]


def approved(folder: Path, *tags: str) -> Desk:
    """The demo clinic after it has approved the English, and translations."""
    given = f'\napproved: {{edition: "{demo_desk().approvals.wording}", by: clinical lead, on: "2026-11-01"}}'
    home = clinic_home(folder, ("languages: [en, es, ar]", f"languages: [en, es, ar]{given}"))
    approvals = demo_desk().approvals
    for tag in tags:
        approvals = approve(approvals, demo_desk().messages[tag], "medical translator", date(2026, 11, 1))
    (home / "approvals.yaml").write_text(approvals_text(approvals), encoding="utf-8")
    return Desk.open(find_places(), home)


def test_every_side_of_a_sheet_nobody_approved_says_that_it_is_a_draft() -> None:
    assert marks(demo_desk(), "en", "draft_wording") == [True, True]
    assert marks(demo_desk(), "es", "draft_both") == [True, True]


def test_an_approved_sheet_says_nothing_of_drafts_and_names_the_clinic_and_edition_on_every_side(tmp_path: Path) -> None:
    desk = approved(tmp_path)
    edition = desk.translate(desk.choose(ARM), "en").edition
    assert marks(desk, "en", "draft_wording") == [False, False]
    assert [f"Tern Harbour Fracture Clinic · Edition {edition}" in side for side in sides_of(desk, "en")] == [True, True]


def test_a_translation_stays_a_draft_until_it_is_approved_itself(tmp_path: Path) -> None:
    assert marks(approved(tmp_path), "es", "draft_language") == [True, True]
    assert marks(approved(tmp_path, "es"), "es", "draft_language") == [False, False]


def paper_tree(choices: Choices) -> lxml.html.HtmlElement:
    return lxml.html.document_fromstring(demo_desk().paper_html(choices, "en", Paper.LETTER))


def test_the_clinics_own_label_has_a_box() -> None:
    (box,) = paper_tree(demo_desk().choose(ARM)).find_class("staff-label")
    assert box.text_content() == "Clinic label goes here"


def test_nothing_on_the_sheet_asks_who_the_patient_is() -> None:
    tree = paper_tree(demo_desk().choose(ARM))
    assert tree.xpath("//input | //textarea | //form") == []
    asking = {"name", "birth", "born", "mrn", "patient", "insurance", "address of", "signature"}
    found = set(re.findall(r"[a-z]+", text(Copy("en")).lower()))
    assert found & asking == set()
    assert len(words(text(Copy("en")))) > 300


# ---- black and white ----


def luminance(color: str) -> float:
    """Relative luminance from 0, black, to 1, white (WCAG 2.2)."""
    digits = color.lstrip("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    channels = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """From 1 to 21 (WCAG 2.2)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def gray(color: str) -> str:
    """What a black-and-white printer makes of a color: ITU-R BT.601 luma."""
    red, green, blue = (int(color[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + 3 * f"{round(0.299 * red + 0.587 * green + 0.114 * blue):02x}"


# Published pairs about the thresholds of 4.5 and 7, rounded to three decimals.
@pytest.mark.parametrize(
    ("color", "ratio"),
    [("#000", 21.0), ("#777", 4.478), ("#767676", 4.542), ("#595959", 7.005), ("#FF0000", 3.998), ("#008000", 5.137)],
)
def test_our_contrast_is_the_published_one(color: str, ratio: float) -> None:
    assert contrast(color, "#fff") == pytest.approx(ratio, abs=0.0005)


def test_every_color_of_the_sheet_stands_out_from_white_in_color_and_in_gray() -> None:
    # WCAG 2.2, 1.4.3: 4.5. White is also what stands on the dark bar.
    rules = re.sub(r"/\*.*?\*/", "", STYLE, flags=re.DOTALL)
    colors = set(re.findall(r"#[0-9a-f]{3,6}\b", rules)) | {stylesheet.INK, stylesheet.DANGER}
    assert colors >= {"#fff", "#7c1412", "#16343f"}
    colors -= {"#fff"}
    assert {color for color in colors if contrast(color, "#fff") < 4.5} == set()
    assert {color for color in colors if contrast(gray(color), "#fff") < 4.5} == set()


def test_white_is_only_ever_printed_on_the_dark_bar() -> None:
    assert re.findall(r"([^{}]+) \{[^{}]*[: ]#fff\b", STYLE) == ["\n.danger > h2"]


def test_urgency_is_told_by_words_and_rank_not_by_color_alone() -> None:
    # WCAG 2.2, 1.4.1.
    headings = [h.text_content() for h in paper_tree(demo_desk().choose(ARM)).find_class("tier")]
    assert headings == ["Go to the emergency room now, day or night", "Call the same day", "Call in clinic hours"]
