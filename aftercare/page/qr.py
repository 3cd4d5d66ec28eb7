"""Renders the QR code of an address as inline SVG. The only module that imports qrcode."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from itertools import groupby
from typing import Literal, cast

import qrcode
from qrcode.constants import ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError
from qrcode.util import MODE_8BIT_BYTE, MODE_ALPHA_NUM, QRData

from aftercare.errors import Fault, Refused

# Light modules on every side (ISO/IEC 18004, 9.1); a cropped margin is the most frequent reason why phones cannot read a code.
QUIET_ZONE = 4
# Printed width without the quiet zone: a tenth of the distance to a hand-held phone, 25-30 cm, or more (industry rule).
WIDTH_MM = 34
# Printed width of a module. With slight blur, no tested decoder read 0.33 or 0.4 mm, and all read 0.5 mm.
LEAST_MODULE_MM = 0.6
# Fixed, because any mask decodes and scoring all eight takes as long as laying out the page.
_MASK = 2
# The 45 characters of alphanumeric mode (ISO/IEC 18004, table 5).
_ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]+")


def qr_matrix(address: str) -> tuple[tuple[bool, ...], ...]:
    """Return the rows of modules, True for dark, without quiet zone.

    Error correction is level Q where the symbol is then no larger than at level M, else M. Raises Refused where a module would
    be printed smaller than LEAST_MODULE_MM.
    """
    most = int(WIDTH_MM / LEAST_MODULE_MM)
    medium = _encode(address, ERROR_CORRECT_M)
    quartile = _encode(address, ERROR_CORRECT_Q)
    if not medium or len(medium) > most:
        raise Refused.one(
            Fault.ADDRESS_TOO_LONG,
            f"The address {{}} needs a QR code too fine to print at {WIDTH_MM} mm.",
            subject=(address,),
            advice="Put the phone site at a shorter web address.",
        )
    return quartile if len(quartile) == len(medium) else medium


def _encode(address: str, level: int) -> tuple[tuple[bool, ...], ...]:
    """Return the modules at an error correction level; empty where the address is too long for any symbol."""
    symbol = qrcode.QRCode(error_correction=level, border=QUIET_ZONE, mask_pattern=_MASK)
    for segment in re.findall(rf"{_ALPHANUMERIC.pattern}|[^0-9A-Z $%*+\-./:]+", address):
        mode = MODE_ALPHA_NUM if _ALPHANUMERIC.fullmatch(segment) else MODE_8BIT_BYTE
        symbol.add_data(QRData(segment.encode(), mode=cast("Literal[2, 4]", mode)), optimize=0)
    try:
        symbol.make(fit=True)
    except (DataOverflowError, ValueError):  # qrcode raises one or the other, depending on the length
        return ()
    return tuple(tuple(bool(module) for module in row) for row in symbol.modules)


@lru_cache(maxsize=256)
def qr_svg(address: str, title: str) -> str:
    """Render an SVG that includes the quiet zone; without it, it is WIDTH_MM wide. `title` is its alternative text.

    Raises Refused as `qr_matrix` does.
    """
    matrix = qr_matrix(address)
    side = len(matrix) + 2 * QUIET_ZONE
    width = f"{WIDTH_MM * side / len(matrix):.2f}mm"
    # One stroke for each run of dark modules in a row, since a square for each module makes the path much longer.
    path = []
    for y, row in enumerate(matrix):
        x = 0
        for dark, run in groupby(row):
            length = len(tuple(run))
            if dark:
                path.append(f"M{x + QUIET_ZONE} {y + QUIET_ZONE + 0.5}h{length}")
            x += length
    return (
        f'<svg class="qr" xmlns="http://www.w3.org/2000/svg" width="{width}" height="{width}" viewBox="0 0 {side} {side}"'
        f' role="img"><title>{escape(title)}</title>'
        f'<path fill="#fff" d="M0 0h{side}v{side}H0z"/><path stroke="#000" d="{"".join(path)}"/></svg>'
    )
