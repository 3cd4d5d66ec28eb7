"""The printed sheet loses nothing in black and white."""

from __future__ import annotations

import re

import lxml.html
import pytest

from aftercare.page.stylesheet import DANGER
from aftercare.pictures.style import INK
from tests.phone_world import TEMPLATES, demo_desk
from tests.printed import ARM

STYLE = TEMPLATES.text("paper/page.css")


def luminance(color: str) -> float:
    """Relative luminance from 0, black, to 1, white (WCAG 2.2). `color` is a CSS hex color of three or six digits."""
    digits = color.lstrip("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    channels = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(color: str, other: str) -> float:
    """Contrast ratio from 1 to 21 (WCAG 2.2)."""
    dark, light = sorted((luminance(color), luminance(other)))
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
    colors = set(re.findall(r"#[0-9a-f]{3,6}\b", rules)) | {INK, DANGER}
    assert colors >= {"#fff", "#7c1412", "#16343f"}
    colors -= {"#fff"}
    assert {color for color in colors if contrast(color, "#fff") < 4.5} == set()
    assert {color for color in colors if contrast(gray(color), "#fff") < 4.5} == set()


def test_white_is_only_ever_printed_on_the_dark_bar() -> None:
    assert re.findall(r"([^{}]+) \{[^{}]*[: ]#fff\b", STYLE) == ["\n.danger > h2"]


def test_urgency_is_told_by_words_and_rank_not_by_color_alone() -> None:
    # WCAG 2.2, 1.4.1.
    translated = demo_desk().translate(demo_desk().choose(ARM), "en")
    tree = lxml.html.document_fromstring(demo_desk().paper_html(translated))
    headings = [heading.text_content() for heading in tree.find_class("tier")]
    assert headings == ["Go to the emergency room now, day or night", "Call the same day", "Call in clinic hours"]
