"""From a sheet in a language to safe HTML: messages through Markdown, then values, each isolated for its direction."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from html import escape as escape_html

from markupsafe import Markup, escape

from aftercare.errors import Fault, Refused
from aftercare.language.languages import SOURCE, Direction
from aftercare.language.translated import TranslatedSheet, Value
from aftercare.library.markdown_subset import parse_inline, refusals
from aftercare.library.text import Text
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.sheet import FullSheet, PatientSheet


@lru_cache(maxsize=16384)  # a clinic has about 900 messages in each language, and every page repeats some of them
def inline(message: str) -> str:
    """A message as HTML, its placeholders untouched. Raises Refused for any Markdown but **bold**."""
    paragraph = parse_inline(message)
    if any(refusals(paragraph, 0)):
        raise Refused.one(
            Fault.BAD_MARKDOWN,
            "The message {} holds Markdown that a sheet does not carry.",
            subject=(message,),
            allowed=("**bold**",),
            advice="Change the message or its translation.",
        )
    bold = "".join(f"<strong>{_escaped(strong.text)}</strong>{_escaped(strong.tail)}" for strong in paragraph)
    return _escaped(paragraph.text) + bold


def _escaped(text: str | None) -> str:
    return escape_html(text or "", quote=False)


def value_html(value: Value) -> Markup:
    """A value, isolated so that its characters keep their order on a line of any direction; phones never break."""
    direction = f' dir="{value.direction}"' if value.direction else ""
    kind = ' class="tel"' if value.phone else ""
    return Markup(f"<bdi{direction}{kind}>{escape(value.text)}</bdi>")


def value_link(value: Value) -> Markup:
    """As value_html, and a phone can be called by a tap."""
    isolated = value_html(value)
    return Markup(f'<a href="{escape(value.phone)}">{isolated}</a>') if value.phone else isolated


def value_text(value: Value) -> Markup:
    """A value isolated by characters (UAX #9: LRI or FSI, and PDI) instead of an element; a phone keeps its element.

    The print engine breaks a line in the wrong place where an element follows text that just fits, so paper has few of them.
    """
    if value.phone:
        return value_html(value)
    opening = {Direction.LTR: "\u2066", Direction.RTL: "\u2067", None: "\u2068"}[value.direction]
    return Markup(opening) + escape(value.text) + Markup("\u2069")


@lru_cache(maxsize=65536)
def message_html(message: str) -> tuple[Markup, tuple[str, ...]]:
    """A message as HTML, and the names of the values it waits for, in order."""
    html = inline(message)
    return Markup(html), tuple(PLACEHOLDER.findall(html))


@dataclass(frozen=True, slots=True)
class SheetRenderer:
    """Renders a sheet's messages in its language as HTML; `isolate` makes a value ready to stand in a line."""

    translated: TranslatedSheet[FullSheet | PatientSheet]
    isolate: Callable[[Value], Markup] = value_html

    def html(self, text: Text) -> Markup:
        """The message with its values in place. Raises Refused for a value the sheet does not have."""
        html, names = message_html(self.translated.translations[text.message])
        if not names:
            return html
        missing = [name for name in names if name not in self.translated.values]
        if missing:
            raise Refused.one(
                Fault.UNFILLED,
                "Nothing is known to fill {} in {}.",
                subject=(f"{{{missing[0]}}}", text.message),
                advice="Give the value or change the text.",
                where=text.where,
            )
        values = iter([str(self.isolate(self.translated.values[name])) for name in names])
        return Markup(PLACEHOLDER.sub(lambda _match: next(values), html))

    def label(self, id_: str) -> Markup:
        """A fixed word of the page."""
        return self.html(self.translated.sheet.full.labels[id_])

    def plain(self, text: Text) -> str:
        """The message without markup, for a title or an alternative text."""
        return Markup(self.html(text)).striptags()


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


def draft(renderer: SheetRenderer) -> Markup:
    """The sentence that says what still waits for approval; empty when nothing does."""
    translated = renderer.translated
    waiting = {(True, True): "draft_both", (True, False): "draft_wording", (False, True): "draft_language"}
    id_ = waiting.get((translated.draft_wording, translated.draft_language))
    return renderer.label(id_) if id_ else Markup("")


def joined(parts: Iterable[Markup | str]) -> Markup:
    """Pieces with a middle dot between them."""
    return Markup(" · ").join(part for part in parts if part)
