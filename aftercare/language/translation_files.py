"""Imports PO files of translators, reports their status, and approves languages."""

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
    """Counts of a language's messages: all, sound ones (`translated`), and others by fault. `problems` are in reading order."""

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
    """The result of an import. `text` is the clinic's own PO file, to be written.

    `changed` counts the messages that differ from the shipped translations, `missing` those still without a translation.
    `unknown` are translated messages that no sheet uses, most often because their English has changed since.
    """

    text: str
    changed: int
    missing: int
    unknown: tuple[str, ...]


def status(extracted: Iterable[Extracted], messages: Messages, approvals: Approvals) -> Status:
    """Count this language's sound, missing, fuzzy and unsafe messages."""
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


def import_po(
    extracted: Iterable[Extracted], language: Language, text: str, shown: str, shipped: Messages, own: str | None = None
) -> Imported:
    """Check a translator's file and merge it into the clinic's own PO file; `own` is that file's text so far.

    The result has only what differs from the shipped translations, so that an upgrade still improves the others.
    Raises Refused with every problem of the file or, without any, of its sentences.
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
    finished = {message: entry for message, entry in messages.entries.items() if entry.finished}
    texts = {text.message: text for text in extracted}
    unsafe = [problem for message in texts if message in finished for problem in messages.faults(message)]
    if unsafe:
        raise Refused(sorted(unsafe, key=lambda problem: problem.where or messages.where))
    unchanged = {(entry.message, entry.translation, entry.reviewed) for entry in shipped.entries.values()}
    changed = {
        message
        for message, entry in finished.items()
        if message in texts and (message, entry.translation, entry.reviewed) not in unchanged
    }
    own_before = set(read_messages(own, f"{language.tag}.po").entries) if own else set()
    own_messages = [text for message, text in texts.items() if message in changed | own_before]
    return Imported(
        text=update_po(own, own_messages, language, own=text),
        changed=len(changed),
        missing=sum(message not in finished for message in texts),
        unknown=tuple(message for message in finished if message not in texts),
    )


def approve_language(
    extracted: Iterable[Extracted], messages: Messages, approvals: Approvals, role: str, on: date
) -> Approvals:
    """Approve this language as it is now. Raises Refused if any message is not sound, or for a role not in approval.ROLES."""
    problems = status(extracted, messages, approvals).problems
    if problems:
        raise Refused(problems)
    return approve(approvals, messages, role, on)
