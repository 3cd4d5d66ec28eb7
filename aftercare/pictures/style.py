"""One look for every picture: ink, fills, line widths, and how an SVG element is written.

Fills are light and lines are dark, so a drawing stands on white paper by its lines and on a dark phone by its fills; no
second drawing is needed. Lines are `currentColor` with our ink as the default.
"""

from __future__ import annotations

from html import escape

WIDTH, HEIGHT = 240, 120  # the box of every device picture; about 70 mm wide on paper, so one unit is 0.3 mm
STROKE = 2.2
BOLD = 3.4  # outline of a thumbnail, about one pixel at 72 pixels wide
FINE = 1.1  # texture, nails and creases: half the outline, still 0.3 mm on paper
PAD = 3.0  # how far a device stands off the skin

INK = "#16343f"  # the pages' own ink; a page may override it, as `color` is only a presentation attribute
SKIN = "#f0cfae"
SHIRT = "#f4f1e6"
SHELL = "#fdfdf8"
CLOTH = "#d7e6ea"
STRAP = "#7fa3ab"
POINTER = "#c4512d"  # 4:1 or more on white and on a dark page
THREAD = "#6f949c"  # texture on a shell


def element(name: str, /, *, line: str = "", **attributes: str | float) -> str:
    """One empty element; `stroke_width=2` is written `stroke-width="2"`, `line` is the path data."""
    written = "".join(f' {key.replace("_", "-")}="{value}"' for key, value in attributes.items())
    return f"<{name}{written}" + (f' d="{line}"' if line else "") + "/>"


_LINES = 'fill="none" stroke="currentColor" stroke-linejoin="round"'


def picture(title: str, body: str) -> str:
    """The inline SVG around a device drawing; `title` is plain text and is escaped here."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" color="{INK}" {_LINES}'
        f' stroke-linecap="round" stroke-width="{STROKE}"><title>{escape(title, quote=False)}</title>{body}</svg>'
    )


def thumbnail(body: str) -> str:
    """The inline SVG around a very small, decorative drawing: bolder lines in the color of the text."""
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true" {_LINES} stroke-width="{BOLD}">{body}</svg>'
