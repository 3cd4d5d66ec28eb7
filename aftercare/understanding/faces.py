"""The two faces of a sheet, paper and phone, as trees of the HTML elements that are displayed when the page opens, and the
queries that the items of the instruments need.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from io import StringIO
from xml.etree.ElementTree import Element

from tinyhtml5.parser import HTMLParser  # type: ignore[import-untyped]  # ships no type hints

HEADINGS = frozenset({"h1", "h2", "h3"})
_UNDISPLAYED = frozenset({"head", "script", "style"})
# Elements that do not separate words: "<b>wrist</b>s" is one word.
_INLINE = frozenset({"a", "b", "bdi", "strong"})
# Characters that set the direction of a value inside a line; they are not displayed.
_ISOLATES = re.compile("[\u2066-\u2069]")


def without_isolates(text: str) -> str:
    """The text without the Unicode characters that isolate the direction of a value."""
    return _ISOLATES.sub("", text)


def parse(html: str) -> Element:
    """The `html` element of a page; no tag carries a namespace. Raises ValueError for HTML that a browser has to repair."""
    parser = HTMLParser(namespace_html_elements=False)
    root: Element = parser.parse(StringIO(html))  # a short string would be tried as the name of a file
    if parser.errors:
        raise ValueError("; ".join(f"line {line}: {error} {values}" for (line, _), error, values in parser.errors))
    for element in root.iter():
        if isinstance(element.tag, str):  # the tag of a comment is a function
            element.tag = element.tag.rpartition("}")[2]
    return root


def remove_undisplayed(element: Element) -> None:
    """Remove comments, `head`, scripts, styles and hidden elements from the tree below an element; text after them stays."""
    children, before = [*element], None
    for child in children:
        if isinstance(child.tag, str) and child.tag not in _UNDISPLAYED and "hidden" not in child.attrib:
            remove_undisplayed(child)
            before = child
            continue
        element.remove(child)
        if before is None:
            element.text = (element.text or "") + (child.tail or "")
        else:
            before.tail = (before.tail or "") + (child.tail or "")


def texts(element: Element) -> tuple[str, ...]:
    """The text of the element and of each of its descendants, in document order and with single blanks.

    What a drawing holds is not part of the text of the elements around it.
    """
    strings, descendants = [element.text or ""], list[str]()
    for child in element:
        child_texts = texts(child)
        descendants += child_texts
        if child.tag != "svg":
            strings.append(child_texts[0] if child.tag in _INLINE else f" {child_texts[0]} ")
        strings.append(child.tail or "")
    return (" ".join(without_isolates("".join(strings)).split()), *descendants)


def text_of(element: Element) -> str:
    """The text of an element with single blanks."""
    return texts(element)[0]


def classes(element: Element) -> tuple[str, ...]:
    """The names in the `class` attribute."""
    return tuple(element.get("class", "").split())


def with_tag(element: Element, *tags: str) -> tuple[Element, ...]:
    """Those of the element and its descendants that have one of these tags, in document order."""
    return tuple(part for part in element.iter() if part.tag in tags)


@dataclass(frozen=True)
class Face:
    """The paper sheet or the phone page. Queries are cached, so the tree must not be changed.

    `name` says which of them it is, in messages. `root` holds only what is displayed when the page opens; `ids` are the `id`
    attributes of all elements, also of those not displayed.
    """

    name: str
    root: Element
    ids: frozenset[str]

    @classmethod
    def of(cls, name: str, html: str) -> Face:
        """The face with this HTML. Raises ValueError for HTML that a browser has to repair."""
        root = parse(html)
        ids = frozenset(element.get("id", "") for element in root.iter())
        remove_undisplayed(root)
        return cls(name, root, ids)

    @cached_property
    def elements(self) -> tuple[tuple[Element, str], ...]:
        """Every element with its text, in document order."""
        return tuple(zip(self.root.iter(), texts(self.root), strict=True))

    @property
    def text(self) -> str:
        """The text of the whole page."""
        return self.elements[0][1]

    def with_tag(self, *tags: str) -> tuple[Element, ...]:
        """The elements with one of these tags, in document order."""
        return with_tag(self.root, *tags)

    def with_class(self, name: str) -> tuple[Element, ...]:
        """The elements with this class, in document order."""
        return self._by_class.get(name, ())

    @cached_property
    def _by_class(self) -> dict[str, tuple[Element, ...]]:
        by_class: dict[str, list[Element]] = {}
        for element in self.root.iter():
            for name in classes(element):
                by_class.setdefault(name, []).append(element)
        return {name: tuple(elements) for name, elements in by_class.items()}

    def place(self, text: str) -> int | None:
        """The last index in `elements` of an element with exactly this text; None if there is none."""
        return max((place for place, (_, element_text) in enumerate(self.elements) if element_text == text), default=None)

    def count(self, text: str) -> int:
        """The number of elements without children that have exactly this text."""
        return sum(element_text == text and not len(element) for element, element_text in self.elements)

    @cached_property
    def pictures(self) -> tuple[tuple[str, str], ...]:
        """Alternative text and caption of each drawing that is more than decoration; either may be empty.

        A caption is an element of class `caption` or `scan` in one of the two elements around the drawing.
        """
        return tuple(_pictures(self.root, ()))


def _pictures(element: Element, ancestors: tuple[Element, ...]) -> Iterator[tuple[str, str]]:
    if element.tag == "svg" and element.get("role") == "img":
        titles = map(text_of, element.iter("title"))
        inside = (part for ancestor in ancestors[-2:] for part in ancestor.iter())
        captions = (text_of(part) for part in inside if not {"caption", "scan"}.isdisjoint(classes(part)))
        yield " ".join(titles), " ".join(captions)
    for child in element:
        yield from _pictures(child, (*ancestors, element))
