"""Tests of how a sheet in another language asks for an interpreter by phone."""

from __future__ import annotations

import re

import pytest
from bidi import get_display
from markupsafe import Markup

from aftercare.language.languages import LANGUAGES
from aftercare.page.html import SheetRenderer, interpreter
from tests.phone_world import demo_desk
from tests.printed import ARM

OTHERS = [tag for tag in LANGUAGES if tag != "en"]


def faces(tag: str) -> list[str]:
    """The words of the paper and of the phone page, without direction marks."""
    desk = demo_desk()
    choices = desk.choose(ARM)
    both = desk.paper_html(desk.translate(choices, tag)), desk.phone_page(choices.device, choices.material, tag)
    return [re.sub("[\u2066-\u2069]", "", Markup(face).striptags()) for face in both]


@pytest.mark.parametrize("tag", OTHERS)
def test_both_faces_give_the_english_words_to_say(tag: str) -> None:
    asked = f"“{LANGUAGES[tag].english_name} interpreter, please.”"
    assert all(asked in face for face in faces(tag))


def test_a_sheet_in_english_does_not_mention_interpreters() -> None:
    assert not any("interpreter" in face for face in faces("en"))


def test_the_english_words_are_in_order_on_an_arabic_line() -> None:
    """UAX #9, by python-bidi."""
    translated = demo_desk().translate(demo_desk().choose(ARM), "ar")
    said = interpreter(SheetRenderer(translated, lambda value: Markup(f"\u2066{value.text}\u2069"))).striptags()
    assert "“Arabic interpreter, please.”" in re.sub("[\u2066-\u2069]", "", get_display(said, base_dir="R"))
