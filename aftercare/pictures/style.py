"""The style of every drawing of a device: sizes, colors, line widths, and the SVG elements around and in it.

Lines are dark and fills are light, so that one drawing is legible on white paper by its lines and on a dark page by its fills.
Lines are `currentColor`, with INK as the default.
"""

from __future__ import annotations

from html import escape

WIDTH, HEIGHT = 240, 120  # picture units of every drawing; about 72 mm wide on paper, so one unit is 0.3 mm
STROKE = 2.2  # width of an outline in units
BOLD = 3.4  # width of a thumbnail's outline in units: about one pixel where it is 72 pixels wide
FINE = 1.1  # width of nails and creases in units: half an outline, and 0.3 mm on paper
PAD = 3.0  # units from the skin to the outline of a device

INK = "#16343f"  # the color of text on the pages; their CSS may override it, since `color` is a presentation attribute here
SKIN = "#f0cfae"
SHIRT = "#f4f1e6"
SHELL = "#fdfdf8"
CLOTH = "#d7e6ea"
STRAP = "#7fa3ab"
POINTER = "#c4512d"  # 4:1 or more on white and on a dark page
THREAD = "#6f949c"  # lines of texture on a shell


def element(name: str, /, *, line: str = "", **attributes: str | float) -> str:
    """An empty SVG element. `stroke_width=2` is written `stroke-width="2"`; `line` is path data. Nothing is escaped."""
    written = "".join(f' {key.replace("_", "-")}="{value}"' for key, value in attributes.items())
    return f"<{name}{written}" + (f' d="{line}"' if line else "") + "/>"


_LINES = 'fill="none" stroke="currentColor" stroke-linejoin="round"'


def picture(title: str, body: str) -> str:
    """The inline SVG of a device drawing around its elements `body`; `title` is plain text and is escaped here."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" color="{INK}" {_LINES}'
        f' stroke-linecap="round" stroke-width="{STROKE}"><title>{escape(title, quote=False)}</title>{body}</svg>'
    )


def thumbnail(body: str) -> str:
    """The inline SVG of a small decorative drawing around its elements `body`, with bolder lines."""
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true" {_LINES} stroke-width="{BOLD}">{body}</svg>'
