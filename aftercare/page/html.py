"""Renders translated messages as safe HTML: Markdown first, then the values, each isolated by direction."""

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


def inline(message: str) -> str:
    """Convert a message to HTML and leave its placeholders as they are. Raises Refused for any Markdown but **bold**."""
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
    """Isolate a value with `<bdi>`, so that its characters keep their order in text of either direction.

    Phone numbers get the class `tel`, which prevents line breaks.
    """
    direction = f' dir="{value.direction}"' if value.direction else ""
    kind = ' class="tel"' if value.phone else ""
    return Markup(f"<bdi{direction}{kind}>{escape(value.text)}</bdi>")


def value_link(value: Value) -> Markup:
    """Isolate a value as `value_html` does; a phone number also becomes a `tel:` link."""
    isolated = value_html(value)
    return Markup(f'<a href="{escape(value.phone)}">{isolated}</a>') if value.phone else isolated


def value_text(value: Value) -> Markup:
    """Isolate a value with characters (UAX #9: LRI, RLI or FSI, and PDI) instead of an element, except a phone number.

    For paper: the print engine breaks a line too early where an inline element follows text that just fits.
    """
    if value.phone:
        return value_html(value)
    isolate = {Direction.LTR: "\u2066", Direction.RTL: "\u2067", None: "\u2068"}[value.direction]
    return Markup(isolate) + escape(value.text) + Markup("\u2069")


@lru_cache(maxsize=16384)  # a clinic has about 900 messages in each language, and every page repeats some of them
def _message_html(message: str) -> tuple[Markup, tuple[str, ...]]:
    """Return a message as HTML and the names of its placeholders in order. Raises Refused as `inline` does."""
    html = inline(message)
    return Markup(html), tuple(PLACEHOLDER.findall(html))


@dataclass(frozen=True, slots=True)
class SheetRenderer:
    """Renders the messages of a sheet in its language as HTML; `isolate` renders each value."""

    translated: TranslatedSheet[FullSheet | PatientSheet]
    isolate: Callable[[Value], Markup] = value_html

    def html(self, text: Text) -> Markup:
        """Render a message with its values. Raises Refused for a value that the sheet does not have and for bad Markdown."""
        html, names = _message_html(self.translated.translations[text.message])
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
        """Render a fixed text of the page. Raises KeyError for an unknown id."""
        return self.html(self.translated.sheet.full.labels[id_])

    def plain(self, text: Text) -> str:
        """Render a message without markup, for a title or an alternative text."""
        return Markup(self.html(text)).striptags()


@dataclass(frozen=True, slots=True)
class Call:
    """A number to call and its label. `when` identifies it on the phone page: `day`, `night` or `sos`."""

    when: str
    label: Markup
    number: Value
    hours: Markup | None = None

    @property
    def emergency(self) -> bool:
        """Whether this is the emergency number."""
        return self.when == "sos"

    @property
    def number_html(self) -> Markup:
        """The number, isolated by direction and without line breaks."""
        return value_html(self.number)


def calls(renderer: SheetRenderer) -> tuple[Call, ...]:
    """Return the numbers to call in the order of the sheet: clinic, after hours, emergency."""
    values = renderer.translated.values
    return (
        Call("day", renderer.label("call_day"), values["clinic_phone"], value_html(values["clinic_hours"])),
        Call("night", renderer.label("call_after_hours"), values["after_hours_phone"]),
        Call("sos", renderer.label("call_emergency"), values["emergency_number"]),
    )


def interpreter(renderer: SheetRenderer) -> Markup:
    """Return how to ask for an interpreter by phone; empty in English, the language of those who answer."""
    return Markup("") if renderer.translated.language.tag == SOURCE else renderer.label("call_interpreter")


def draft(renderer: SheetRenderer) -> Markup:
    """Return the sentence that says what is not approved yet; empty when all is."""
    translated = renderer.translated
    labels = {(True, True): "draft_both", (True, False): "draft_wording", (False, True): "draft_language"}
    label = labels.get((translated.draft_wording, translated.draft_language))
    return renderer.label(label) if label else Markup("")


def joined(parts: Iterable[Markup | str]) -> Markup:
    """Join the parts that are not empty with a middle dot."""
    return Markup(" · ").join(part for part in parts if part)
