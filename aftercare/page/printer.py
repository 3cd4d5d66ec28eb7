"""Prints sheets, and keeps the finished ones for the next time the same sheet is asked for."""

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

# A sheet is 30-60 kB, so these take some 15 MB: a day of a busy clinic's repeats.
MOST_PRINTED = 256


class SheetPrinter:
    """Prints with the templates of one folder and the pictograms of one library.

    Finished sheets are kept by everything that decides their bytes.
    """

    def __init__(self, templates: Templates, pictograms: str) -> None:
        self._templates = templates
        self._pictograms = pictograms  # as CSS: see stylesheet.pictogram_rules
        self._stylesheets: dict[tuple[Language, Paper], str] = {}
        self._printed: LRUCache[str, Printed] = LRUCache(MOST_PRINTED)
        self._lock = threading.Lock()

    def prepare(self, languages: Iterable[Language], paper: Paper) -> None:
        """Load the print engine and all it needs for these languages, here rather than on the first patient.

        Raises Refused where the engine is not installed in full.
        """
        from aftercare.page import pdf

        for language in languages:
            pdf.prepare(self.css(language, paper), language)

    def css(self, language: Language, paper: Paper) -> str:
        """The stylesheet of sheets in a language on a paper. Raises Refused when a font is not installed."""
        if (language, paper) not in self._stylesheets:
            self._stylesheets[language, paper] = stylesheet(language, paper, self._templates, self._pictograms)
        return self._stylesheets[language, paper]

    def sheet(self, translated: TranslatedSheet[PatientSheet], address: str, paper: Paper, size: Size) -> Printed:
        """The take-home sheet. One too long with all its reasons gives them up; raises Refused for one still too long."""
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
        """The finished sheet; one already made comes from memory. Raises Refused as render_pdf does."""
        # Only here, since loading the engine takes longer than all that a command without paper does.
        from aftercare.page.pdf import render_pdf

        css = self.css(language, paper)
        key = content_key(html, css)
        with self._lock:
            if (printed := self._printed.get(key)) is not None:
                return printed
        printed = render_pdf(html, css, language)
        with self._lock:
            self._printed[key] = printed
        return printed


def content_key(html: str, css: str) -> str:
    """A hash of all that decides the PDF: the page names its language, its stylesheet the paper and the fonts."""
    return hashlib.blake2b("\0".join((html, css)).encode(), digest_size=16).hexdigest()
