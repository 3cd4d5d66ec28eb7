"""The lines of every pictogram, as path data on a square of 32 units."""

from __future__ import annotations

from typing import NamedTuple


class Glyph(NamedTuple):
    """Thin lines, solid parts, and whether a heavy slash says "do not"."""

    lines: str
    solid: str = ""
    forbidden: bool = False


# An open hand, a tube of cast with the turns of its bandage, and a telephone receiver low on the left.
_HAND = "M10 29v-6l-5-7q-1-3 2-2l4 4V7q2-3 4 0V4q2-3 4 0v3q2-3 4 0v3q2-2 3 0v10l-3 9"
_CAST = "M8 14h16v15H8zM8 22l16-4M8 28l16-4"
_RECEIVER = "M4 14l3.5-.6 2 5-2 2q1.5 3.5 5 5l2-2 5 2-.6 3.5q-.8 2-3.5 2Q6 27.5 2.8 17q-.2-2.3 1.2-3z"

TOPICS = {
    "raise": Glyph(
        "M5 23h14a3 3 0 0 1 0 6H5a3 3 0 0 1 0-6zM7 23a3 3 0 0 1 0-6h11a3 3 0 0 1 0 6"
        "M3 13L16 6q4-1 5 3l-1 2-7 4M27 29V8M23 12l4-4 4 4"
    ),
    "ice": Glyph(
        "M16 3v26M4.7 9.5l22.6 13M27.3 9.5l-22.6 13M12 5l4 4 4-4M12 27l4-4 4 4"
        "M4 14.5L9.5 13 8 7.5M28 17.5L22.5 19l1.5 5.5M24 7.5L22.5 13l5.5 1.5M8 24.5L9.5 19 4 17.5"
    ),
    "move": Glyph(_HAND + "M15 7v6M19 7v6M23 9v4M3 9q-1-4 2-6M28 3q3 2 2 6"),
    "dry": Glyph("M16 3q9 11 9 17a9 9 0 0 1-18 0q0-6 9-17z", forbidden=True),
    "inside": Glyph("M8 14q8 5 16 0v13q-8 5-16 0zM8 14q8-5 16 0M9 2l7 18", forbidden=True),
    "skin": Glyph("M2 16q14-18 28 0-14 18-28 0zM16 11a5 5 0 1 0 .1 0z", "M16 15a1 1 0 1 0 .1 0z"),
    "removal": Glyph("M8.5 21a4 4 0 1 0 .1 0zM23.5 21a4 4 0 1 0 .1 0zM10.5 21.5L22 3M21.5 21.5L10 3", forbidden=True),
    "weight": Glyph("M4 3v13q-1 4-1 8h16q1-5-6-6l-2-3V3M26 5v15M22 16l4 4 4-4M2 29h28"),
    "weight-none": Glyph("M8 2v11q-1 4-1 8h16q1-5-6-6l-2-3V2M2 29h28", forbidden=True),
    "weight-allowed": Glyph("M4 3v13q-1 4-1 8h16q1-5-6-6l-2-3V3M20 8l4 4 7-8M2 29h28"),
    "crutches": Glyph("M10 3h12M11.5 3L15 20v9M20.5 3L17 20v9M13 11h6M13 29h6"),
    "shoe": Glyph("M9 3v13l-5 4v5h25q1-6-6-7l-5-2V3M3 29h27M16 25l3-8.5M22 25l2-7"),
    "sling": Glyph("M16 3a4 4 0 1 0 .1 0zM6 29V18q0-5 5-5h10q5 0 5 5v11M9 20l13-7M9 20v6h12l5-3"),
    "daily": Glyph("M4 11h24v16H4zM12 11V6h8v5M4 18h24M16 16v4"),
    "sleep": Glyph("M3 28V12M3 24h26v4M29 24q0-7-7-7H12v7M7 16a2 2 0 1 0 .1 0zM18 4h6l-6 7h6"),
    "car": Glyph("M4 25V17l3-9h18l3 9v8zM4 17h24M7 25v3M25 25v3M9 21h2M21 21h2"),
    "plane": Glyph("M16 3q2 0 2 4v5l11 7v3l-11-3v6l3 3v2l-5-2-5 2v-2l3-3v-6L3 22v-3l11-7V7q0-4 2-4z"),
    "medicine": Glyph("M6 18L18 6a5.6 5.6 0 0 1 8 8L14 26a5.6 5.6 0 0 1-8-8zM12 12l8 8"),
    "special": Glyph("M16 28Q2 17 4 10q4-8 12 0 8-8 12 0 2 7-12 18z"),
    "nerve-block": Glyph("M3 29l7-7M8 18l6 6 10-10-6-6zM20 6l6 6M23 9l4-4M25 3l4 4M12 14l3 3M15 11l3 3"),
    "child": Glyph("M16 4a10 10 0 1 0 .1 0zM12 17q4 4 8 0M16 4q3 0 2 3M6 29q10-8 20 0", "M12.5 12v.5M19.5 12v.5"),
    "blood": Glyph("M16 3q9 11 9 17a9 9 0 0 1-18 0q0-6 9-17zM16 15v8M12 19h8"),
    "wire": Glyph("M2 13q14-2 28 0M2 27q14 2 28 0M11 22V7M21 22V7", "M11 4a1.5 1.5 0 1 0 .1 0zM21 4a1.5 1.5 0 1 0 .1 0z"),
    "spica": Glyph("M16 2a4 4 0 1 0 .1 0zM10 12h12v8l5 9h-7l-4-7-4 7H5l5-9zM10 16h12M10 20h12"),
    "visit": Glyph("M4 7h24v21H4zM4 13h24M10 4v5M22 4v5M11 20l4 4 7-7"),
    "call": Glyph("M6 4l5-1 3 7-3 3q2 5 7 7l3-3 7 3-1 5q-1 3-5 3Q8 25 4 9q0-4 2-5zM19 4q8 1 9 9M19 9q3 1 4 4"),
    "off": Glyph(
        "M12 6q-8 0-8 3v15q0 3 8 3l-2-5 2-5-2-5zM20 6q8 0 8 3v15q0 3-8 3l-2-5 2-5-2-5zM4 13l6-2M4 21l6-2M22 13l6-2M22 21l6-2"
    ),
}

