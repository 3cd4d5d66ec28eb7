"""Tests that the printed sheet is complete in black and white."""

from __future__ import annotations

import re

import lxml.html

from aftercare.page.stylesheet import DANGER
from aftercare.pictures.style import INK
from tests.contrast import contrast
from tests.phone_world import TEMPLATES, demo_desk
from tests.printed import ARM

STYLE = TEMPLATES.text("paper/page.css")


def gray(color: str) -> str:
    """The gray of a color on a black-and-white printer: ITU-R BT.601 luma."""
    red, green, blue = (int(color[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + 3 * f"{round(0.299 * red + 0.587 * green + 0.114 * blue):02x}"


def test_every_color_of_the_sheet_stands_out_from_white_in_color_and_in_gray() -> None:
    # WCAG 2.2, 1.4.3: 4.5. White is also what stands on the dark bar.
    rules = re.sub(r"/\*.*?\*/", "", STYLE, flags=re.DOTALL)
    colors = set(re.findall(r"#[0-9a-f]{3,6}\b", rules)) | {INK, DANGER}
    assert colors >= {"#fff", "#7c1412", "#16343f"}
    colors -= {"#fff"}
    assert {color for color in colors if contrast(color, "#fff") < 4.5} == set()
    assert {color for color in colors if contrast(gray(color), "#fff") < 4.5} == set()


def test_white_is_only_ever_printed_on_the_dark_bar() -> None:
    assert re.findall(r"([^{}]+) \{[^{}]*[: ]#fff\b", STYLE) == ["\n.danger > h2"]


def test_urgency_is_shown_by_words_and_order_not_by_color_alone() -> None:
    # WCAG 2.2, 1.4.1.
    translated = demo_desk().translate(demo_desk().choose(ARM), "en")
    tree = lxml.html.document_fromstring(demo_desk().paper_html(translated))
    headings = [heading.text_content() for heading in tree.find_class("tier")]
    assert headings == ["Go to the emergency room now, day or night", "Call the same day", "Call in clinic hours"]
