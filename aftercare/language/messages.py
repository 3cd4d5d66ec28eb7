"""One language's PO file as messages, each with its line. There is no falling back to English, ever."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from io import StringIO

from babel.messages.pofile import PoFileError, read_po, unescape

from aftercare.errors import Fault, Problem, Where, did_you_mean, listed
from aftercare.language.grammar import GRAMMARS
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.safety import REVIEWABLE, no_table, unsafe

_LINE = re.compile(r'^(?:(msgid|msgstr) )?("(?:[^"\\]|\\.)*")$')
_REVIEWED = re.compile(r"^reviewed:\s*(.*)$")


@dataclass(frozen=True, slots=True)
class Entry:
    """One message and its translation, "" where there is none. `reviewed` names the checks a person has overruled."""

    message: str
    translation: str
    fuzzy: bool
    reviewed: frozenset[str]
    where: Where


@dataclass(frozen=True, slots=True, eq=False)
class Messages:
    """The translations into one language. `problems` are the file's own; while there are any, no message is sound.

    Two of them are equal only if they are the same one: comparing or hashing all their words would cost more than it tells.
    """

    tag: str
    entries: Mapping[str, Entry]
    problems: tuple[Problem, ...]
    where: Where = field(default=Where(""))
    # Each message is judged once: a clinic's sheets ask for the same few hundred over and over.
    _judged: dict[str, tuple[Problem, ...]] = field(default_factory=dict, init=False, repr=False)

    def faults(self, message: str) -> tuple[Problem, ...]:
        """All that keeps a message from being printed in this language; empty when its translation is sound."""
        found = self._judged.get(message)
        if found is None:
            found = self._judged[message] = self._judge(message)
        return found

    def _judge(self, message: str) -> tuple[Problem, ...]:
        if self.problems:
            return self.problems
        entry = self.entries.get(message)
        if entry is None or not entry.translation:
            what = f"No translation into '{self.tag}' of '{message}'."
            return (Problem(Fault.UNTRANSLATED, what, advice="Translate it.", where=entry.where if entry else self.where),)
        if entry.fuzzy:
            what = f"The translation into '{self.tag}' of '{message}' is marked fuzzy: the English may have changed since."
            return (Problem(Fault.FUZZY, what, advice="Look at it and remove the mark.", where=entry.where),)
        return unsafe(entry.message, entry.translation, self.tag, entry.reviewed, entry.where)

    def under(self, own: Messages) -> Messages:
        """These messages with a clinic's own translations, where it has any, in their place."""
        kept = {message: entry for message, entry in own.entries.items() if entry.translation and not entry.fuzzy}
        return replace(self, entries={**self.entries, **kept}, problems=self.problems + own.problems)


def read_messages(text: str, shown: str) -> Messages:
    """The text of `translations/<tag>.po` as Messages; `shown` is its path as people see it.

    What is wrong with the file itself is kept in `problems`: bad lines, a message given twice, an unknown language.
    """
    if not text.strip():
        what, advice = "There is no translation file.", "Write one with 'aftercare translate export'."
        return Messages("", {}, (Problem(Fault.UNTRANSLATED, what, advice=advice, where=Where(shown)),), Where(shown))
    lines, problems = _scan(text, shown)
    try:
        catalog = read_po(StringIO(text), abort_invalid=True)
    except (PoFileError, ValueError, LookupError, TypeError) as error:  # a broken header lets all of these out
        problems.append(_bad(f"Cannot be read as a PO file: {error}.", Where(shown)))
        return Messages("", {}, tuple(problems), Where(shown))
    tag = (catalog.locale_identifier or "").replace("_", "-")
    problems += _header_problems(tag, shown)
    entries: dict[str, Entry] = {}
    for message in catalog:
        if not message.id:
            continue
        where = Where(shown, message.lineno or 0)
        reviewed, unknown = _reviewed(message.user_comments, where)
        problems += unknown
        # _scan has refused plural forms, the only case in which these are not str.
        entries[str(message.id)] = Entry(str(message.id), str(message.string or ""), message.fuzzy, reviewed, where)
    if len(entries) != len(lines):
        what = f"{len(lines)} messages stand in the file but {len(entries)} were read."
        problems.append(_bad(what, Where(shown), "Look for an unclosed quote."))
    return Messages(tag, entries, tuple(problems), Where(shown))


def _bad(what: str, where: Where, advice: str = "Mend it; a PO editor helps.") -> Problem:
    return Problem(Fault.BAD_PO, what, advice=advice, where=where)


def _scan(text: str, shown: str) -> tuple[dict[str, int], list[Problem]]:
    """The line of each message, and every line outside the small part of PO that we use.

    The parser itself keeps the first of two equal messages and passes an unclosed quote, both without a word.
    """
    lines: dict[str, int] = {}
    problems: list[Problem] = []
    message, expected = [""], "msgid"
    for number, line in enumerate(text.splitlines(), 1):
        stripped, where = line.strip(), Where(shown, number)
        match = _LINE.match(stripped)
        keyword, string = match.groups() if match else ("", "")
        if not stripped or stripped.startswith("#"):
            continue
        if not match or (keyword and keyword != expected):
            what = f"Not understood here: {stripped[:60]}"
            allowed = 'Allowed: comments, msgid "...", then msgstr "...", and "..." to continue one.'
            problems.append(Problem(Fault.BAD_PO, what, allowed, "Mend it; a PO editor helps.", where))
        elif keyword == "msgid":
            message, start, expected = [string], number, "msgstr"
        elif not keyword and expected == "msgstr":
            message.append(string)
        elif keyword == "msgstr":
            expected = "msgid"
            whole = "".join(map(unescape, message))
            if whole in lines:
                problems.append(
                    _bad(f"'{whole}' stands twice, first on line {lines[whole]}.", Where(shown, start), "Keep one.")
                )
            lines.setdefault(whole, start)
    lines.pop("", None)  # the header
    return lines, problems


def _header_problems(tag: str, shown: str) -> Iterator[Problem]:
    stem = shown.rsplit("/", 1)[-1].removesuffix(".po")
    offered = [known for known in LANGUAGES if known != SOURCE]
    if tag not in offered:
        what = f"The header's 'Language:' is '{tag}', which is no language we print."
        yield Problem(Fault.UNKNOWN_LANGUAGE, what, listed(offered), did_you_mean(tag, offered), Where(shown))
    elif tag not in GRAMMARS:
        yield no_table(tag, Where(shown))
    elif stem in LANGUAGES and stem != tag:
        what = f"The file is called '{stem}.po' but its header says 'Language: {tag}'."
        yield _bad(what, Where(shown), "Make them the same.")


def _reviewed(comments: list[str], where: Where) -> tuple[frozenset[str], list[Problem]]:
    names: set[str] = set()
    problems = []
    for comment in comments:
        if match := _REVIEWED.match(comment):
            names |= {name.strip() for name in match[1].split(",")}
    for name in sorted(names.difference(REVIEWABLE)):
        what = f"'# reviewed: {name}' names no check that may be overruled."
        problems.append(Problem(Fault.UNKNOWN_NAME, what, listed(REVIEWABLE), did_you_mean(name, REVIEWABLE), where))
    return frozenset(names), problems
