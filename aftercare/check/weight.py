"""How much every phone page weighs on its way to a phone."""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Mapping
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.approval import Approvals
from aftercare.language.extraction import sheets_of
from aftercare.language.languages import LANGUAGES
from aftercare.language.messages import Messages
from aftercare.language.translate import translate
from aftercare.library.catalogue import Library
from aftercare.page.phone import phone_page
from aftercare.page.pieces import Pieces

# What a server sends before it waits for a first answer: ten segments of 1,460 bytes (RFC 6928). A page within it opens after
# one round trip, which on a poor connection is what most of the waiting is.
MOST_BYTES = 14_600


def weight_problems(library: Library, messages: Mapping[str, Messages], templates: Path) -> Iterator[Problem]:
    """Every page that is too heavy. Sheets that cannot be had in a language are told of elsewhere."""
    pieces = {tag: Pieces() for tag in library.clinic.languages}
    for sheet in sheets_of(library):
        for tag, kept in pieces.items():
            try:
                translated = translate(sheet, LANGUAGES[tag], messages.get(tag), library.clinic, Approvals())
            except Refused:
                continue
            weight = len(gzip.compress(phone_page(translated, library, templates, pieces=kept).encode()))
            if weight > MOST_BYTES:
                device, material = sheet.choices.device, sheet.choices.material
                what = f"The phone page of '{device.id}' in '{material.id}', in '{tag}', weighs {weight} bytes compressed."
                advice = "Shorten texts that stand on it, or offer fewer options for it."
                yield Problem(Fault.PAGE_TOO_HEAVY, what, f"At most {MOST_BYTES}.", advice, device.where)
