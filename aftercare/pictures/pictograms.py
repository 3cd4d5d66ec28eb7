"""Pictograms for pages, from the text of an SVG file in the house style (library/pictograms.py)."""

from __future__ import annotations

from functools import lru_cache
from urllib.parse import quote
from xml.etree import ElementTree

from aftercare.library.pictograms import ROOT_ATTRIBUTES
from aftercare.pictures.style import element


def pictogram_paths(svg: str) -> str:
    """The path elements of a pictogram, in file order. What lies around them gives their stroke and its width."""
    paths = []
    for path in ElementTree.fromstring(svg):
        attributes = {name: value for name, value in path.attrib.items() if name != "d"}
        paths.append(element("path", line=path.attrib["d"], **attributes))
    return "".join(paths)


@lru_cache(maxsize=64)  # a library has some 30; parsing one takes about 30 µs, and a page shows each several times
def inline_pictogram(svg: str, css_class: str) -> str:
    """The pictogram as decorative inline SVG of a CSS class, which gives its size and strokes."""
    view_box = ROOT_ATTRIBUTES["viewBox"]
    return f'<svg class="{css_class}" viewBox="{view_box}" aria-hidden="true">{pictogram_paths(svg)}</svg>'


def pictogram_data_uri(svg: str, color: str) -> str:
    """The pictogram in one color (`#rrggbb`) as a data URI for a CSS background, fully percent-encoded."""
    return "data:image/svg+xml," + quote(svg.strip().replace("currentColor", color), safe="")
