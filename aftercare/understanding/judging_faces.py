"""Judges of how paper and phone show a sheet. Each gives what speaks against its item, or None where it does not apply."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from aftercare.library.wording import MOST_ITEMS, MOST_WORDS_IN_CHUNK
from aftercare.understanding.faces import HEADINGS, Element, Face
from aftercare.understanding.prose import sentences, words
from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet, face_offence

Offences = tuple[Offence, ...]

# Of one paragraph or list item (bounds we set; the instruments give none). More than three sentences are too many unless they
# are so short that all are no longer than three of the longest a step may have, 15 words.
_MOST_SENTENCES, _MOST_WORDS_IN_PARAGRAPH = 3, 45
_MOST_WORDS_IN_HEADER, _MOST_COLUMNS = 4, 4
_EMPTY_HEADINGS = frozenset(
    {"advice", "care", "details", "general", "information", "important", "introduction", "more", "notes", "other", "overview"}
)


def chunks(read: ReviewedSheet) -> Offences:
    """Text too long under one heading, and paragraphs of too many sentences.

    A list of signs is no running text: each sign stands apart under its own pictogram, and item 8 of the index bounds it.
    """
    return tuple(offence for face in read.faces for offence in _chunks(face))


def _chunks(face: Face) -> Iterator[Offence]:
    heading, count = "", 0
    ends = Element("h1")
    for element in (*face.root.shown, ends):
        if element.tag in HEADINGS:
            if count > MOST_WORDS_IN_CHUNK:
                yield face_offence(face, heading, f"{count} words under this heading, at most {MOST_WORDS_IN_CHUNK}")
            heading, count = element.text, 0
        if element.tag in {"p", "li"} and not element.of("p")[element.tag == "p" :]:
            if "sign" not in element.classes and "why" not in element.classes:
                count += len(words(element.text))
            count_in_it, length = len(sentences(element.text)), len(words(element.text))
            if count_in_it > _MOST_SENTENCES and length > _MOST_WORDS_IN_PARAGRAPH:
                allowed = f"at most {_MOST_SENTENCES}, or {_MOST_WORDS_IN_PARAGRAPH} words"
                yield face_offence(face, element.text, f"{count_in_it} sentences in one paragraph, {allowed}")


def headings(read: ReviewedSheet) -> Offences:
    """Sections without a heading; headings that are empty, say nothing, or come twice."""
    found = []
    for face in read.faces:
        titles = [heading.text for heading in face.root.of(*HEADINGS)]
        sections = (element for element in face.root.of("section") if not element.of(*HEADINGS))
        found += [face_offence(face, section.text, "no heading stands above this") for section in sections]
        vague = (title for title in titles if not title or title.lower() in _EMPTY_HEADINGS)
        found += [face_offence(face, title, "this heading says nothing") for title in vague]
        found += [
            face_offence(face, title, "this heading comes twice") for title, times in Counter(titles).items() if times > 1
        ]
    return tuple(found)


def order(read: ReviewedSheet) -> Offences:
    """Danger signs, whom to call, then the topics in their order: what cannot wait comes first."""
    titles = [read.say(section.title).text for section in read.sheet.sections]
    wanted = [read.label("danger_title").text, *(read.say(group.title).text for group in read.urgent)]
    wanted += [read.label("call_title").text, *titles]
    found = []
    for face in read.faces:
        shown = [heading.text for heading in face.root.of(*HEADINGS)]
        found += [face_offence(face, title, "not on this face") for title in wanted if title not in shown]
        places = [(shown.index(title), title) for title in wanted if title in shown]
        found += [
            face_offence(face, later[1], f"stands before '{sooner[1]}'")
            for sooner, later in pairwise(places)
            if later[0] < sooner[0]
        ]
    return tuple(found)


def cues(read: ReviewedSheet) -> Offences:
    """The danger signs stand in a box of their own, as a list."""
    boxes = ((face, face.root.named("danger")) for face in read.faces)
    return tuple(
        face_offence(face, "", "no box of danger signs") for face, found in boxes if not any(box.of("li") for box in found)
    )


def topics_pictured(read: ReviewedSheet) -> Offences:
    """Each topic has a pictogram."""
    return tuple(
        read.say(section.title).against("no picture for this topic")
        for section in read.sheet.sections
        if not _shown(read, section.picture)
    )


def signs_pictured(read: ReviewedSheet) -> Offences:
    """Each sign of the danger box has a pictogram, and the sign itself is its caption."""
    return tuple(
        read.say(sign.sign).against("no picture for this sign")
        for group in read.urgent
        for sign in group.signs
        if not _shown(read, sign.picture)
    )


def _shown(read: ReviewedSheet, picture: str) -> bool:
    """Whether both faces show a pictogram; loading the content made sure that there is one of this name."""
    return bool(picture) and all(face.root.named(f"t-{picture}") for face in read.faces)


def pictured(read: ReviewedSheet) -> Offences:
    """Each topic, each danger sign, and the device itself."""
    name = read.say(read.sheet.name).text
    drawn = (face for face in read.faces if not any(title == name for title, _ in face.pictures()))
    return (*topics_pictured(read), *signs_pictured(read), *(face_offence(face, name, "is not drawn") for face in drawn))


def captioned(read: ReviewedSheet) -> Offences:
    """Each drawing has alternative text, and words beside it. A pictogram's caption is the heading or sign beside it."""
    pictures = [(face, title, caption) for face in read.faces for title, caption in face.pictures()]
    untitled = (
        face_offence(face, caption, "the drawing here has no alternative text")
        for face, title, caption in pictures
        if not title
    )
    bare = (face_offence(face, title, "this drawing has no caption") for face, title, caption in pictures if not caption)
    return (*untitled, *bare)


