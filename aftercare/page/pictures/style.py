"""One look for every picture: ink, fills, line widths, and how an SVG element is written.

Lines take the color of the surrounding text (`currentColor`), so paper, phone and dark phone need no second drawing.
Fills are light enough that the ink around them keeps its contrast in black and white; `DARK_FILLS` replaces them where the
page itself is dark.
"""

from __future__ import annotations

from html import escape

WIDTH, HEIGHT = 240, 120  # the box of every device picture; about 70 mm wide on paper, so one unit is 0.3 mm
STROKE = 2.2
FINE = 1.1  # texture, nails and creases: half the outline, still 0.3 mm on paper
PAD = 3.0  # how far a device stands off the skin

INK = "#12343b"  # the text color the pages give; only the contrast is computed from it
SKIN = "#f0cfae"
NAIL = "#fae6d3"
SHELL = "#fdfdf8"
SHIRT = "#f4f1e6"
CLOTH = "#d7e6ea"
STRAP = "#7fa3ab"

LIGHT_FILLS = {"skin": SKIN, "nail": NAIL, "shell": SHELL, "cloth": CLOTH, "strap": STRAP}
DARK_INK = "#eaf4f4"
DARK_FILLS = {"skin": "#7a5235", "nail": "#8f6545", "shell": "#33474d", "cloth": "#40595f", "strap": "#1d3237"}


def element(name: str, /, *, line: str = "", **attributes: str | float) -> str:
    """One empty element; `stroke_width=2` is written `stroke-width="2"`, `line` is the path data."""
    written = "".join(f' {key.replace("_", "-")}="{value}"' for key, value in attributes.items())
    return f"<{name}{written}" + (f' d="{line}"' if line else "") + "/>"


def picture(title: str, body: str, *, hidden: bool = False) -> str:
    """The inline SVG around a device drawing. `title` is plain text and is escaped; `hidden` is for decoration."""
    name = f"<title>{escape(title, quote=False)}</title>" if title else ""
    role = ' aria-hidden="true"' if hidden else ' role="img"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}"{role} fill="none" stroke="currentColor"'
        f' stroke-width="{STROKE}" stroke-linejoin="round" stroke-linecap="round">{name}{body}</svg>'
    )
