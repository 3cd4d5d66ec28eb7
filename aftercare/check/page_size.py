"""Checks the compressed size of every phone page."""

from __future__ import annotations

import gzip
from collections.abc import Iterator

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.page.phone import phone_page

# What a server sends before the first acknowledgment: ten segments of 1,460 bytes (RFC 6928). A page within it opens after one
# round trip, which takes most of the loading time on a poor connection.
MOST_BYTES = 14_600


def page_size_problems(desk: Desk) -> Iterator[Problem]:
    """Return every page that is too large. Sheets without a sound translation are left to `language_problems`."""
    for sheet in desk.sheets.values():
        for tag in desk.clinic.languages:
            try:
                translated = desk.translate_sheet(sheet, tag)
            except Refused:
                continue
            size = len(gzip.compress(phone_page(translated, desk.frame).encode()))
            if size > MOST_BYTES:
                yield Problem(
                    Fault.PAGE_TOO_HEAVY,
                    f"The phone page of {{}} in {{}}, in {{}}, has {size} bytes compressed.",
                    subject=(sheet.device.id, sheet.material.id, tag),
                    allowed=(f"at most {MOST_BYTES}",),
                    advice="Shorten its texts, or offer fewer options for it.",
                    where=sheet.device.where,
                )
