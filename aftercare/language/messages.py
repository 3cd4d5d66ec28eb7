"""Converts a language's PO file into messages and checks them. There is no fallback to English."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from aftercare.errors import Fault, Problem, Where, nearest
from aftercare.language.grammar import GRAMMARS
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.po_files import bad_po, parse_po
from aftercare.language.safety import REVIEWABLE, missing_grammar, unsafe

_REVIEWED = re.compile(r"^reviewed:\s*(.*)$")


@dataclass(frozen=True, slots=True)
class Entry:
    """One message and its translation, "" where there is none. `reviewed` names the checks that a person has overruled."""

    message: str
    translation: str
    fuzzy: bool
    reviewed: frozenset[str]
    where: Where
    comments: tuple[str, ...] = ()  # the translator's, line by line

    @property
    def finished(self) -> bool:
        """Whether there is a translation that is not marked fuzzy."""
        return bool(self.translation) and not self.fuzzy


# Every sheet checks the same few hundred messages of each language. The key is all that the checks read, without the place.
_cached_unsafe = lru_cache(maxsize=16384)(unsafe)


@dataclass(frozen=True)
class Messages:
    """The translations into one language. `problems` are those of the whole file; with any of them, no message is sound."""

    tag: str
    entries: Mapping[str, Entry]
    problems: tuple[Problem, ...]
    where: Where = field(default=Where(""))

    def faults(self, message: str) -> tuple[Problem, ...]:
        """Every reason not to print a message in this language; empty when its translation is sound."""
        if self.problems:
            return self.problems
        entry = self.entries.get(message)
        if entry is None or not entry.translation:
            what, where = "No translation into {} of {}.", entry.where if entry else self.where
            advice = "Translate it."
            return (Problem(Fault.UNTRANSLATED, what, subject=(self.tag, message), advice=advice, where=where),)
        if entry.fuzzy:
            what = "The translation into {} of {} is marked fuzzy: the English may have changed since."
            advice = "Look at it and remove the mark."
            return (Problem(Fault.FUZZY, what, subject=(self.tag, message), advice=advice, where=entry.where),)
        problems = _cached_unsafe(entry.message, entry.translation, self.tag, entry.reviewed)
        return tuple(replace(problem, where=entry.where) for problem in problems)

    @cached_property  # read for each sheet; needs a class without slots
    def fingerprint(self) -> str:
        """A hash of every translation, with its fuzzy mark and what a reviewer overruled: 16 hexadecimal digits."""
        lines = (
            f"{entry.message}\0{entry.translation}\0{int(entry.fuzzy)}\0{','.join(sorted(entry.reviewed))}"
            for entry in self.entries.values()
        )
        return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()[:16]

    def overridden_by(self, own: Messages) -> Messages:
        """These messages with the finished translations of `own` in place of theirs, and the problems of both."""
        finished = {message: entry for message, entry in own.entries.items() if entry.finished}
        return replace(self, entries={**self.entries, **finished}, problems=self.problems + own.problems)


def read_messages(text: str, shown: str) -> Messages:
    """Parse the text of `translations/<tag>.po`; `shown` is its path as messages name it.

    Problems of the file as a whole are in `problems`: its form, an unknown language, a review of an unknown check.
    """
    if not text.strip():
        what, advice = "There is no translation file.", "Write one with 'aftercare translate export'."
        return Messages("", {}, (Problem(Fault.UNTRANSLATED, what, advice=advice, where=Where(shown)),), Where(shown))
    file = parse_po(text, shown)
    if file.language is None:
        return Messages("", {}, file.problems, Where(shown))
    problems = list(file.problems)
    tag = file.language.replace("_", "-")
    problems += _header_problems(tag, shown)
    entries: dict[str, Entry] = {}
    for message in file.messages:
        where = Where(shown, message.line)
        reviewed, unknown = _reviewed(message.comments, where)
        problems += unknown
        if message.message not in entries:  # a second one is among the problems
            entry = Entry(message.message, message.translation, message.fuzzy, reviewed, where, message.comments)
            entries[message.message] = entry
    return Messages(tag, entries, tuple(problems), Where(shown))


def _header_problems(tag: str, shown: str) -> Iterator[Problem]:
    name = shown.rsplit("/", 1)[-1]
    stem = name.removesuffix(".po")
    offered = tuple(language for language in LANGUAGES if language != SOURCE)
    if tag not in offered:
        what, near = "The header's 'Language:' is {}, which is no language of this program.", nearest(tag, offered)
        where = Where(shown)
        yield Problem(Fault.UNKNOWN_LANGUAGE, what, subject=(tag,), allowed=offered, suggestion=near, where=where)
    elif tag not in GRAMMARS:
        yield missing_grammar(tag, Where(shown))
    elif stem in LANGUAGES and stem != tag:
        what = "The file is called {}, but its header says 'Language:' {}."
        yield bad_po(what, Where(shown), (name, tag), "Make them the same.")


def _reviewed(comments: Iterable[str], where: Where) -> tuple[frozenset[str], list[Problem]]:
    """The names in `reviewed:` comments, and a problem for each that is no reviewable check."""
    names: set[str] = set()
    for comment in comments:
        if match := _REVIEWED.match(comment):
            names |= {name.strip() for name in match[1].split(",")}
    what = "A comment 'reviewed:' names {}, which is no check that may be overruled."
    problems = [
        Problem(
            Fault.UNKNOWN_NAME,
            what,
            subject=(name,),
            allowed=REVIEWABLE,
            suggestion=nearest(name, REVIEWABLE),
            where=where,
        )
        for name in sorted(names.difference(REVIEWABLE))
    ]
    return frozenset(names), problems
