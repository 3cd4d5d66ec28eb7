"""Export PO files for translators, import them back, report their status, and approve them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.approval import Approvals, approve
from aftercare.language.extraction import Extracted, update_po
from aftercare.language.languages import Language
from aftercare.language.messages import Messages, read_messages


@dataclass(frozen=True, slots=True)
class Status:
    """Counts of a language's messages: all, sound ones, and the others by what is wrong. `problems` has one for each fault."""

    tag: str
    total: int
    translated: int
    missing: int
    fuzzy: int
    unsafe: int
    approved: bool
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Imported:
    """The result of an import. `text` is the clinic's own PO file, to be written; the rest is to be reported.

    `changed` counts the messages that differ from the shipped translations, `missing` those still without a translation.
    `unknown` are translated messages that no sheet uses, most often because their English has changed since.
    """

    text: str
    changed: int
    missing: int
    unknown: tuple[str, ...]


def status(extracted: Iterable[Extracted], messages: Messages, approvals: Approvals) -> Status:
    """Counts this language's sound, missing, fuzzy and unsafe messages."""
    counts = Counter[str]()
    problems: dict[Problem, None] = {}
    for text in extracted:
        faults = messages.faults(text.message)
        entry = messages.entries.get(text.message)
        if entry is None or not entry.translation:
            counts["missing"] += 1
        elif entry.fuzzy:
            counts["fuzzy"] += 1
        else:
            counts["unsafe" if faults else "translated"] += 1
        problems |= dict.fromkeys(faults)
    return Status(
        messages.tag,
        counts.total(),
        counts["translated"],
        counts["missing"],
        counts["fuzzy"],
        counts["unsafe"],
        approvals.language_approved(messages),
        tuple(problems),
    )


def export_po(extracted: Iterable[Extracted], language: Language, shipped: str | None, own: str | None = None) -> str:
    """The PO file for a translator: every message, including the clinic's own wording, with the translations so far."""
    return update_po(shipped, extracted, language, own)


def import_po(
    extracted: Iterable[Extracted], language: Language, text: str, shown: str, shipped: Messages, own: str | None = None
) -> Imported:
    """Checks a translator's file and merges it into the clinic's own PO file; `own` is that file's text so far.

    The result holds only what differs from the shipped translations, so that an upgrade still improves the others.
    Raises Refused with every problem of the file and of its sentences; then nothing should be written.
    """
    messages = read_messages(text, shown)
    problems = list(messages.problems)
    if not problems and messages.tag != language.tag:
        problems.append(
            Problem(
                Fault.BAD_PO,
                "The file's header says {}, but {} was to be imported.",
                subject=(f"Language: {messages.tag}", language.tag),
                advice="Choose the language of the file.",
                where=messages.where,
            )
        )
    if problems:
        raise Refused(problems)
    finished = {entry.message: entry for entry in messages.entries.values() if entry.translation and not entry.fuzzy}
    known = {text.message: text for text in extracted}
    unsafe = [problem for message in known if message in finished for problem in messages.faults(message)]
    if unsafe:
        raise Refused(sorted(unsafe, key=lambda problem: problem.where or messages.where))
    ours = {message: (entry.translation, entry.reviewed) for message, entry in shipped.entries.items()}
    changed = {m for m, entry in finished.items() if m in known and ours.get(m) != (entry.translation, entry.reviewed)}
    earlier = set(read_messages(own, f"{language.tag}.po").entries) if own else set()
    own_messages = [text for message, text in known.items() if message in changed | earlier]
    return Imported(
        text=update_po(own, own_messages, language, own=text),
        changed=len(changed),
        missing=sum(message not in finished for message in known),
        unknown=tuple(message for message in finished if message not in known),
    )


def approve_language(
    extracted: Iterable[Extracted], messages: Messages, approvals: Approvals, role: str, on: date
) -> Approvals:
    """The approvals with this language approved as it is now. Raises Refused if any message is not sound."""
    problems = status(extracted, messages, approvals).problems
    if problems:
        raise Refused(problems)
    return approve(approvals, messages, role, on)
