"""From a sheet in a language to safe HTML: messages through Markdown, then values, each isolated for its direction."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path

import markdown
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.languages import SOURCE, Direction
from aftercare.language.translated import TranslatedSheet, Value
from aftercare.library.text import Block, BlockKind, Text
from aftercare.library.words import PLACEHOLDER

# Characters that mean something to Markdown anywhere, or at the start of a line.
_MARKDOWN_CHARACTERS = re.compile(r"[*_`\\\[\]<>&#~|^\n]|^[\s\d+=:.!-]|\s$|  ")
_TAGS = re.compile(r"</?(?!strong>)[a-z]")


@cache
def environment(templates: Path) -> Environment:
    """The templates in a folder, always escaping, and refusing any name they do not know."""
    return Environment(
        loader=FileSystemLoader(templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,  # else each page asks the disk four times whether its templates are still the same
    )


class _Markdown(threading.local):
    """One converter a thread: it is not safe across threads, and making one takes longer than a sentence."""

    def __init__(self) -> None:
        self.converter = markdown.Markdown()


_MARKDOWN = _Markdown()


@lru_cache(maxsize=65536)
def inline(message: str) -> str:
    """A message as HTML, its placeholders untouched. Only **bold** becomes markup; anything else is refused.

    Memoised: converting is nearly all the time a page takes, and pages share their messages. What holds no mark that
    Markdown knows is only escaped, which is far faster.
    """
    if not _MARKDOWN_CHARACTERS.search(message):
        return str(escape(message)).replace("&#39;", "'").replace("&#34;", '"')
    converted = _MARKDOWN.converter.reset().convert(str(escape(message)).replace("&#39;", "'").replace("&#34;", '"'))
    body = converted.removeprefix("<p>").removesuffix("</p>")
    if not converted.startswith("<p>") or _TAGS.search(body):
        what = f"The message '{message}' holds Markdown that a sheet does not carry."
        raise Refused(
            [Problem(Fault.BAD_MARKDOWN, what, "Only **bold** is allowed.", "Change the message or its translation.")]
        )
    return body


def value_html(value: Value) -> Markup:
    """A value, isolated so that its characters keep their order on a line of any direction; phones never break."""
    direction = f' dir="{value.direction}"' if value.direction else ""
    kind = ' class="tel"' if value.phone else ""
    return Markup(f"<bdi{direction}{kind}>{escape(value.text)}</bdi>")


def value_link(value: Value) -> Markup:
    """As value_html, and a phone can be called by a tap."""
    isolated = value_html(value)
    return Markup('<a href="{}">{}</a>').format(value.phone, isolated) if value.phone else isolated


def value_text(value: Value) -> Markup:
    """A value isolated by characters (UAX #9: LRI or FSI, and PDI) instead of an element; a phone keeps its element.

    The print engine breaks a line in the wrong place where an element follows text that just fits, so paper has few of them.
    """
    if value.phone:
        return value_html(value)
    opening = {Direction.LTR: "\u2066", Direction.RTL: "\u2067", None: "\u2068"}[value.direction]
    return Markup(opening) + escape(value.text) + Markup("\u2069")


@lru_cache(maxsize=65536)
def _parts(message: str) -> tuple[str, tuple[str, ...]]:
    """A message as HTML, and the names of the values it waits for."""
    html = inline(message)
    return html, tuple(PLACEHOLDER.findall(html))


# Pages of one clinic say the same sentences with the same values over and over.
@lru_cache(maxsize=65536)
def _said(html: str, values: tuple[Value, ...], isolate: Callable[[Value], Markup]) -> Markup:
    waiting = iter(values)
    # inline() escaped the message, isolate() each value.
    return Markup(PLACEHOLDER.sub(lambda _match: str(isolate(next(waiting))), html))


@dataclass(frozen=True, slots=True)
class SheetRenderer:
    """Says a sheet's messages in its language as HTML; `isolate` makes a value ready to stand in a line."""

    translated: TranslatedSheet
    isolate: Callable[[Value], Markup] = value_html

    def html(self, text: Text) -> Markup:
        """The message with its values in place. Raises Refused for a value the sheet does not have."""
        html, names = _parts(self.translated.translation(text))
        values = []
        for name in names:
            value = self.translated.values.get(name)
            if value is None:
                what = f"Nothing is known to fill '{{{name}}}' in '{text.message}'."
                raise Refused([Problem(Fault.UNFILLED, what, advice="Give the value or change the text.", where=text.where)])
            values.append(value)
        return _said(html, tuple(values), self.isolate)

    def label(self, id_: str) -> Markup:
        """A fixed word of the page."""
        return self.html(self.translated.sheet.labels[id_])

    def plain(self, text: Text) -> str:
        """The message without markup, for a title or an alternative text."""
        return Markup(self.html(text)).striptags()


@dataclass(frozen=True, slots=True)
class Run:
    """Neighboring blocks of one kind: one list, or paragraphs."""

    kind: BlockKind
    blocks: tuple[Block, ...]


def runs(blocks: Sequence[Block]) -> tuple[Run, ...]:
    """Blocks gathered into lists and paragraphs."""
    return tuple(Run(kind, tuple(group)) for kind, group in groupby(blocks, key=lambda block: block.kind))


@dataclass(frozen=True, slots=True)
class Call:
    """One number to call, with the words beside it. `when` names it for the phone page: `day`, `night` or `sos`."""

    when: str
    label: Markup
    number: Value
    hours: Markup | None = None

    @property
    def emergency(self) -> bool:
        """Whether it is the number for a life in danger."""
        return self.when == "sos"

    @property
    def number_html(self) -> Markup:
        """The number, isolated and unbroken."""
        return value_html(self.number)


def calls(renderer: SheetRenderer) -> tuple[Call, ...]:
    """Who to call, the most urgent last as on the sheet: the clinic, after hours, emergency."""
    values = renderer.translated.values
    return (
        Call("day", renderer.label("call_day"), values["clinic_phone"], value_html(values["clinic_hours"])),
        Call("night", renderer.label("call_after_hours"), values["after_hours_phone"]),
        Call("sos", renderer.label("call_emergency"), values["emergency_number"]),
    )


def interpreter(renderer: SheetRenderer) -> Markup:
    """How to ask for an interpreter by phone; empty in the language of those who answer."""
    return Markup("") if renderer.translated.language.tag == SOURCE else renderer.label("call_interpreter")


def joined(parts: Iterable[Markup | str]) -> Markup:
    """Pieces with a middle dot between them."""
    return Markup(" · ").join(part for part in parts if part)
