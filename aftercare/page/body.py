"""Template values for the body that paper and phone share: signs and passages with their texts as HTML.

All are hashable and compared by value, so that `Templates.part` renders equal parts of two sheets once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from aftercare.library.modules import Tier
from aftercare.library.text import BlockKind, Text
from aftercare.page.html import SheetRenderer
from aftercare.sheet.sheet import Passage, Sign

_EMPTY = Markup("")


@dataclass(frozen=True, slots=True)
class SignHtml:
    """A warning sign; `picture` is the pictogram's name.

    On the phone, `pictogram` is the inline SVG, `attributes` the condition for the script and `lead` the condition in words.
    On paper these three are empty.
    """

    picture: str
    pictogram: Markup
    attributes: Markup
    lead: tuple[Markup, ...]
    sign: Markup
    why: Markup


@dataclass(frozen=True, slots=True)
class SignGroupHtml:
    """The signs of one tier."""

    tier: Tier
    title: Markup
    signs: tuple[SignHtml, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive blocks of one kind: the items of one list, or paragraphs."""

    kind: BlockKind
    texts: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class PassageHtml:
    """A passage. `attributes` and `lead` are as in `SignHtml`; `title` and `why` are empty where the passage has none."""

    attributes: Markup
    lead: tuple[Markup, ...]
    title: Markup
    runs: tuple[Run, ...]
    why: Markup


@dataclass(frozen=True, slots=True)
class SectionHtml:
    """All passages of one topic; `picture` and `pictogram` are as in `SignHtml`."""

    picture: str
    pictogram: Markup
    title: Markup
    passages: tuple[PassageHtml, ...]


def sign_html(
    renderer: SheetRenderer,
    sign: Sign,
    *,
    pictogram: Markup = _EMPTY,
    attributes: Markup = _EMPTY,
    lead: tuple[Text, ...] = (),
) -> SignHtml:
    """Render the texts of a sign in the renderer's language. Raises Refused as `SheetRenderer.html` does."""
    html = renderer.html
    return SignHtml(sign.picture, pictogram, attributes, tuple(map(html, lead)), html(sign.sign), html(sign.why))


def passage_html(
    renderer: SheetRenderer, passage: Passage, *, attributes: Markup = _EMPTY, lead: tuple[Text, ...] = ()
) -> PassageHtml:
    """Render the texts of a passage in the renderer's language. Raises Refused as `SheetRenderer.html` does."""
    html = renderer.html
    runs = tuple(
        Run(kind, tuple(html(block.text) for block in blocks))
        for kind, blocks in groupby(passage.blocks, key=lambda block: block.kind)
    )
    title = html(passage.title) if passage.title else _EMPTY
    why = html(passage.why) if passage.why else _EMPTY
    return PassageHtml(attributes, tuple(map(html, lead)), title, runs, why)


class Labels(Mapping[str, Markup]):
    """The fixed texts of a page as HTML by id. Immutable, compared and hashed by value."""

    __slots__ = ("_hash", "_texts")

    def __init__(self, renderer: SheetRenderer) -> None:
        self._texts = {id_: renderer.html(text) for id_, text in renderer.translated.sheet.full.labels.items()}
        self._hash = hash(frozenset(self._texts.items()))

    def __getitem__(self, id_: str) -> Markup:
        return self._texts[id_]

    def __iter__(self) -> Iterator[str]:
        return iter(self._texts)

    def __len__(self) -> int:
        return len(self._texts)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Labels) and self._texts == other._texts

    def __hash__(self) -> int:
        return self._hash
