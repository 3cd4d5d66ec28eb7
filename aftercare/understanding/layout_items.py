"""Checks of how paper and phone lay out a sheet: each returns what fails its item, or None if the item does not apply."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from xml.etree.ElementTree import Element

from aftercare.library.wording import MOST_ITEMS, MOST_WORDS_IN_CHUNK
from aftercare.understanding.faces import HEADINGS, Face, classes, text_of, with_tag
from aftercare.understanding.prose import sentences, words
from aftercare.understanding.reviewed_sheet import Offence, Offences, ReviewedSheet, face_offence

# Limits of one paragraph or list item, set by us since the instruments give none. More than three sentences are too many,
# unless all of them together have no more words than three steps of the greatest length, 15 words.
_MOST_SENTENCES, _MOST_WORDS_IN_PARAGRAPH = 3, 45
# Limits of a table, set by us.
_MOST_WORDS_IN_HEADER, _MOST_COLUMNS = 4, 4
# Characters of a long element that an offence quotes, about a line.
_QUOTE = 60
_EMPTY_HEADINGS = frozenset(
    {"advice", "care", "details", "general", "information", "important", "introduction", "more", "notes", "other", "overview"}
)


def chunks(reviewed: ReviewedSheet) -> Offences:
    """Too many words under one heading, and paragraphs of too many sentences.

    Signs do not count as words under their heading: each has its own pictogram, and item 8 of the index limits their number.
    """
    return tuple(offence for face in reviewed.faces for offence in _chunks(face))


def _chunks(face: Face) -> Iterator[Offence]:
    heading, words_below = "", 0
    end = (Element("h1"), "")  # so that the text below the last heading is checked too
    for element, text in (*face.elements, end):
        if element.tag in HEADINGS:
            if words_below > MOST_WORDS_IN_CHUNK:
                yield face_offence(face, heading, f"{words_below} words under this heading, at most {MOST_WORDS_IN_CHUNK}")
            heading, words_below = text, 0
        if element.tag in {"p", "li"} and not _has_paragraphs(element):
            word_count, sentence_count = len(words(text)), len(sentences(text))
            if {"sign", "why"}.isdisjoint(classes(element)):
                words_below += word_count
            if sentence_count > _MOST_SENTENCES and word_count > _MOST_WORDS_IN_PARAGRAPH:
                allowed = f"at most {_MOST_SENTENCES}, or {_MOST_WORDS_IN_PARAGRAPH} words"
                yield face_offence(face, text, f"{sentence_count} sentences in one paragraph, {allowed}")


def _has_paragraphs(element: Element) -> bool:
    """Whether another paragraph stands inside the element."""
    return element.find(".//p") is not None


def headings(reviewed: ReviewedSheet) -> Offences:
    """Sections without a heading; headings that are empty, say nothing, or occur twice."""
    offences = []
    for face in reviewed.faces:
        titles = [text_of(heading) for heading in face.with_tag(*HEADINGS)]
        untitled = (section for section in face.with_tag("section") if not with_tag(section, *HEADINGS))
        offences += [face_offence(face, text_of(section), "no heading stands above this") for section in untitled]
        vague = (title for title in titles if not title or title.lower() in _EMPTY_HEADINGS)
        offences += [face_offence(face, title, "this heading says nothing") for title in vague]
        repeated = (title for title, times in Counter(titles).items() if times > 1)
        offences += [face_offence(face, title, "this heading comes twice") for title in repeated]
    return tuple(offences)


def order(reviewed: ReviewedSheet) -> Offences:
    """Headings out of order: danger signs come first, then whom to call, then the topics as in the content."""
    wanted = [reviewed.label("danger_title").text]
    wanted += [reviewed.filled(group.title).text for group in reviewed.urgent_groups]
    wanted += [reviewed.label("call_title").text]
    wanted += [reviewed.filled(section.title).text for section in reviewed.sheet.sections]
    offences = []
    for face in reviewed.faces:
        titles = [text_of(heading) for heading in face.with_tag(*HEADINGS)]
        offences += [face_offence(face, title, "not on this face") for title in wanted if title not in titles]
        places = [(titles.index(title), title) for title in wanted if title in titles]
        offences += [
            face_offence(face, second, f"stands before '{first}'")
            for (first_place, first), (second_place, second) in pairwise(places)
            if second_place < first_place
        ]
    return tuple(offences)


def cues(reviewed: ReviewedSheet) -> Offences:
    """Faces on which the danger signs are not a list in a box of their own."""
    without_box = (face for face in reviewed.faces if not any(with_tag(box, "li") for box in face.with_class("danger")))
    return tuple(face_offence(face, "", "no box of danger signs") for face in without_box)


def topics_pictured(reviewed: ReviewedSheet) -> Offences:
    """Topics without a pictogram."""
    return tuple(
        reviewed.filled(section.title).offence("no picture for this topic")
        for section in reviewed.sheet.sections
        if not _is_pictured(reviewed, section.picture)
    )


def signs_pictured(reviewed: ReviewedSheet) -> Offences:
    """Signs of the danger box without a pictogram. The sign itself is the caption of its pictogram."""
    signs = (sign for group in reviewed.urgent_groups for sign in group.signs)
    return tuple(
        reviewed.filled(sign.sign).offence("no picture for this sign")
        for sign in signs
        if not _is_pictured(reviewed, sign.picture)
    )


def _is_pictured(reviewed: ReviewedSheet, pictogram: str) -> bool:
    """Whether both faces show a pictogram; loading the content made sure that its file is there."""
    return bool(pictogram) and all(face.with_class(f"t-{pictogram}") for face in reviewed.faces)


def pictured(reviewed: ReviewedSheet) -> Offences:
    """Topics and danger signs without a pictogram, and faces without a drawing of the device."""
    name = reviewed.filled(reviewed.sheet.full.device.name).text
    undrawn = (face for face in reviewed.faces if not any(title == name for title, _ in face.pictures))
    device = (face_offence(face, name, "is not drawn") for face in undrawn)
    return (*topics_pictured(reviewed), *signs_pictured(reviewed), *device)


def captioned(reviewed: ReviewedSheet) -> Offences:
    """Drawings without alternative text or caption. The caption of a pictogram is the heading or sign beside it."""
    pictures = [(face, title, caption) for face in reviewed.faces for title, caption in face.pictures]
    untitled = ((face, caption) for face, title, caption in pictures if not title)
    uncaptioned = ((face, title) for face, title, caption in pictures if not caption)
    return (
        *(face_offence(face, caption, "the drawing here has no alternative text") for face, caption in untitled),
        *(face_offence(face, title, "this drawing has no caption") for face, title in uncaptioned),
    )


def tables(reviewed: ReviewedSheet) -> Offences | None:
    """Tables without headers, with long headers or too many columns; None without any table.

    The dates are a table too: each `date-row` is a row whose header is its `date-name`.
    """
    offences, has_rows = [], False
    for face in reviewed.faces:
        rows = [*face.with_class("date-row")]
        for table in face.with_tag("table"):
            if not with_tag(table, "th"):
                offences.append(face_offence(face, text_of(table)[:_QUOTE], "a table without headers"))
            rows += with_tag(table, "tr")
        has_rows = has_rows or bool(rows)
        for row in rows:
            if len(row) > _MOST_COLUMNS:
                offences.append(face_offence(face, text_of(row)[:_QUOTE], f"{len(row)} columns, at most {_MOST_COLUMNS}"))
            headers = [text_of(cell) for cell in row if cell.tag == "th" or "date-name" in classes(cell)]
            unfit = (header for header in headers if not 0 < len(words(header)) <= _MOST_WORDS_IN_HEADER)
            why = f"a header of one to {_MOST_WORDS_IN_HEADER} words is short"
            offences += [face_offence(face, header, why) for header in unfit]
    return tuple(offences) if has_rows else None


def tool(reviewed: ReviewedSheet) -> Offences:
    """Missing means to act with: on paper the table of dates and the questions with boxes to tick, on the phone the check of
    each danger sign with its "yes" and "no", even if hidden, since its button appears once the script runs.
    """
    paper, phone = reviewed.paper, reviewed.phone
    offences = []
    if not any(with_tag(boxes, "li") for boxes in paper.with_class("boxes")):
        offences.append(face_offence(paper, "", "nothing to tick"))
    if not paper.with_class("date-row"):
        offences.append(face_offence(paper, "", "no dates to keep"))
    if not {"walk-start", "walk-yes", "walk-no"} <= phone.ids:
        offences.append(face_offence(phone, "", "no check to go through"))
    return tuple(offences)


def lists(reviewed: ReviewedSheet) -> Offences:
    """Lists that are too long, and faces without a list.

    The phone page is the one that the script shows to this patient. As published, it also holds passages for other patients,
    each behind a condition, and its lists may be longer.
    """
    offences = []
    for face in reviewed.faces:
        items = face.with_tag("ul", "ol")
        long = (element for element in items if len(element) > MOST_ITEMS)
        offences += [
            face_offence(face, text_of(element)[:_QUOTE], f"{len(element)} items, at most {MOST_ITEMS}") for element in long
        ]
        offences += [] if items else [face_offence(face, "", "no list")]
    return tuple(offences)


def chunks_headed(reviewed: ReviewedSheet) -> Offences:
    """`chunks` and `headings`: one item of the index, two of the other instrument."""
    return chunks(reviewed) + headings(reviewed)


def not_known(reviewed: ReviewedSheet) -> Offences:
    """Faces that do not say what nobody knows yet."""
    statement = reviewed.label("not_known").text
    return tuple(face_offence(face, statement, "not on this face") for face in reviewed.faces if statement not in face.text)