SIGNS = {
    "pain": Glyph("M16 3l3 8 8-4-4 8 7 3-8 2 3 8-7-4-3 6-2-7-8 3 4-7-7-3 8-3-4-7 7 4z"),
    "tight": Glyph("M9 3q6 13 0 26M23 3q-6 13 0 26M1 16h7M5 12l4 4-4 4M31 16h-7M27 12l-4 4 4 4"),
    "swollen": Glyph("M13 3q-9 13 0 26M19 3q9 13 0 26M6 16H1M4 13l-3 3 3 3M26 16h5M28 13l3 3-3 3"),
    "numb": Glyph(
        "M10 29v-4l-4-6q-1-3 2-2l3 3v-7q2-3 4 0v-2q2-3 4 0v2q2-3 4 0v3q2-2 3 0v7l-3 6",
        "M8 8v.1M13 5v.1M18 3v.1M23 5v.1M28 8v.1M4 12v.1",
    ),
    "cannot-move": Glyph(_HAND, forbidden=True),
    "pale-cold": Glyph(_HAND + "M18 16v9M14 18.3l8 4.5M22 18.3l-8 4.5"),
    "burn": Glyph("M16 3q1 6 6 10 4 4 3 9-2 7-9 7t-9-7q0-6 4-9 0 4 2 5 2-8 3-15z"),
    "smell": Glyph(_CAST + "M11 11q-3-2 0-4t0-4M16 11q-3-2 0-4t0-4M21 11q-3-2 0-4t0-4"),
    "stain": Glyph("M7 3h18v26H7zM7 9l18-4M7 28l18-4", "M12 14q3-3 6 0 4 0 3 5-1 4-5 3-5 0-4-8z"),
    "fever": Glyph("M13 5q3-4 6 0v13a6 6 0 1 1-6 0zM16 11v9M24 7h5M24 12h5", "M16 21.5a1.5 1.5 0 1 0 .1 0z"),
    "wet-broken": Glyph("M4 12h15v17H4zM12 12l-4 6 6 3-3 8M25 3q5 6 5 9a5 5 0 0 1-10 0q0-3 5-9z"),
    "loose": Glyph("M4 10h6v17H4zM22 10h6v17h-6zM14 2v28M18 2v28M7 6V3M25 6V3M5 5l2-2 2 2M23 5l2-2 2 2"),
    "calf": Glyph("M10 3q-7 10 0 18-1 3-1 7h16q0-4-9-6 0-8 3-19", "M10 10q-2 5 1 9 2-5-1-9z"),
    "chest": Glyph("M16 4v9M14 14q-2-7-5-6-5 6-6 18 7 3 11-1zM18 14q2-7 5-6 5 6 6 18-7 3-11-1z"),
    "object-inside": Glyph("M8 15h16v14H8zM8 28l16-4M16 2a3 3 0 1 0 .1 0zM16 11v9M12 17l4 4 4-4"),
    "bleed": Glyph(
        "M4 3h24v9H4zM12 3L9 12M21 3l-3 9M11 17q4 5 4 7a4 4 0 0 1-8 0q0-2 4-7zM22 15q4 5 4 7a4 4 0 0 1-8 0q0-2 4-7z"
    ),
    "red-edge": Glyph("M3 8h13v17H3zM5 25l4-17M10 25l4-17M16 10h14M16 23h14M20 13v7M24 13v7M28 13v7"),
}

TIERS = {
    "emergency": Glyph(
        "M2 24V9h17v15zM19 14h6l5 5v5H19"
        "M6.5 24a3 3 0 1 0 6 0 3 3 0 1 0-6 0zM20.5 24a3 3 0 1 0 6 0 3 3 0 1 0-6 0zM10.5 12v7M7 15.5h7M8 5h5"
    ),
    "now": Glyph("M2 15L16 3l14 12M5 13v16h22V13M16 14v11M10.5 19.5h11"),
    "today": Glyph(
        _RECEIVER + "M23 6.5a4 4 0 1 0 .1 0zM23 1v1.5M23 18.5V20M13.5 10.5H15M31 10.5h-1.5M17 4.5l1 1M29 4.5l-1 1M28 16.5l1 1"
    ),
    "office": Glyph(_RECEIVER + "M22 2a8 8 0 1 0 .1 0zM22 6v4l3 2"),
}

PARTS = {
    "warning": Glyph("M16 3L30 28H2zM16 12v8", "M16 24v.2"),
    "draft": Glyph("M6 3h20v26H6zM10 24l2-5 8-9 3 3-8 9z"),
    "phone": Glyph("M9 2h14v28H9zM9 7h14M9 25h14M15 27.5h2"),
    "read-aloud": Glyph("M3 12h6l8-7v22l-8-7H3zM21 12q3 4 0 8M25 8q6 8 0 16"),
    "clock": Glyph("M16 3a13 13 0 1 0 .1 0zM16 8v8l6 4"),
    "sheet": Glyph("M6 3h14l6 6v20H6zM20 3v6h6M10 15h12M10 20h12M10 25h7"),
}

GLYPHS = {**TOPICS, **SIGNS, **TIERS, **PARTS}
