"""The subset of Markdown that content files and translations use, parsed by Python-Markdown's block and inline parsers.

What is allowed has a processor below that creates its element: `h1`, `h2`, `p`, `ul` with `li`, and `strong`. Everything else
that has a meaning in Markdown becomes an element `refused`, so that no text silently changes its meaning.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple, TypeVar
from xml.etree.ElementTree import Element, SubElement

from markdown import Markdown
from markdown.blockparser import BlockParser
from markdown.blockprocessors import BlockProcessor
from markdown.inlinepatterns import InlineProcessor, SimpleTagInlineProcessor
from markdown.treeprocessors import InlineProcessor as InlineParser
from markdown.util import AtomicString, Registry

REFUSED = "refused"

# Lines that begin a block which is not allowed; the first pattern that matches gives the problem.
_REFUSED_LINES = (
    (r"[\s*_=-]+$", "A line of '-', '=', '*' or '_' alone is not allowed: {}."),
    (r"\s*(\d+[.)]|\*|\+)(\s|$)", "Numbered lists and other list marks are not allowed: {}."),
    (r"\s+-\s", "A list inside a list is not allowed: {}."),
    (r"\s*>", "Quotations are not allowed: {}."),
    (r"\s*~~~", "Code is not allowed: {}."),
    (r"(?!##? +[^\s#])\s*#|#.*#\s*$", "This kind of heading is not allowed: {}."),
)
_ANY_REFUSED_LINE = re.compile("|".join(pattern for pattern, _ in _REFUSED_LINES))
_CONTROL = r"\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029"  # all but tab and newline
# Marks inside a block. All but bold are refused, in this order: bold is matched before stray asterisks.
_REFUSED_MARKS = (
    (rf"[{_CONTROL}]", "Control characters are not allowed: {}."),
    (r"`+", "Code is not allowed: {}."),
    (r"\\", "Backslashes are not allowed: {}."),
    (r"</?[a-zA-Z!?][^<>\n]*>?|&(#\d+|#[xX][0-9a-fA-F]+|\w+);", "HTML is not allowed: {}."),
    (r"!?\[[^\]]*\] ?[(\[:]", "Links and pictures are not allowed; addresses come from the clinic file: {}."),
    (r"\|", "Tables are not allowed: {}."),
    (r"  +(?=\n)", "Two spaces at the end of a line are not allowed, since they break the line in Markdown: {}."),
)
_BOLD = r"()(?<!\*)\*\*(?![\s*])([^*]+)(?<!\s)\*\*(?!\*)"  # its second group is the text
_STRAY_MARKS = (
    (r"\*{2,}", "Bold words have '**' directly before and directly after them, but {} has no partner."),
    (r"\*|(?<!\w)_+|_+(?!\w)", "Only **bold** may mark words, not {}."),
)
# Every mark above has one of these characters. Most texts have none and need no parser.
_MARK_CHARACTER = re.compile(rf"[`\\<&\[|*_{_CONTROL}]|  \n")


class Refusal(NamedTuple):
    """Markdown that is not allowed: its line, a sentence with `{}` for the refused text, and that text."""

    line: int
    what: str
    text: str


def parse_blocks(lines: Iterable[str], first: int) -> Element:
    """Parse a body into blocks, the children of one element; `first` is the number of the body's first line in its file.

    The attribute `line` of a block is the number of its first line. The text of `p` and `li` is that of their lines, joined
    by newlines, with its inline Markdown unparsed.
    """
    root = Element("div")
    for number, line in enumerate(lines, first):
        root.set("line", str(number))
        _MARKDOWN.parser.parseBlocks(root, [line])
    return root


def parse_inline(text: str) -> Element:
    """Parse a text into an element `p` with children `strong` and `refused`; a `strong` may contain `refused`."""
    paragraph = Element("p")
    paragraph.text = text
    if _MARK_CHARACTER.search(text):
        root = Element("div")
        root.append(paragraph)
        InlineParser(_MARKDOWN).run(root)  # parses the children
    return paragraph


def refusals(element: Element, line: int) -> Iterator[Refusal]:
    """The refusals in an element of `parse_inline`, or of a refused block; `line` is the number of its first line."""
    if element.tag == REFUSED:
        yield Refusal(line, element.get("what", ""), element.text or "")
    line += (element.text or "").count("\n")
    for child in element:
        yield from refusals(child, line)
        line += "".join((*child.itertext(), child.tail or "")).count("\n")


class _Subset(Markdown):
    """The processors of the subset. They have no state, so they are thread-safe; `Markdown.convert` is not used."""

    def build_parser(self) -> _Subset:
        self.preprocessors, self.treeprocessors, self.postprocessors = Registry(), Registry(), Registry()
        self.parser = BlockParser(self)
        processors = (_Blank, _RefusedLine, _Heading, _Item, _Paragraph)
        self.parser.blockprocessors = _registered(processor(self.parser) for processor in processors)
        marks: list[InlineProcessor] = [_RefusedMark(*mark) for mark in _REFUSED_MARKS]
        marks.append(SimpleTagInlineProcessor(_BOLD, "strong"))
        marks += [_RefusedMark(*mark) for mark in _STRAY_MARKS]
        self.inlinePatterns = _registered(marks)
        return self


class _LineProcessor(BlockProcessor):
    """A processor of single lines. The state left by earlier lines is in the parent element.

    The attribute `line` of the parent is the number of the line; `open` is set while the next line continues the last block.
    """

    def add(self, parent: Element, tag: str, text: str = "") -> Element:
        """Append an element for the line."""
        element = SubElement(parent, tag, line=parent.attrib["line"])
        element.text = text
        return element

    def refuse(self, parent: Element, what: str, line: str) -> None:
        """Append the refusal of the line."""
        self.add(parent, REFUSED, line.strip()).set("what", what)


class _Blank(_LineProcessor):
    def test(self, parent: Element, block: str) -> bool:  # noqa: ARG002
        return not block.strip()

    def run(self, parent: Element, blocks: list[str]) -> None:
        blocks.pop()
        parent.attrib.pop("open", None)


class _RefusedLine(_LineProcessor):
    def test(self, parent: Element, block: str) -> bool:
        return _ANY_REFUSED_LINE.match(block) is not None or self._is_code(parent, block)

    def run(self, parent: Element, blocks: list[str]) -> None:
        line = blocks.pop()
        code = "Text indented by four spaces is code, which is not allowed: {}."
        self.refuse(parent, next((what for pattern, what in _REFUSED_LINES if re.match(pattern, line)), code), line)

    def _is_code(self, parent: Element, line: str) -> bool:
        return line[0] in " \t" and "open" not in parent.attrib and line.expandtabs().startswith(" " * self.tab_length)


class _Heading(_LineProcessor):
    def test(self, parent: Element, block: str) -> bool:  # noqa: ARG002
        return block.startswith("#")

    def run(self, parent: Element, blocks: list[str]) -> None:
        line = blocks.pop()
        if parent.tag == "li":
            self.refuse(parent, "A heading inside a list is not allowed: {}.", line)
            return
        marks, text = line.split(" ", 1)
        self.add(parent, f"h{len(marks)}", text.strip())
        parent.attrib.pop("open", None)


class _Item(_LineProcessor):
    def test(self, parent: Element, block: str) -> bool:  # noqa: ARG002
        return block.startswith(("- ", "-\t"))

    def run(self, parent: Element, blocks: list[str]) -> None:
        line = blocks.pop()
        if parent.tag == "li":
            self.refuse(parent, "A list inside a list is not allowed: {}.", line)
            return
        last = self.lastChild(parent)
        items = self.add(parent, "ul") if last is None or last.tag != "ul" else last
        item = SubElement(items, "li", line=parent.attrib["line"])
        self.parser.parseBlocks(item, [line[1:].lstrip()])
        parent.set("open", "")


class _Paragraph(_LineProcessor):
    def test(self, parent: Element, block: str) -> bool:  # noqa: ARG002
        return True

    def run(self, parent: Element, blocks: list[str]) -> None:
        text = blocks.pop().lstrip()
        last = self.lastChild(parent)
        if parent.tag == "li":
            parent.text = text
        elif "open" in parent.attrib and last is not None and last.tag != REFUSED:
            continued = last[-1] if last.tag == "ul" else last
            continued.text = f"{continued.text or ''}\n{text}"
        else:
            self.add(parent, "p", text)
            parent.set("open", "")


class _RefusedMark(InlineProcessor):
    def __init__(self, pattern: str, what: str) -> None:
        super().__init__(pattern)
        self.what = what

    # The library's InlineProcessor breaks the signature of its own base class in the same way.
    def handleMatch(self, m: re.Match[str], data: str) -> tuple[Element, int, int]:  # type: ignore[override]  # noqa: ARG002, N802
        refused = Element(REFUSED, what=self.what)
        refused.text = AtomicString(m[0])  # not parsed any further
        return refused, m.start(), m.end()


_T = TypeVar("_T")


def _registered(items: Iterable[_T]) -> Registry[_T]:
    """A registry with the items in this order."""
    registry = Registry[_T]()
    for order, item in enumerate(items):
        registry.register(item, str(order), -order)
    list(registry)  # sorts it now, which would otherwise happen at its first use and is not thread-safe
    return registry


_MARKDOWN = _Subset()
