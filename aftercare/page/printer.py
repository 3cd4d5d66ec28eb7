"""Prints sheets as PDF, and caches the PDFs."""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Iterable
from typing import TYPE_CHECKING

from cachetools import LRUCache

from aftercare.errors import Fault, Refused
from aftercare.language.languages import Language
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import MOST_SIDES, Reasons, Size, paper_page
from aftercare.page.stylesheet import stylesheet
from aftercare.page.templates import Templates
from aftercare.sheet.sheet import PatientSheet

if TYPE_CHECKING:
    from aftercare.page.pdf import Printed

# Cached PDFs of 30-60 kB each, about 15 MB in all: the repeated sheets of a busy clinic's day.
MOST_PRINTED = 256


class SheetPrinter:
    """Prints with the templates of one folder and the pictograms of one library (`stylesheet.pictogram_rules`).

    Thread-safe. Caches PDFs by a hash of their HTML and CSS.
    """

    def __init__(self, templates: Templates, pictograms: str) -> None:
        self._templates = templates
        self._pictograms = pictograms
        self._stylesheets: dict[tuple[Language, Paper], str] = {}
        self._printed: LRUCache[str, Printed] = LRUCache(MOST_PRINTED)
        self._lock = threading.Lock()

    def prepare(self, languages: Iterable[Language], paper: Paper) -> None:
        """Load the print engine, and the fonts of these languages, so that the first sheet does not wait for them.

        Raises Refused where the engine or a font is not installed.
        """
        from aftercare.page import pdf

        for language in languages:
            pdf.prepare(self.css(language, paper), language)

    def css(self, language: Language, paper: Paper) -> str:
        """Return the stylesheet for a language and a paper. Raises Refused when a font is not installed."""
        if (language, paper) not in self._stylesheets:
            self._stylesheets[language, paper] = stylesheet(language, paper, self._templates, self._pictograms)
        return self._stylesheets[language, paper]

    def sheet(self, translated: TranslatedSheet[PatientSheet], address: str, paper: Paper, size: Size) -> Printed:
        """Print a sheet with as many of its reasons as fit (`Reasons`); `address` is that of its QR code.

        Raises Refused for a sheet too long without reasons, and as `paper_page` and `print` do.
        """
        most = MOST_SIDES[size]
        for reasons in Reasons:
            html = paper_page(translated, address, size, self._templates, reasons)
            printed = self.print(html, translated.language, paper)
            if printed.sides <= most:
                return printed
        raise Refused.one(
            Fault.TOO_MANY_PAGES,
            f"This sheet takes {printed.sides} sides of paper.",
            allowed=(f"at most {most}",),
            advice="Leave out options that are not needed.",
        )

    def print(self, html: str, language: Language, paper: Paper) -> Printed:
        """Render a page as PDF, or return it from the cache. Raises Refused as `css` and `render_pdf` do."""
        # Imported here because loading the engine takes about 0.5 s, which commands that print nothing save.
        from aftercare.page.pdf import render_pdf

        css = self.css(language, paper)
        key = _cache_key(html, css)
        with self._lock:
            if (printed := self._printed.get(key)) is not None:
                return printed
        printed = render_pdf(html, css, language)
        with self._lock:
            self._printed[key] = printed
        return printed


def _cache_key(html: str, css: str) -> str:
    """Hash everything that determines the PDF: the HTML names the language, the CSS the paper and the fonts."""
    return hashlib.blake2b(f"{html}\0{css}".encode(), digest_size=16).hexdigest()
