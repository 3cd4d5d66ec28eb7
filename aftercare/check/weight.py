"""How much every phone page weighs on its way to a phone."""

from __future__ import annotations

import gzip
from collections.abc import Iterator

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.page.phone import phone_page

# What a server sends before it waits for a first answer: ten segments of 1,460 bytes (RFC 6928). A page within it opens after
# one round trip, which on a poor connection is what most of the waiting is.
MOST_BYTES = 14_600


def weight_problems(desk: Desk) -> Iterator[Problem]:
    """Every page that is too heavy. Sheets that cannot be had in a language are reported elsewhere."""
    for sheet in desk.sheets.values():
        for tag in desk.clinic.languages:
            try:
                translated = desk.translate_full(sheet, tag)
            except Refused:
                continue
            weight = len(gzip.compress(phone_page(translated, desk.frame).encode()))
            if weight > MOST_BYTES:
                yield Problem(
                    Fault.PAGE_TOO_HEAVY,
                    f"The phone page of {{}} in {{}}, in {{}}, weighs {weight} bytes compressed.",
                    subject=(sheet.device.id, sheet.material.id, tag),
                    allowed=(f"at most {MOST_BYTES}",),
                    advice="Shorten texts that stand on it, or offer fewer options for it.",
                    where=sheet.device.where,
                )
