"""Reads and writes PO files with polib. Refuses what polib accepts silently, and contexts and plurals, which no sheet uses."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import polib

from aftercare.errors import Fault, Problem, Where

# The lines allowed, without the space around them. "#~" marks an obsolete message, "#|" its earlier English.
_COMMENT = re.compile(r"#(?:[:,.|]|~\|)?(?:\s.*)?|#~")
_STRING = re.compile(r'(#~ )?(?:(msgid|msgstr) )?("[^"\\]*(?:\\["\\nt][^"\\]*)*"$)?')  # groups: obsolete mark, keyword, string
_UNUSED = re.compile(r"\s*#(?:\||~\||~\s*$)")  # comments that some tools write and polib refuses
_POLIB_LINE = re.compile(r"\(line (\d+)\)")  # the line number in polib's errors
_ALLOWED = ("comments that begin with '# '", 'msgid "..."', 'msgstr "..." after each msgid', '"..." to continue one')
_REPAIR = "Repair it; a PO editor helps."
_LONGEST_SHOWN = 60  # characters of a bad line
_COMMENT_WIDTH = 76  # columns, as gettext's own tools wrap comments; messages are not wrapped


@dataclass(frozen=True, slots=True)
class PoMessage:
    """One message of a PO file. `comments` are the translator's, line by line; `line` is that of its `msgid`."""

    message: str
    translation: str = ""
    fuzzy: bool = False
    comments: tuple[str, ...] = ()
    line: int = 0


@dataclass(frozen=True, slots=True)
class PoFile:
    """The messages of a PO file. `language` is that of its header, "" where that has none, None for an unreadable file."""

    language: str | None
    messages: tuple[PoMessage, ...]
    problems: tuple[Problem, ...]


class _Entries(polib.POFile):
    """A PO file whose header stays among its entries, from which polib would remove it, so that a second one is detected."""

    def remove(self, value: polib.POEntry, /) -> None:
        """Does nothing."""


def parse_po(text: str, path: str) -> PoFile:
    """Parse a PO file's text. Problems are those of its form: lines out of place, open quotes, messages given twice."""
    lines = text.removeprefix("\ufeff").splitlines()
    bad, skipped = _bad_lines(lines)
    problems = [_bad_line(lines[number - 1], Where(path, number)) for number in sorted(bad)]
    if text.startswith("\ufeff"):
        what, advice = "The file begins with a byte order mark.", "Save it as UTF-8 without one."
        problems.append(bad_po(what, Where(path, 1), advice=advice))
    usable = ("" if number in skipped or _UNUSED.match(line) else line for number, line in enumerate(lines, 1))
    try:
        # polib reads a text that is the name of a file as a path; the newline at the end prevents that.
        entries = polib.pofile("\n".join(usable) + "\n", encoding="utf-8", klass=_Entries)
    except OSError as error:  # which polib raises for a bad line
        match = _POLIB_LINE.search(str(error))
        number = int(match[1]) if match else 1
        problems.append(_bad_line(lines[number - 1], Where(path, number)))
        return PoFile(None, (), tuple(problems))
    messages = tuple(_message(entry, lines) for entry in entries if not entry.obsolete)
    problems += _duplicates(messages, path)
    headers = sum(not message.message for message in messages)
    language = entries.metadata.get("Language", "") if headers == 1 or not problems else None
    return PoFile(language, tuple(message for message in messages if message.message), tuple(problems))


def _message(entry: polib.POEntry, lines: list[str]) -> PoMessage:
    """An entry with the line of its `msgid`, which polib does not give."""
    start = entry.linenum or 1  # the line of its first comment
    line = next((n for n in range(start, len(lines) + 1) if lines[n - 1].lstrip().startswith("msgid ")), start)
    return PoMessage(entry.msgid, entry.msgstr, entry.fuzzy, tuple(entry.tcomment.splitlines()), line)


def bad_po(what: str, where: Where, subject: tuple[str, ...] = (), advice: str = _REPAIR) -> Problem:
    """A problem of a PO file's form."""
    return Problem(Fault.BAD_PO, what, subject=subject, advice=advice, where=where)


def _bad_line(line: str, where: Where) -> Problem:
    subject = (line.strip()[:_LONGEST_SHOWN],)
    return Problem(Fault.BAD_PO, "Not understood here: {}.", subject=subject, allowed=_ALLOWED, advice=_REPAIR, where=where)


def _bad_lines(lines: Iterable[str]) -> tuple[set[int], set[int]]:
    """The numbers of bad lines, which polib would accept or misread, and these with all lines of their messages.

    Bad are strings without a quote, a msgid without msgstr, comments and continuations out of place, contexts, and plurals.
    """
    bad: set[int] = set()
    messages: list[list[int]] = [[]]  # the line numbers of each
    expected, obsolete, continuable = "msgid", "", False
    for number, line in enumerate(lines, 1):
        stripped = line.strip()
        if not stripped:
            continue
        if expected == "msgid" and _COMMENT.fullmatch(stripped):
            continuable = False
            continue
        mark, keyword, string = _STRING.findall(stripped)[0]
        is_good = bool(string)
        if keyword == "msgid":
            if expected == "msgstr":
                bad.add(messages[-1][0])
            messages.append([])
            expected, obsolete, continuable = "msgstr", mark, True
        elif keyword == "msgstr":
            is_good = is_good and expected == "msgstr" and mark == obsolete
            expected, continuable = "msgid", True
        else:
            is_good = is_good and continuable and mark == obsolete
        if not is_good:
            bad.add(number)
        if keyword or is_good:
            messages[-1].append(number)
    if expected == "msgstr":
        bad.add(messages[-1][0])
    return bad, bad.union(*(message for message in messages if bad.intersection(message)))


def _duplicates(messages: Iterable[PoMessage], path: str) -> Iterator[Problem]:
    """One problem for each message, and each header, after the first."""
    first_lines: dict[str, int] = {}
    for message in messages:
        start, where = first_lines.setdefault(message.message, message.line), Where(path, message.line)
        if start != message.line and message.message:
            yield bad_po(f"{{}} stands twice, first on line {start}.", where, (message.message,), "Keep one.")
        elif start != message.line:
            yield bad_po(f"A second header, after that on line {start}.", where, advice="Keep one.")


def format_message(message: PoMessage, note: str, places: Iterable[str]) -> str:
    """Format a message for a PO file, with a newline at the end. `note` is for translators, `places` are the files it is in."""
    comments = [
        *(("# ", comment) for comment in dict.fromkeys(message.comments)),
        ("#. ", note),
        ("#: ", " ".join(places)),
    ]
    lines = [
        mark + line
        for mark, comment in comments
        for line in textwrap.wrap(comment, _COMMENT_WIDTH, break_long_words=False, break_on_hyphens=False)
    ]
    flags = ["fuzzy"] if message.fuzzy else []
    entry = polib.POEntry(msgid=message.message, msgstr=message.translation, flags=flags)
    return "\n".join((*lines, entry.__unicode__(wrapwidth=0)))  # str() of an entry would wrap its messages