def tables(read: ReviewedSheet) -> Offences | None:
    """Short headers and few columns. The table of dates is rows with a header each; not applicable without any table."""
    found, any_table = [], False
    for face in read.faces:
        rows = face.root.named("date-row")
        for table in face.root.of("table"):
            if not table.of("th"):
                found.append(face_offence(face, table.text[:60], "a table without headers"))
            rows += table.of("tr")
        any_table = any_table or bool(rows)
        for row in rows:
            cells = row.parts
            headers = [cell for cell in cells if cell.tag == "th" or "date-name" in cell.classes]
            if len(cells) > _MOST_COLUMNS:
                found.append(face_offence(face, row.text[:60], f"{len(cells)} columns, at most {_MOST_COLUMNS}"))
            wordy = (cell.text for cell in headers if not 0 < len(words(cell.text)) <= _MOST_WORDS_IN_HEADER)
            found += [face_offence(face, text, f"a header of one to {_MOST_WORDS_IN_HEADER} words is short") for text in wordy]
    return tuple(found) if any_table else None


def tool(read: ReviewedSheet) -> Offences:
    """Something to hold on to: on paper the table of dates to keep and fill in, and the questions with boxes to tick; on the
    phone the check of each danger sign with its yes and no (its button appears once the script runs).
    """
    paper, ids = read.paper, {part.attributes.get("id", "") for part in _all(read.phone.root)}
    lacking = []
    if not any(boxes.of("li") for boxes in paper.root.named("boxes")):
        lacking.append(face_offence(paper, "", "nothing to tick"))
    if not paper.root.named("date-row"):
        lacking.append(face_offence(paper, "", "no dates to keep"))
    if not {"walk-start", "walk-yes", "walk-no"} <= ids:
        lacking.append(face_offence(read.phone, "", "no check to go through"))
    return tuple(lacking)


def _all(element: Element) -> Iterator[Element]:
    yield element
    for part in element.parts:
        yield from _all(part)


def lists(read: ReviewedSheet) -> Offences:
    """There are lists, and none is too long.

    The phone page is judged as the script shows it to this patient. Without a code it also holds what is only for others, each
    behind its own "if", and its lists may be longer.
    """
    found = []
    for face in read.faces:
        lengths = [(part, len(part.parts)) for part in face.root.of("ul", "ol")]
        found += [
            face_offence(face, part.text[:60], f"{n} items, at most {MOST_ITEMS}") for part, n in lengths if n > MOST_ITEMS
        ]
        found += [] if lengths else [face_offence(face, "", "no list")]
    return tuple(found)


def chunks_headed(read: ReviewedSheet) -> Offences:
    """Chunks with headings: one item of the index, two of the other instrument."""
    return chunks(read) + headings(read)


def not_known(read: ReviewedSheet) -> Offences:
    """Each face says what nobody knows yet."""
    text = read.label("not_known")
    return tuple(face_offence(face, text.text, "not on this face") for face in read.faces if text.text not in face.root.text)
