"""A face of the sheet as its HTML shows it: elements, what they say, and which of them are headings, lists and pictures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from html.parser import HTMLParser

_VOID = frozenset({"br", "hr", "img", "input", "link", "meta"})
_SILENT = frozenset({"head", "script", "style", "svg"})
HEADINGS = frozenset({"h1", "h2", "h3"})
_INLINE = frozenset({"a", "b", "bdi", "strong"})
# Isolating characters keep values in order on a line; they say nothing.
ISOLATES = dict.fromkeys(range(0x2066, 0x206A))


@dataclass
class Element:
    """An element and what stands in it, in order. Read only once it is whole: what it shows and says is kept."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    inside: list[Element | str] = field(default_factory=list)

    @cached_property
    def classes(self) -> tuple[str, ...]:
        """The names in its `class`."""
        return tuple(self.attributes.get("class", "").split())

    @cached_property
    def shown(self) -> tuple[Element, ...]:
        """Itself and every element inside it that is on the page from the start, in reading order."""
        if "hidden" in self.attributes or self.tag == "head":
            return ()
        return (self, *(element for part in self.parts for element in part.shown))

    @property
    def parts(self) -> tuple[Element, ...]:
        """The elements right inside it."""
        return tuple(part for part in self.inside if isinstance(part, Element))

    def of(self, *tags: str) -> tuple[Element, ...]:
        """The shown elements of these tags."""
        return tuple(element for element in self.shown if element.tag in tags)

    def named(self, *classes: str) -> tuple[Element, ...]:
        """The shown elements with one of these classes."""
        return tuple(element for element in self.shown if set(classes) & set(element.classes))

    @cached_property
    def text(self) -> str:
        """What it says, with single blanks; drawings and scripts say nothing."""
        return " ".join("".join(self._words()).translate(ISOLATES).split())

    def _words(self) -> Iterator[str]:
        for part in self.inside:
            if isinstance(part, str):
                yield part
            elif part.tag not in _SILENT and "hidden" not in part.attributes:
                yield part.text if part.tag in _INLINE else f" {part.text} "


@dataclass(frozen=True, slots=True)
class Face:
    """Paper or phone; `name` is for people."""

    name: str
    root: Element

    @classmethod
    def of(cls, name: str, html: str) -> Face:
        """The face that this HTML makes."""
        reader = _Reader()
        reader.feed(html)
        reader.close()
        return cls(name, reader.open[0])

    def place(self, text: str) -> int | None:
        """Where the element that says exactly this stands among those shown; None where none does."""
        return max((place for place, element in enumerate(self.root.shown) if element.text == text), default=None)

    def count(self, text: str) -> int:
        """How often an element with no other inside it says exactly this."""
        return sum(element.text == text and not element.parts for element in self.root.shown)

    def pictures(self) -> Iterator[tuple[str, str]]:
        """Alternative text and caption of each drawing that is more than decoration.

        A caption is a `caption` or `scan` paragraph in one of the two boxes around the drawing.
        """
        yield from _pictures(self.root, ())


def _pictures(element: Element, around: tuple[Element, ...]) -> Iterator[tuple[str, str]]:
    if element.tag == "svg" and element.attributes.get("role") == "img":
        titles = [title.text for title in element.of("title")]
        captions = [caption.text for box in around[-2:] for caption in box.named("caption", "scan")]
        yield " ".join(titles), " ".join(captions)
    for part in element.parts:
        if "hidden" not in part.attributes:
            yield from _pictures(part, (*around, element))


class _Reader(HTMLParser):
    """Builds the tree; our templates close every element they open."""

    def __init__(self) -> None:
        super().__init__()
        self.open = [Element("page")]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(element)
        if tag not in _VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].inside.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if tag != self.open[-1].tag:
            raise ValueError(f"</{tag}> closes <{self.open[-1].tag}>.")
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)
