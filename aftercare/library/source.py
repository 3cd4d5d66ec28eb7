"""One Markdown content file: a YAML header between `---` lines, a title, and blocks. Everything else is refused."""

from __future__ import annotations

import re
from dataclasses import dataclass

from aftercare.errors import Fault, Problem, Where
from aftercare.library.header import Fields, parse_yaml
from aftercare.library.text import Block, BlockKind, Text

_ALLOWED = "Allowed: one '# Title', paragraphs, flat lists with '- ', and **bold**."

# Markdown that our two faces do not carry, and the sentence that says so.
_FORBIDDEN: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"^\s*(\d+[.)]|\*|\+)\s"), "Numbered lists and other list marks are not allowed."),
    (re.compile(r"^\s+- "), "A list inside a list is not allowed."),
    (re.compile(r"^\s*>"), "Quotations are not allowed."),
    (re.compile(r"^\s*(```|~~~)|`"), "Code is not allowed."),
    (re.compile(r"</?[a-zA-Z!]"), "HTML is not allowed."),
    (re.compile(r"!?\[[^\]]*\]\("), "Links and pictures are not allowed; addresses come from the clinic file."),
    (re.compile(r"^\s*\|"), "Tables are not allowed."),
    (re.compile(r"^\s*([-*_=])\s*(\1\s*){2,}$"), "Lines across the page are not allowed."),
    (re.compile(r"(?<!\*)\*(?!\*)|(?<![\w])_|_(?![\w])"), "Only **bold** may mark words."),
    (re.compile(r"[\u202a-\u202e\u2066-\u2069\u200e\u200f]"), "Invisible direction marks are not allowed."),
    (re.compile(r"\\"), "Backslashes are not allowed."),
)
_SECTION = re.compile(r"^## +([a-z0-9][a-z0-9-]*)\s*$")


@dataclass(frozen=True, slots=True)
class Wording:
    """The words under one heading."""

    id: str
    title: Text | None
    blocks: tuple[Block, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class Source:
    """A parsed content file. `sections` are the `## id` parts, which only the clinic file has."""

    header: Fields
    title: Text
    blocks: tuple[Block, ...]
    sections: tuple[Wording, ...]
    where: Where


def parse_source(text: str, path: str, problems: list[Problem], *, sections: bool = False) -> Source:
    """A content file's text as a Source; every problem is added to `problems` with its line."""
    lines = text.splitlines()
    body_from = 0
    header = Fields(None, Where(path, 1), problems)
    if lines and lines[0].strip() == "---":
        end = next((number for number, line in enumerate(lines[1:], 1) if line.strip() == "---"), None)
        if end is None:
            problems.append(Problem(Fault.BAD_HEADER, "The header's closing '---' is missing.", where=Where(path, 1)))
            end = len(lines) - 1
        header = parse_yaml("\n".join(lines[1:end]), Where(path, 2), problems)
        body_from = end + 1
    else:
        advice = "Begin the file with '---', the header lines, and '---'."
        problems.append(Problem(Fault.BAD_HEADER, "The header is missing.", advice=advice, where=Where(path, 1)))
    reader = _Body(path, problems, sections)
    for number, line in enumerate(lines[body_from:], body_from + 1):
        reader.line(number, line)
    reader.close()
    first, *rest = reader.wordings
    if first.title is None and not sections:
        problems.append(Problem(Fault.BAD_MARKDOWN, "The title is missing.", _ALLOWED, where=Where(path, body_from + 1)))
    return Source(header, first.title or Text("", Where(path)), first.blocks, tuple(rest), Where(path))


class _Body:
    """Collects lines into blocks."""

    def __init__(self, path: str, problems: list[Problem], sections: bool) -> None:
        self.path, self.problems, self.sections = path, problems, sections
        self.wordings: list[Wording] = []
        self._id, self._start = "", 1
        self._title: Text | None = None
        self._blocks: list[Block] = []
        self._open: tuple[BlockKind, list[str], int] | None = None

    def line(self, number: int, line: str) -> None:
        """Take the next line."""
        if not line.strip():
            self._finish()
            return
        for pattern, sentence in _FORBIDDEN:
            if pattern.search(line):
                self.problems.append(Problem(Fault.BAD_MARKDOWN, sentence, _ALLOWED, where=Where(self.path, number)))
                return
        if section := _SECTION.match(line):
            self._section(section[1], number)
        elif line.startswith("# "):
            self._finish()
            if self._title or self._blocks:
                what = "A second title, or a title after text."
                self.problems.append(Problem(Fault.BAD_MARKDOWN, what, _ALLOWED, where=Where(self.path, number)))
            self._title = Text(line[2:].strip(), Where(self.path, number))
        elif line.startswith("#"):
            what = f"The heading '{line.strip()}' is of a kind we do not use."
            self.problems.append(Problem(Fault.BAD_MARKDOWN, what, _ALLOWED, where=Where(self.path, number)))
        elif line.startswith("- "):
            self._finish()
            self._open = (BlockKind.ITEM, [line[2:].strip()], number)
        elif self._open:
            self._open[1].append(line.strip())
        else:
            self._open = (BlockKind.PARAGRAPH, [line.strip()], number)

    def _section(self, id_: str, number: int) -> None:
        if not self.sections:
            what = f"The heading '## {id_}' may stand in the clinic file only."
            self.problems.append(Problem(Fault.BAD_MARKDOWN, what, _ALLOWED, where=Where(self.path, number)))
            return
        self.close()
        self._id, self._start = id_, number

    def _finish(self) -> None:
        if self._open:
            kind, lines, number = self._open
            self._blocks.append(Block(kind, Text(" ".join(lines), Where(self.path, number))))
            self._open = None

    def close(self) -> None:
        """End the words under the present heading."""
        self._finish()
        self.wordings.append(Wording(self._id, self._title, tuple(self._blocks), Where(self.path, self._start)))
        self._title, self._blocks = None, []
