"""Editions: short codes printed on sheets, each for exactly one set of words and figures."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping

from aftercare.library.figures import Figure

# Capitals and digits without those that are taken for one another on paper (0 O, 1 I L, 8 B, 5 S, 2 Z, U V).
EDITION_CHARACTERS = "34679ACDEFGHJKMNPQRTVWXY"
EDITION_LENGTH = 6  # 24^6 is 190 million; a clinic makes a few hundred editions in its life


def fingerprint(translations: Mapping[str, str], figures: Iterable[Figure]) -> str:
    """A hash of these messages, translations and figures, independent of their order: 64 hexadecimal digits."""
    lines = [f"{message}\0{translation}" for message, translation in translations.items()]
    lines += [f"{figure.id}\0{figure.low:g}\0{figure.high:g}\0{figure.unit}" for figure in figures]
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()


def edition(fingerprint: str) -> str:
    """The short code of a fingerprint: EDITION_LENGTH characters that can be read out by phone."""
    number, code = int(fingerprint, 16), ""
    for _ in range(EDITION_LENGTH):
        number, rest = divmod(number, len(EDITION_CHARACTERS))
        code += EDITION_CHARACTERS[rest]
    return code
