"""Pictograms in one line style on a 32-unit square: a topic, a sign or a tier each, legible at 12 mm in black and white."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import quote

from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed

BOX = 32
_SLASH = "M4 28L28 4"

# Path data of thin lines, of solid parts, and whether a heavy slash forbids it.
_LINES: dict[str, tuple[str, str, bool]] = {
    "raise": ("M5 23h14a3 3 0 0 1 0 6H5a3 3 0 0 1 0-6zM7 23a3 3 0 0 1 0-6h11a3 3 0 0 1 0 6M3 13L16 6q4-1 5 3l-1 2-7 4M27 29V9M23 13l4-4 4 4", "", False),
    "ice": ("M16 3v26M4.7 9.5l22.6 13M27.3 9.5l-22.6 13M12 5l4 4 4-4M12 27l4-4 4 4M4 14.5l5.5-1.5L8 7.5M28 17.5L22.5 19l1.5 5.5M24 7.5L22.5 13l5.5 1.5M8 24.5L9.5 19 4 17.5", "", False),
    "move": ("M10 28v-6l-5-7q-1-3 2-2l4 4V7q2-3 4 0V4q2-3 4 0v3q2-3 4 0v3q2-2 3 0v10l-3 8M15 7v6M19 7v6M23 9v4M4 8q-2-3 1-6M28 3q3 2 1 6", "", False),
    "dry": ("M16 3q9 11 9 17a9 9 0 0 1-18 0q0-6 9-17z", "", True),
    "inside": ("M8 12h16l-2 17H10zM9 18h14M10 24h12M14 18L20 2", "", True),
    "skin": ("M2 16q14-18 28 0-14 18-28 0zM16 11a5 5 0 1 0 .1 0z", "M16 14a2 2 0 1 0 .1 0z", False),
    "removal": ("M8 24a4 4 0 1 0 .1 0zM24 24a4 4 0 1 0 .1 0zM10 24L22 3M22 24L10 3", "", True),
    "weight": ("M8 20q-3-9 2-10 5 0 4 6l1 5q0 4-4 4-3-1-3-5zM24 4v20M19 19l5 5 5-5M3 29h26", "", False),
    "crutches": ("M6 4h7M9.5 4v24M9.5 15h-4M20 4h7M23.5 4v24M23.5 15h-4M7.5 28h4M21.5 28h4", "", False),
    "shoe": ("M9 4v12l-4 4v5h24q1-6-5-7l-5-2V4zM4 29h26", "", False),
    "sling": ("M16 3a4 4 0 1 0 .1 0zM6 29V18q0-5 5-5h10q5 0 5 5v11M10 19l12-6M10 19v6h11l4-4", "", False),
    "daily": ("M5 11h22v16H5zM12 11V7h8v4M5 18h22M16 16v4", "", False),
    "sleep": ("M3 27V12M3 23h26v4M29 23q0-6-6-6H12v6M7 16a2 2 0 1 0 .1 0zM18 4h6l-6 7h6", "", False),
    "car": ("M4 25V17l3-9h18l3 9v8zM4 17h24M7 25v3M25 25v3M9 21h2M21 21h2", "", False),
    "plane": ("M16 3q2 0 2 4v6l11 7v3l-11-4v6l3 3v2l-5-2-5 2v-2l3-3v-6L3 23v-3l11-7V7q0-4 2-4z", "", False),
    "pain": ("M16 2l3 8 8-4-4 8 8 3-8 3 4 8-8-4-3 8-3-8-8 4 4-8-8-3 8-3-4-8 8 4z", "", False),
    "medicine": ("M6 18L18 6a5.6 5.6 0 0 1 8 8L14 26a5.6 5.6 0 0 1-8-8zM12 12l8 8", "", False),
    "special": ("M16 28Q2 17 4 10q4-8 12 0 8-8 12 0 2 7-12 18z", "", False),
    "nerve-block": ("M4 28l6-6M8 18l6 6 10-10-6-6zM20 6l6 6M23 9l4-4M25 3l4 4M12 14l3 3M15 11l3 3", "", False),
    "child": ("M16 4a9 9 0 1 0 .1 0zM12 16q4 4 8 0M7 28q9-8 18 0", "M12 10a1.3 1.3 0 1 0 .1 0zM20 10a1.3 1.3 0 1 0 .1 0z", False),
    "blood": ("M16 3q9 11 9 17a9 9 0 0 1-18 0q0-6 9-17zM16 15v8M12 19h8", "", False),
    "wire": ("M2 12h28M2 24h28M10 18V6M22 18V6", "M10 2a2.5 2.5 0 1 0 .1 0zM22 2a2.5 2.5 0 1 0 .1 0z", False),
    "spica": ("M16 2a4 4 0 1 0 .1 0zM10 12h12v8l4 9h-6l-4-7-4 7H6l4-9zM10 16h12M10 20h12", "", False),
    "visit": ("M4 7h24v21H4zM4 13h24M10 4v5M22 4v5M11 20l4 4 7-7", "", False),
    "call": ("M6 4l5-1 3 7-3 3q2 5 7 7l3-3 7 3-1 5q-1 3-5 3Q8 25 4 9q0-4 2-5zM19 4q8 1 9 9", "", False),
    "off": ("M4 6q6 3 0 20M28 6q-6 3 0 20M12 4v24M20 4v24M12 16h-6M20 16h6", "", False),
    "tight": ("M11 3v26M21 3v26M2 16h6M5 13l3 3-3 3M30 16h-6M27 13l-3 3 3 3", "", False),
    "numb": ("M11 29V9q5-8 10 0v20M13 12q3 2 6 0", "M5 8a1.2 1.2 0 1 0 .1 0zM4 16a1.2 1.2 0 1 0 .1 0zM27 8a1.2 1.2 0 1 0 .1 0zM28 16a1.2 1.2 0 1 0 .1 0z", False),
    "cannot-move": ("M10 28v-6l-5-7q-1-3 2-2l4 4V7q2-3 4 0V4q2-3 4 0v3q2-3 4 0v3q2-2 3 0v10l-3 8", "", True),
    "pale-cold": ("M8 29V9q4-7 8 0v20M10 12q2 1 4 0M24 6v14M18 9.5l12 7M30 9.5l-12 7", "", False),
    "swollen": ("M12 29V24q-6-6-1-14 5-8 10 0 5 8-1 14v5M3 14H1M31 14h-2M5 6L3 4M27 6l2-2", "", False),
    "burn": ("M16 3q1 6 6 10 4 4 3 9-2 7-9 7t-9-7q0-6 4-9 0 4 2 5 2-8 3-15z", "", False),
    "smell": ("M8 16h16v13H8zM11 12q-3-3 0-5t0-5M16 12q-3-3 0-5t0-5M21 12q-3-3 0-5t0-5", "", False),
    "stain": ("M8 3h16v26H8zM12 12q4-3 7 0 4 2 0 5-1 5-5 4-5-2-2-9z", "", False),
    "fever": ("M13 5q3-4 6 0v14a6 6 0 1 1-6 0zM16 12v9M23 7h4M23 12h4", "M16 22a2.5 2.5 0 1 0 .1 0z", False),
    "wet-broken": ("M6 12h14v17H6zM13 12l-3 6 5 3-3 8M25 3q5 6 5 9a5 5 0 0 1-10 0q0-3 5-9z", "", False),
    "loose": ("M12 3v26M20 3v26M6 8v16M26 8v16M9 16H2M23 16h7", "", False),
    "calf": ("M11 3q-6 10 0 18v5h13q0-4-8-5 0-8 3-18", "M10 10q-2 5 1 9 2-5-1-9z", False),
    "chest": ("M16 6v8M14 14q-2-6-5-5-5 5-5 16 6 3 9-1zM18 14q2-6 5-5 5 5 5 16-6 3-9-1z", "", False),
    "object-inside": ("M10 3v26M22 3v26M16 12a4 4 0 1 0 .1 0z", "M16 15a1 1 0 1 0 .1 0z", False),
    "bleed": ("M3 10h26M10 14q4 5 4 7a4 4 0 0 1-8 0q0-2 4-7zM23 17q4 5 4 7a4 4 0 0 1-8 0q0-2 4-7z", "", False),
    "red-edge": ("M3 12h15v12H3zM18 14h11M18 22h11M22 10V6M26 10V7M22 26v3M26 26v3", "", False),
    "emergency": ("M2 24V9h17v15zM19 14h6l5 5v5H19M7 24a3 3 0 1 0 6 0 3 3 0 1 0-6 0zM21 24a3 3 0 1 0 6 0 3 3 0 1 0-6 0zM10.5 12v8M6.5 16h8", "", False),
    "now": ("M3 15L16 4l13 11M6 13v16h20V13M16 14v10M11 19h10", "", False),
    "today": ("M16 9a7 7 0 1 0 .1 0zM16 2v3M16 27v3M2 16h3M27 16h3M6 6l2 2M24 24l2 2M26 6l-2 2M8 24l-2 2", "", False),
    "office": ("M16 3a13 13 0 1 0 .1 0zM16 8v8l6 4", "", False),
    "warning": ("M16 3L30 28H2zM16 12v8", "M16 23a1.3 1.3 0 1 0 .1 0z", False),
    "draft": ("M6 3h20v26H6zM10 24l2-5 8-9 3 3-8 9z", "", False),
    "phone": ("M9 2h14v28H9zM9 7h14M9 24h14M15 27h2", "", False),
    "read-aloud": ("M3 12h6l8-7v22l-8-7H3zM21 12q3 4 0 8M25 8q6 8 0 16", "", False),
    "clock": ("M16 3a13 13 0 1 0 .1 0zM16 8v8l6 4", "", False),
    "sheet": ("M6 3h14l6 6v20H6zM20 3v6h6M10 15h12M10 20h12M10 25h7", "", False),
}


def _body(name: str) -> str:
    thin, solid, forbidden = _LINES[name]
    body = f'<path d="{thin}"/>'
    if solid:
        body += f'<path fill="currentColor" d="{solid}"/>'
    if forbidden:
        body += f'<path stroke-width="3" d="{_SLASH}"/>'
    return body


PICTOGRAMS: Mapping[str, str] = {name: _body(name) for name in _LINES}


def pictogram(name: str) -> str:
    """The pictogram as decorative inline SVG in the color of the text; raises Refused for an unknown name."""
    if name not in PICTOGRAMS:
        raise Refused(
            [Problem(Fault.UNKNOWN_NAME, f"There is no pictogram '{name}'.", listed(PICTOGRAMS), did_you_mean(name, PICTOGRAMS))]
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {BOX} {BOX}" aria-hidden="true" fill="none" stroke="currentColor"'
        f' stroke-width="2" stroke-linejoin="round" stroke-linecap="round">{PICTOGRAMS[name]}</svg>'
    )


def pictogram_data_uri(name: str, color: str) -> str:
    """The pictogram in one color (`#rrggbb`) as a data URI for a CSS background on paper, fully percent-encoded."""
    return "data:image/svg+xml," + quote(pictogram(name).replace("currentColor", color), safe="")
