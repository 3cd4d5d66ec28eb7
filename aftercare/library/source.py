"""Parses Markdown content files: a YAML header between `---` lines, a title, and blocks. Everything else is a problem."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from aftercare.errors import Fault, Problem, Where
from aftercare.library import markdown_subset
from aftercare.library.header import Fields, parse_yaml
from aftercare.library.markdown_subset import parse_blocks, parse_inline, refusals
from aftercare.library.text import Block, BlockKind, Text

_ALLOWED = ("one '# Title'", "paragraphs", "flat lists with '- '", "**bold**")
_KINDS = {"p": BlockKind.PARAGRAPH, "li": BlockKind.ITEM}
_SECTION_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_DIRECTION_MARK = re.compile(r"[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")  # UAX #9, table 1


@dataclass(frozen=True, slots=True)
class Wording:
    """The title and text below one `## id` heading; `title` is None where there is none."""

    id: str
    title: Text | None
    blocks: tuple[Block, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class Source:
    """A parsed content file. `sections` are below `## id` headings, which only the clinic file has."""

    header: Fields
    title: Text
    blocks: tuple[Block, ...]
    sections: tuple[Wording, ...]
    where: Where

    def paragraph(self, rule: str) -> Text:
        """The text of the only block, a paragraph. `rule` is the sentence of the problem where there is anything else."""
        if len(self.blocks) != 1 or self.blocks[0].kind is not BlockKind.PARAGRAPH:
            self.header.blame(Fault.BAD_MARKDOWN, rule)
        return self.blocks[0].text if self.blocks else Text("", self.where)


def parse_source(text: str, path: str, problems: list[Problem], *, sections: bool = False) -> Source:
    """Parse a content file's text; every problem is added to `problems` with its line."""
    lines = text.split("\n")
    header, start = _header(lines, path, problems)
    problems += _direction_marks(lines[start:], path, start + 1)
    first, *rest = _wordings(parse_blocks(lines[start:], start + 1), path, problems, sections)
    if first.title is None and not sections:
        problems.append(_problem("The title is missing.", Where(path, min(start + 1, len(lines)))))
    return Source(header, first.title or Text("", Where(path)), first.blocks, tuple(rest), Where(path))


def _header(lines: list[str], path: str, problems: list[Problem]) -> tuple[Fields, int]:
    """The header, and the number of lines before the body."""
    if lines[0].strip() != "---":
        advice = "Begin the file with '---', the header lines, and '---'."
        problems.append(Problem(Fault.BAD_HEADER, "The header is missing.", advice=advice, where=Where(path, 1)))
        return Fields(None, Where(path, 1), problems), 0
    end = next((number for number, line in enumerate(lines[1:], 1) if line.strip() == "---"), None)
    if end is None:
        problems.append(Problem(Fault.BAD_HEADER, "The header's closing '---' is missing.", where=Where(path, 1)))
        end = len(lines) - 1
    return parse_yaml("\n".join(lines[1:end]), Where(path, 2), problems), end + 1


def _problem(what: str, where: Where, text: str = "") -> Problem:
    """A problem of this text; its invisible characters are given as U+202E."""
    visible = "".join(char if char.isprintable() else f"U+{ord(char):04X}" for char in text)
    return Problem(Fault.BAD_MARKDOWN, what, subject=(visible,) if text else (), allowed=_ALLOWED, where=where)


def _direction_marks(lines: Iterable[str], path: str, first: int) -> Iterator[Problem]:
    """One problem for each kind of direction mark on a line; `first` is the number of the first line."""
    for number, line in enumerate(lines, first):
        for mark in dict.fromkeys(_DIRECTION_MARK.findall(line)):
            yield _problem("Invisible direction marks are not allowed: {}.", Where(path, number), mark)


def _wordings(body: Element, path: str, problems: list[Problem], sections: bool) -> list[Wording]:
    """The title and text above any `## id`, then those of each section in order."""
    id_, start = "", Where(path, 1)
    titles: list[Text] = []
    blocks: list[Block] = []
    wordings = []
    for element in body.iter():
        where = Where(path, int(element.get("line", 0)))
        match element.tag:
            case "h1":
                if titles or blocks:
                    problems.append(_problem("A second title, or a title after text.", where))
                titles.append(_text(element, where, problems))
            case "h2" if not sections:
                problems.append(_problem("The heading {} may stand in the clinic file only.", where, f"## {element.text}"))
            case "h2" if _SECTION_ID.fullmatch(element.text or ""):
                wordings.append(Wording(id_, titles[-1] if titles else None, tuple(blocks), start))
                id_, start, titles, blocks = element.text or "", where, [], []
            case "h2":
                problems.append(_problem("The heading '## ' names a module by its id, not {}.", where, element.text or ""))
            case "p" | "li":
                blocks.append(Block(_KINDS[element.tag], _text(element, where, problems)))
            case markdown_subset.REFUSED:
                problems += _refusals(element, where)
    return [*wordings, Wording(id_, titles[-1] if titles else None, tuple(blocks), start)]


def _text(element: Element, where: Where, problems: list[Problem]) -> Text:
    """The lines of a block joined by spaces, as one message in inline Markdown."""
    text = element.text or ""
    paragraph = parse_inline(text)
    if len(paragraph):
        problems += _refusals(paragraph, where)
    return Text(" ".join(line.strip() for line in text.split("\n")), where)


def inline_problems(text: Text) -> list[Problem]:
    """Find Markdown that is not allowed in a text from a YAML header or file."""
    return _refusals(parse_inline(text.message), text.where)


def _refusals(element: Element, where: Where) -> list[Problem]:
    """One problem for each kind of refusal on a line: the two marks around one word are one problem."""
    texts: dict[tuple[int, str], str] = {}
    for line, what, text in refusals(element, where.line):
        texts.setdefault((line, what), text)
    return [_problem(what, Where(where.path, line), text) for (line, what), text in texts.items()]
