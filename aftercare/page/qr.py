"""The QR code of an address, as inline SVG. The only module that imports qrcode."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from typing import Literal, cast

import qrcode
from qrcode.constants import ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError
from qrcode.util import MODE_8BIT_BYTE, MODE_ALPHA_NUM, QRData

from aftercare.errors import Fault, Refused

# ISO/IEC 18004, 9.1: four light modules on every side; phones fail first on a cropped margin.
QUIET_ZONE = 4
# Printed width of the dark square. A hand holds a phone 25-30 cm away and a code wants a tenth of that (industry rule).
WIDTH_MM = 34
# Below this, slight blur stopped every decoder we tried (0.33 and 0.4 mm failed, 0.5 mm held).
LEAST_MODULE_MM = 0.6
# Penalty scoring of all eight masks costs as much as laying out the page; any mask decodes, so one is fixed.
_MASK = 2
# The 45 characters of alphanumeric mode (ISO/IEC 18004, table 5).
_ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]+")


def qr_matrix(address: str) -> tuple[tuple[bool, ...], ...]:
    """The modules, dark is True, without quiet zone. Level Q where it costs no larger symbol than M, else M.

    Raises Refused when a module would be printed smaller than LEAST_MODULE_MM.
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
    """The modules at one level, or nothing when no version of the standard holds so long an address."""
    symbol = qrcode.QRCode(error_correction=level, border=QUIET_ZONE, mask_pattern=_MASK)
    for piece in re.findall(rf"{_ALPHANUMERIC.pattern}|[^0-9A-Z $%*+\-./:]+", address):
        mode = MODE_ALPHA_NUM if _ALPHANUMERIC.fullmatch(piece) else MODE_8BIT_BYTE
        symbol.add_data(QRData(piece.encode(), mode=cast("Literal[2, 4]", mode)), optimize=0)
    try:
        symbol.make(fit=True)
    except (DataOverflowError, ValueError):  # qrcode raises either, by how far it is too long
        return ()
    return tuple(tuple(bool(module) for module in row) for row in symbol.modules)


@lru_cache(maxsize=256)
def qr_svg(address: str, title: str) -> str:
    """An SVG with the quiet zone inside, its dark square WIDTH_MM wide, and `title` for people who cannot see it."""
    matrix = qr_matrix(address)
    side = len(matrix) + 2 * QUIET_ZONE
    width = f"{WIDTH_MM * side / len(matrix):.2f}mm"
    # One stroke per run of dark modules in a row: far fewer path segments than a square each.
    path = []
    for y, row in enumerate(matrix):
        x = 0
        while x < len(row):
            run = x
            while run < len(row) and row[run]:
                run += 1
            if run > x:
                path.append(f"M{x + QUIET_ZONE} {y + QUIET_ZONE + 0.5}h{run - x}")
            x = run + 1
    return (
        f'<svg class="qr" xmlns="http://www.w3.org/2000/svg" width="{width}" height="{width}" viewBox="0 0 {side} {side}"'
        f' role="img"><title>{escape(title)}</title>'
        f'<path fill="#fff" d="M0 0h{side}v{side}H0z"/><path stroke="#000" d="{"".join(path)}"/></svg>'
    )
