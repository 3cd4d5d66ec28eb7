"""A sheet on the screen: the paper's own page and stylesheet, on something that looks like paper."""

from __future__ import annotations

import base64
import re
from functools import lru_cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

from aftercare.desk import Desk
from aftercare.language.languages import Language
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.page.stylesheet import pictogram_rules, stylesheet

# ISO 216 and ANSI/ASME Y14.1.
_WIDTH = {Paper.LETTER: "215.9mm", Paper.A4: "210mm"}
_FILE = re.compile(r"url\((file:[^)]+)\)")


def on_screen(desk: Desk, translated: TranslatedSheet, paper: Paper, size: Size) -> str:
    """The page that would be printed, with its styles inside, complete in itself."""
    html = desk.paper_html(translated.sheet.choices, translated.language.tag, paper, size)
    style = _style(translated.language, paper, desk.places.templates, pictogram_rules(desk.library))
    return html.replace("</head>", f"<style>{style}</style></head>", 1)


@lru_cache(maxsize=64)
def _style(language: Language, paper: Paper, templates: Path, pictograms: str) -> str:
    """The paper's stylesheet and the screen's, with the fonts inside: a request for one would tell a log the language."""
    own = (templates / "web" / "preview.css").read_text(encoding="utf-8")
    page = f":root{{--paper:{_WIDTH[paper]}}}"
    return _FILE.sub(_embedded, stylesheet(language, paper, templates, pictograms)) + page + own


def _embedded(match: re.Match[str]) -> str:
    font = Path(unquote(urlsplit(match[1]).path)).read_bytes()
    return f"url(data:font/ttf;base64,{base64.b64encode(font).decode()})"
