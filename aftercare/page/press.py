"""Prints sheets, and keeps what it has made."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.languages import Language
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import MOST_SIDES, Reasons, Size, paper_page

if TYPE_CHECKING:
    from aftercare.page.pdf import Printed

# A sheet is 30-60 kB, so these take some 15 MB: a day of a busy clinic's repeats.
KEPT = 256


class Press:
    """Finished sheets, kept by their content."""

    def __init__(self, templates: Path) -> None:
        self._templates = templates
        self._kept: OrderedDict[str, Printed] = OrderedDict()
        self._lock = threading.Lock()

    def prepare(self, languages: Iterable[Language], paper: Paper) -> None:
        """Load the print engine and all it needs for these languages, here rather than on the first patient.

        Raises Refused where the engine is not installed in full.
        """
        from aftercare.page import pdf

        for language in languages:
            pdf.prepare(language, paper, self._templates)

    def sheet(self, translated: TranslatedSheet, address: str, paper: Paper, size: Size) -> Printed:
        """The take-home sheet. One too long with all its reasons gives them up; raises Refused for one still too long."""
        most = MOST_SIDES[size]
        for reasons in Reasons:
            html = paper_page(translated, address, paper, size, self._templates, reasons)
            printed = self.print(html, translated.language, paper)
            if printed.sides <= most:
                return printed
        what = f"This sheet takes {printed.sides} sides of paper."
        raise Refused([Problem(Fault.TOO_MANY_PAGES, what, f"At most {most}.", "Leave out options that are not needed.")])

    def print(self, html: str, language: Language, paper: Paper) -> Printed:
        """The finished sheet; one already made comes from memory. Raises Refused as render_pdf does."""
        # Only here, since loading the engine takes longer than all that a command without paper does.
        from aftercare.page.pdf import render_pdf

        key = content_key(html, language, paper)
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        printed = render_pdf(html, language, paper, self._templates)
        with self._lock:
            self._kept[key] = printed
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return printed


def content_key(html: str, language: Language, paper: Paper) -> str:
    """One key for all that decides the PDF."""
    return hashlib.blake2b("\0".join((html, language.tag, paper)).encode(), digest_size=16).hexdigest()
