"""Pictograms in one line style: a topic, a sign, a tier or a part of the page each, legible at 12 mm in black and white."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import quote

from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed
from aftercare.pictures.glyphs import GLYPHS, Glyph
from aftercare.pictures.style import element

BOX = 32
SLASH = "M4 28L28 4"


def drawn(glyph: Glyph) -> str:
    """The inside of a pictogram's SVG."""
    solid = element("path", line=glyph.solid, fill="currentColor") if glyph.solid else ""
    slash = element("path", line=SLASH, stroke_width=3) if glyph.forbidden else ""
    return element("path", line=glyph.lines) + solid + slash


PICTOGRAMS: Mapping[str, str] = {name: drawn(glyph) for name, glyph in GLYPHS.items()}


def pictogram(name: str) -> str:
    """The pictogram as decorative inline SVG in the color of the text; raises Refused for an unknown name."""
    if name not in PICTOGRAMS:
        what = f"There is no pictogram '{name}'."
        raise Refused([Problem(Fault.UNKNOWN_NAME, what, listed(PICTOGRAMS), did_you_mean(name, PICTOGRAMS))])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {BOX} {BOX}" aria-hidden="true" fill="none"'
        f' stroke="currentColor" stroke-width="2" stroke-linejoin="round" stroke-linecap="round">{PICTOGRAMS[name]}</svg>'
    )


def pictogram_data_uri(name: str, color: str) -> str:
    """The pictogram in one color (`#rrggbb`) as a data URI for a CSS background on paper, fully percent-encoded."""
    return "data:image/svg+xml," + quote(pictogram(name).replace("currentColor", color), safe="")
