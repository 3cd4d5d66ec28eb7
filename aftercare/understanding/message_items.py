"""Checks of the main message and of the danger box that it sums up: each returns what fails its item."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from aftercare.sheet.required import required
from aftercare.understanding.faces import classes, text_of
from aftercare.understanding.prose import sentences, words
from aftercare.understanding.reviewed_sheet import Offence, Offences, ReviewedSheet, face_offence

# Limits of the main message, set by us.
_MOST_WORDS_IN_SENTENCE, _MOST_SENTENCES = 20, 3
# Words of the main message that stand for several signs or say what to do. Every other word must occur in a danger sign.
_SUMMARY_WORDS = frozenset({"if", "or", "and", "your", "change", "changes", "grow", "grows", "get", "help", "now", "a", "the"})
# The facts that the main message sums up: if a sheet must hold one of them, a sign in the danger box has to state it.
_DANGER_FACTS = frozenset(
    {
        "pain_out_of_proportion",
        "stretch_pain",
        "tightness",
        "numbness",
        "cannot_move",
        "color_or_cold",
        "swelling",
        "burning",
        "calf_signs",
        "chest_signs",
    }
)
# Characters of a section that an offence quotes, about a line.
_QUOTE = 60


def summary(reviewed: ReviewedSheet) -> Offences:
    """Faces without the main message, words of it that no danger sign contains, and facts that the danger box lacks."""
    message = reviewed.label("main_message")
    signs = " ".join(sign.lower() for sign in _danger_signs(reviewed))
    message_words = (word.strip(".,").lower() for word in message.text.split())
    unmatched = (word for word in message_words if word not in _SUMMARY_WORDS | {""} and word not in signs)
    absent = (face for face in reviewed.faces if face.place(message.text) is None)
    return (
        *(face_offence(face, message.text, "not on this face") for face in absent),
        *(message.offence(f"no danger sign speaks of '{word}'") for word in unmatched),
        *_missing_facts(reviewed),
    )


def _danger_signs(reviewed: ReviewedSheet) -> list[str]:
    return [reviewed.filled(sign.sign).text for group in reviewed.urgent_groups for sign in group.signs]


def _missing_facts(reviewed: ReviewedSheet) -> Iterator[Offence]:
    covered = {fact for group in reviewed.urgent_groups for sign in group.signs for fact in sign.covers}
    for fact in sorted((required(reviewed.sheet.choices.device) & _DANGER_FACTS) - covered):
        yield Offence(fact, "no sign in the danger box tells this")


def first_section(reviewed: ReviewedSheet) -> Offences:
    """Faces whose first section is not the danger box, or lacks a sign that cannot wait."""
    offences = []
    for face in reviewed.faces:
        section = next(iter(face.with_tag("section")), None)
        text = "" if section is None else text_of(section)
        if section is None or "danger" not in classes(section):
            offences.append(face_offence(face, text[:_QUOTE], "is the first section, not the danger box"))
        missing = (sign for sign in _danger_signs(reviewed) if sign not in text)
        offences += [face_offence(face, sign, "is not in the first section") for sign in missing]
    return (*offences, *_missing_facts(reviewed))


def one_message(reviewed: ReviewedSheet) -> Offences:
    """Faces that do not show the main message exactly once, and a main message that is too long."""
    message = reviewed.label("main_message")
    counts = [(face, face.count(message.text)) for face in reviewed.faces]
    offences = [face_offence(face, message.text, f"stands {count} times") for face, count in counts if count != 1]
    parts = sentences(message.text)
    if len(parts) > _MOST_SENTENCES or any(len(words(part)) > _MOST_WORDS_IN_SENTENCE for part in parts):
        offences.append(message.offence("too long for a main message"))
    return tuple(replace(offence, where=message.where) for offence in offences)


def message_first(reviewed: ReviewedSheet) -> Offences:
    """Faces on which more than the title, the purpose and the name of the danger box precedes the main message."""
    message, danger_title = reviewed.label("main_message").text, reviewed.label("danger_title").text
    offences = []
    for face in reviewed.faces:
        place = face.place(message)
        if place is None:
            offences.append(face_offence(face, message, "not on this face"))
            continue
        before = face.elements[:place]
        early = [text for element, text in before if element.tag == "li" or _is_subheading(element.tag, text, danger_title)]
        offences += [face_offence(face, message, f"comes after '{text}'") for text in early[:1]]
    return tuple(offences)


def _is_subheading(tag: str, text: str, danger_title: str) -> bool:
    return tag in {"h2", "h3"} and text != danger_title


def message_emphasized(reviewed: ReviewedSheet) -> Offences:
    """Faces on which the main message is not bold; the style sheets print the classes `main-message` and `lead` bold."""
    message = reviewed.label("main_message").text
    offences = []
    for face in reviewed.faces:
        bold = (*face.with_class("main-message"), *face.with_class("lead"))
        if message not in map(text_of, bold):
            offences.append(face_offence(face, message, "not emphasized"))
    return tuple(offences)
