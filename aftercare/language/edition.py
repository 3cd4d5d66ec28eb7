"""Computes editions: short codes printed on sheets, each for one set of words and figures."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping

from aftercare.library.figures import Figure

# Capitals and digits without those that are confused on paper (0 O, 1 I L, 8 B, 5 S, 2 Z, U V).
EDITION_CHARACTERS = "34679ACDEFGHJKMNPQRTVWXY"
EDITION_LENGTH = 6  # 24^6 is 191 million; a clinic has a few hundred editions in all


def fingerprint(translations: Mapping[str, str], figures: Iterable[Figure]) -> str:
    """Hash messages, their translations and figures, in any order; returns 64 hexadecimal digits."""
    lines = [f"{message}\0{translation}" for message, translation in translations.items()]
    lines += [f"{figure.id}\0{figure.low:g}\0{figure.high:g}\0{figure.unit}" for figure in figures]
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()


def edition(fingerprint: str) -> str:
    """Shorten a fingerprint to EDITION_LENGTH characters that can be read out by phone."""
    number, code = int(fingerprint, 16), ""
    for _ in range(EDITION_LENGTH):
        number, index = divmod(number, len(EDITION_CHARACTERS))
        code += EDITION_CHARACTERS[index]
    return code
