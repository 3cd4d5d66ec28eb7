"""Builds the address in the QR code: the device and material in the path, the choices for the patient after `#`.

It is the same for every patient with the same choices and has no date and no identity in it; browsers do not send the part
after `#` to a server.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from aftercare.errors import Fault, Refused
from aftercare.library.clinic import Clinic
from aftercare.sheet.choices import Choices, Side

# Crockford's base 32: capitals and digits, all of them in the QR alphanumeric set (ISO/IEC 18004, table 5), without I, L, O, U,
# which are misread on paper.
BASE32 = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_SIDES = {None: "N", Side.LEFT: "H", Side.RIGHT: "R"}


def code(device_code: str, material_code: str) -> str:
    """Join the permanent codes of a device and a material: `SAF`."""
    return device_code + material_code


def fragment(choices: Choices) -> str:
    """Build the part after `#`: side, weight order, options and a check character. templates/phone/page.js reads it."""
    mask = sum(1 << option.bit for option in choices.options)
    body = _SIDES[choices.side] + str(choices.weight.digit if choices.weight else 0) + _base32(mask)
    return body + _check(body)


def address(clinic: Clinic, choices: Choices, language: str, edition: str) -> str:
    """Build the whole address, in capitals but for the clinic's own path, which makes the QR code smaller.

    `edition` is that of the printed sheet, so that the page can say when its advice is newer than the paper's.
    The clinic's own path is unchanged, since servers distinguish the case of its letters.
    Raises Refused when the clinic has no phone site, or the address is too long to print as a readable code.
    """
    if not clinic.phone_site:
        raise Refused(clinic.unset)
    site = urlsplit(clinic.phone_site)
    head = f"{site.scheme}://{site.netloc}".upper() + site.path
    url = f"{head}{language.upper()}/{code(choices.device.code, choices.material.code)}/#{fragment(choices)}-{edition}"
    if len(url) > LONGEST:
        raise Refused.one(
            Fault.ADDRESS_TOO_LONG,
            f"The address {{}} has {len(url)} characters.",
            subject=(url,),
            allowed=(f"at most {LONGEST}",),
            advice="Put the phone site at a shorter web address.",
            where=clinic.where,
        )
    return url


# Characters. At this length the symbol is at most version 8 in byte mode, level M (152 bytes: ISO/IEC 18004, table 7), which
# is 49 modules, each 0.69 mm at the printed width of 34 mm: the smallest that office printers and old phones can handle.
LONGEST = 120


def _base32(number: int) -> str:
    """A number of 0 or more in base 32, without leading zeros."""
    digits = BASE32[number % 32]
    while number := number // 32:
        digits = BASE32[number % 32] + digits
    return digits


def _check(body: str) -> str:
    """A check character that detects any one wrong character and any two swapped, in codes of up to 31 characters.

    Each character is an element of the field with 32 elements (x^5 + x^2 + 1), weighted by a power of x of its own. A sum
    modulo 31 would not distinguish the first character of the alphabet from the last.
    """
    total = 0
    for letter in body:
        total = _times_x(total) ^ BASE32.index(letter)
    return BASE32[_times_x(total)]


def _times_x(number: int) -> int:
    """An element of the field, as a number below 32, multiplied by x."""
    return number << 1 ^ (0b100101 if number & 16 else 0)
