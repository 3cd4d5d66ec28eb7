"""Tests that phone pages and paper show the pictograms of the files, in the strokes and colors of the page."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from urllib.parse import unquote
from xml.etree import ElementTree

from aftercare.language.languages import LANGUAGES
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Paper
from aftercare.library.modules import URGENT
from aftercare.library.pictograms import ROOT_ATTRIBUTES
from aftercare.page.pdf import render_pdf
from aftercare.page.phone import PhoneFrame
from aftercare.page.stylesheet import DANGER, pictogram_rules, stylesheet
from aftercare.pictures import inline_pictogram, pictogram_data_uri
from aftercare.pictures.style import INK
from tests.phone_world import TEMPLATES
from tests.small_world import PICTOGRAM

# ---- on the phone ----


def test_a_pictogram_on_the_phone_is_decoration_in_the_color_of_the_text(library: Library) -> None:
    for name, svg in library.pictograms.items():
        root = ElementTree.fromstring(inline_pictogram(svg, "p"))
        assert root.get("aria-hidden") == "true", name
        assert (root.get("class"), root.get("viewBox")) == ("p", ROOT_ATTRIBUTES["viewBox"]), name
        assert [dict(path.attrib) for path in root] == [dict(path.attrib) for path in ElementTree.fromstring(svg)], name


def test_the_phones_stylesheet_gives_pictograms_the_strokes_of_the_files(checkout: Path) -> None:
    style = (checkout / "templates" / "phone" / "page.css").read_text(encoding="utf-8")
    (rule,) = re.findall(r"^\.p \{(.*)\}$", style, re.MULTILINE)
    declared = dict(part.strip().split(": ") for part in rule.strip().strip(";").split(";"))

    assert {name: declared.get(name) for name in ROOT_ATTRIBUTES if name != "viewBox"} == {
        name: value for name, value in ROOT_ATTRIBUTES.items() if name != "viewBox"
    }


def test_templates_draw_a_pictogram_by_name_and_nothing_for_no_name(library: Library) -> None:
    drawn = PhoneFrame.of(library, TEMPLATES).pictograms

    assert drawn["raise"] == inline_pictogram(library.pictograms["raise"], "p")
    assert drawn[""] == ""


# ---- on paper ----


def test_a_pictogram_for_paper_is_one_data_uri_without_blanks_in_its_own_color(library: Library) -> None:
    uri = pictogram_data_uri(library.pictograms["dry"], "#7c1412")

    assert uri.startswith("data:image/svg+xml,")
    assert not set(uri) & set(" <>\"'#")
    svg = unquote(uri.partition(",")[2])
    assert "currentColor" not in svg
    assert ElementTree.fromstring(svg).get("stroke") == "#7c1412"


def test_paper_has_each_pictogram_once_in_each_color_it_can_have(library: Library) -> None:
    urgent = {sign.picture for sign in library.warnings if sign.tier in URGENT}
    others = {sign.picture for sign in library.warnings if sign.tier not in URGENT}
    others |= {topic.picture for topic in library.topics.values()}

    rules = re.findall(r"(\.danger )?\.t-([a-z-]+)\{background-image:url\(([^)]*)\)\}", pictogram_rules(library))

    assert sorted((bool(within), name) for within, name, _ in rules) == sorted(
        [*((True, name) for name in urgent), *((False, name) for name in others)]
    )
    for within, name, uri in rules:
        assert uri == pictogram_data_uri(library.pictograms[name], DANGER if within else INK)
    assert pictogram_rules(library).count("background-image") == len(rules)


def test_a_sheet_of_another_library_shows_the_pictograms_of_that_library(library: Library) -> None:
    html = '<!doctype html><html lang="en"><head><title>x</title></head><body><p class="t-raise">Words</p></body></html>'
    english = LANGUAGES["en"]
    other = replace(library, pictograms={**library.pictograms, "raise": PICTOGRAM})

    first, second, again = (
        render_pdf(html, stylesheet(english, Paper.A4, TEMPLATES, pictogram_rules(used)), english).pdf
        for used in (library, other, library)
    )

    assert first != second
    assert first == again
