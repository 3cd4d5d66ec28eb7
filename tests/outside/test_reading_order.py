"""Tests of the reading order of the printed file: Poppler for text and structure, pdfminer for the places of characters."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import pytest

from aftercare.library.text import Text
from tests.phone_world import demo_desk
from tests.printed import ARM_COPIES, TAGS, Copy, blocks, letters, lines_from_the_left, text, words

PLACEHOLDER = re.compile(r"\{[^{}]*\}")
each_copy = pytest.mark.parametrize("copy", ARM_COPIES, ids=str)
each_arabic = pytest.mark.parametrize("copy", [copy for copy in ARM_COPIES if copy.tag == "ar"], ids=str)


def headings(copy: Copy) -> Iterator[Text]:
    """The required order: danger signs, who to call, what can wait, dates, then care and the staff's part."""
    sheet = demo_desk().settle(copy.choices)
    labels, (go_now, same_day, office_hours) = sheet.full.labels, (group.title for group in sheet.groups)
    yield from (
        sheet.full.title,
        labels["danger_title"],
        go_now,
        labels["call_title"],
        same_day,
        office_hours,
        labels["dates_title"],
    )
    for section in sheet.sections:
        yield section.title
        yield from (passage.title for passage in section.passages if passage.title)
    yield labels["teach_back_title"]


def without_values(copy: Copy, sheet_text: Text) -> str:
    """The translation of a text of a sheet, without its values."""
    return PLACEHOLDER.sub(" ", demo_desk().translate(copy.choices, copy.tag).translation(sheet_text))


@each_copy
def test_headings_are_read_from_danger_to_help_to_dates_to_care(copy: Copy) -> None:
    read = [letters(words) for tag, words in blocks(copy) if re.fullmatch("H[1-6]", tag)]
    assert read == [letters(without_values(copy, heading)) for heading in headings(copy)]


@each_copy
def test_every_danger_sign_is_read_whole_between_its_heading_and_who_to_call(copy: Copy) -> None:
    sheet = demo_desk().settle(copy.choices)
    read = [letters(words) for _, words in blocks(copy)]
    labels = sheet.full.labels
    danger, calls = (read.index(letters(without_values(copy, labels[id_]))) for id_ in ("danger_title", "call_title"))
    signs = [without_values(copy, sign.sign) for sign in sheet.groups[0].signs if "{" not in sign.sign.message]

    assert len(signs) >= 4
    assert [danger < read.index(letters(sign)) < calls for sign in signs] == [True] * len(signs)


@pytest.mark.parametrize("tag", TAGS)
def test_the_copied_text_of_the_first_side_is_in_reading_order(tag: str) -> None:
    copy = Copy(tag)
    labels = demo_desk().settle(copy.choices).full.labels
    page = words(text(copy))
    order = [words(without_values(copy, labels[id_])) for id_ in ("danger_title", "call_title", "dates_title")]
    places = [next(at for at in range(len(page)) if page[at : at + len(phrase)] == phrase) for phrase in order]
    assert places == sorted(places)


@each_copy
def test_the_words_of_the_sheet_can_be_copied_out(copy: Copy) -> None:
    sheet = demo_desk().settle(copy.choices)
    texts = [sign.sign for group in sheet.groups for sign in group.signs]
    texts += [block.text for section in sheet.sections for passage in section.passages for block in passage.blocks]
    expected = Counter(word for message in texts for word in words(without_values(copy, message)))
    lost = expected - Counter(words(text(copy)))

    assert expected.total() > 200
    # Poppler puts a space into some Arabic words, after a letter that does not join the next.
    assert lost.total() <= (0.1 * expected.total() if copy.tag == "ar" else 0)


@pytest.mark.parametrize("tag", TAGS)
@pytest.mark.parametrize("number", ["(202) 555-0143", "(202) 555-0178", "911"])
def test_a_phone_number_is_unbroken_from_left_to_right(tag: str, number: str) -> None:
    whole = re.compile(rf"(?<![\d-]){re.escape(number)}(?![\d-])")
    assert [line for line in lines_from_the_left(Copy(tag)) if whole.search(line)]


# UAX #9: not isolated, a phone number after Arabic letters would show as 0143-555 (202), a range as 20–15.
@each_arabic
@pytest.mark.parametrize("value", ["(202) 555-0143", "(202) 555-0178", "15–20", "5–10", "38 °C (100.4 °F)"])
def test_numbers_in_an_arabic_line_run_from_left_to_right(copy: Copy, value: str) -> None:
    assert [line for line in lines_from_the_left(copy) if value in line]


@each_arabic
def test_no_number_in_arabic_is_reversed(copy: Copy) -> None:
    page = "\n".join(lines_from_the_left(copy))
    assert not re.search(r"0143-555|0178-555|20–15|10–5|3–2|48–24|F°|C°", page)


def test_opening_hours_in_arabic_run_from_the_right() -> None:
    # CLDR marks hours before and after noon with one letter each; from the right: 8:00 before noon to 4:30 after it.
    assert "م 4:30 – ص 8:00" in "\n".join(lines_from_the_left(Copy("ar")))
