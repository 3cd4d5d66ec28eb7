"""The preview of a sheet: the page that is printed, with its stylesheet and the size of its paper."""

from __future__ import annotations

import base64
import re
from functools import lru_cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

from aftercare.desk import Desk
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.sheet.sheet import PatientSheet

# Widths of the papers: ISO 216 and ANSI/ASME Y14.1.
_WIDTH = {Paper.LETTER: "215.9mm", Paper.A4: "210mm"}
_FILE = re.compile(r"url\((file:[^)]+)\)")


def preview_page(desk: Desk, translated: TranslatedSheet[PatientSheet], paper: Paper, size: Size) -> str:
    """The page that would be printed, with all its reasons, as one HTML file with its styles and fonts inside."""
    html = desk.paper_html(translated, size)
    style = _with_fonts(desk.printer.css(translated.language, paper))
    page = f":root{{--paper:{_WIDTH[paper]}}}"
    own = desk.frame.templates.text("web/preview.css")
    return html.replace("</head>", f"<style>{style}{page}{own}</style></head>", 1)


@lru_cache(maxsize=16)  # one for each language and paper
def _with_fonts(css: str) -> str:
    """A stylesheet with its fonts inside, since a request for one would show the language in a log."""
    return _FILE.sub(_embedded, css)


def _embedded(match: re.Match[str]) -> str:
    font = Path(unquote(urlsplit(match[1]).path)).read_bytes()
    return f"url(data:font/ttf;base64,{base64.b64encode(font).decode()})"
