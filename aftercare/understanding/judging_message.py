"""Judges of the main message and of the danger box that it sums up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from aftercare.sheet.required import required
from aftercare.understanding.faces import Element
from aftercare.understanding.prose import sentences, words
from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet, face_offence

Offences = tuple[Offence, ...]

_MOST_IN_MESSAGE, _MOST_SENTENCES_IN_MESSAGE = 20, 3
# Words of the main message that stand for several signs at once, or for what to do; the others must come back in the box.
_SUMMING_UP = frozenset({"if", "or", "and", "your", "change", "changes", "grow", "grows", "get", "help", "now", "a", "the"})
# Facts of which a sign must stand in the danger box: what the main message sums up.
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


def summary(read: ReviewedSheet) -> Offences:
    """The main message sums up the danger box: it is on both faces, and each thing it names comes back in the box."""
    message = read.label("main_message")
    signs = " ".join(read.say(sign.sign).text.lower() for group in read.urgent for sign in group.signs)
    named = [word.strip(".,").lower() for word in message.text.split()]
    lost = (
        message.against(f"no danger sign speaks of '{word}'")
        for word in named
        if word not in _SUMMING_UP | {""} and word not in signs
    )
    absent = (face_offence(face, message.text, "not on this face") for face in read.faces if face.place(message.text) is None)
    return (*absent, *lost, *_facts_lacking(read))


def _facts_lacking(read: ReviewedSheet) -> Iterator[Offence]:
    told = {fact for group in read.urgent for sign in group.signs for fact in sign.covers}
    for fact in sorted((required(read.sheet.choices) & _DANGER_FACTS) - told):
        yield Offence(fact, "no sign in the danger box tells this")


def first_section(read: ReviewedSheet) -> Offences:
    """The danger box is the first section, and holds every sign that cannot wait."""
    found = []
    for face in read.faces:
        first = next(iter(face.root.of("section")), Element("section"))
        if "danger" not in first.classes:
            found.append(face_offence(face, first.text[:60], "is the first section, not the danger box"))
        signs = [read.say(sign.sign).text for group in read.urgent for sign in group.signs]
        found += [face_offence(face, sign, "is not in the first section") for sign in signs if sign not in first.text]
    return (*found, *_facts_lacking(read))


def one_message(read: ReviewedSheet) -> Offences:
    """The main message: one on each face, and short."""
    message = read.label("main_message")
    found = [
        face_offence(face, message.text, f"stands {face.count(message.text)} times")
        for face in read.faces
        if face.count(message.text) != 1
    ]
    parts = sentences(message.text)
    if len(parts) > _MOST_SENTENCES_IN_MESSAGE or any(len(words(part)) > _MOST_IN_MESSAGE for part in parts):
        found.append(message.against("too long for a main message"))
    return tuple(replace(offence, where=message.where) for offence in found)


def message_first(read: ReviewedSheet) -> Offences:
    """Nothing but the title, the purpose and the name of the danger box comes before the main message."""
    message, danger = read.label("main_message").text, read.label("danger_title").text
    found = []
    for face in read.faces:
        place = face.place(message)
        before = tuple(face.root.shown)[: place or 0]
        early = [part.text for part in before if part.tag == "li" or (part.tag in {"h2", "h3"} and part.text != danger)]
        if place is None or early:
            found.append(face_offence(face, message, f"comes after '{early[0]}'" if early else "not on this face"))
    return tuple(found)


def message_emphasized(read: ReviewedSheet) -> Offences:
    """The main message is bold: the style sheets make `main-message` and `lead` so."""
    message = read.label("main_message").text
    emphasized = ((face, {part.text for part in face.root.named("main-message", "lead")}) for face in read.faces)
    return tuple(face_offence(face, message, "not emphasized") for face, texts in emphasized if message not in texts)
