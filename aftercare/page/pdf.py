"""Renders HTML as PDF. The only module that imports the print engine; whatever the engine logs as a warning is an error."""

from __future__ import annotations

import gc
import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, lru_cache

from fontTools.ttLib import TTFont
from markupsafe import Markup

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.languages import Language
from aftercare.page.stylesheet import font_path

try:
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher
except OSError as error:  # the Python package is installed, but a system library that it loads is not
    raise Refused.one(
        Fault.NOT_INSTALLED,
        "The print engine lacks a system library: {}.",
        subject=(str(error),),
        advice="On Debian or Ubuntu: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
    ) from error

# Engine objects are not thread-safe (they hang or crash). The lock costs no time: the engine holds the GIL anyway.
_ENGINE_LOCK = threading.Lock()


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF file and its number of sides of paper."""

    pdf: bytes
    sides: int


def render_pdf(html: str, css: str, language: Language) -> Printed:
    """Render a page with its stylesheet as tagged PDF (PDF/UA-1). Thread-safe.

    Raises Refused for characters that no font of the language has, and for every warning of the engine.
    """
    if missing := missing_characters(html, language):
        what = f"No font of {language.english_name} has {', '.join('{}' for _ in missing)}."
        subject = tuple(f"{character} (U+{ord(character):04X})" for character in missing)
        raise Refused.one(Fault.NO_FONT, what, subject=subject, advice="Write it with other characters.")
    with _ENGINE_LOCK, _refuse_engine_warnings():
        style, fonts = _parsed_style(css)
        fetcher = URLFetcher(allowed_protocols={"data"})
        document = HTML(string=html, url_fetcher=fetcher).render(stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")
        pdf = document.write_pdf(pdf_variant="pdf/ua-1")
    return Printed(pdf, len(document.pages))


def prepare(css: str, language: Language) -> None:
    """Fill the caches for a language and a stylesheet. Raises Refused for fonts or CSS that the engine cannot use."""
    with _ENGINE_LOCK:
        _drawable_characters(language)
        _parsed_style(css)


def missing_characters(html: str, language: Language) -> tuple[str, ...]:
    """Return the characters of the page's text that no font of the language has, sorted."""
    characters = set(Markup(html).striptags()) - _INVISIBLE
    return tuple(sorted(characters - _drawable_characters(language)))


# White space and direction isolates: no glyph is drawn for them.
_INVISIBLE = frozenset(" \n\t\u00a0\u200b\u2066\u2067\u2068\u2069\u202f")


@cache
def _drawable_characters(language: Language) -> frozenset[str]:
    characters: set[str] = set()
    for font in language.fonts:
        with TTFont(font_path(font), lazy=True) as face:
            characters |= {chr(code) for code in face.getBestCmap()}
    return frozenset(characters)


@lru_cache(maxsize=64)
def _parsed_style(css: str) -> tuple[CSS, FontConfiguration]:
    """Parse a stylesheet and load its fonts. Cached: a font configuration for each sheet would leak 0.3 MB and take 40 ms.

    Raises Refused for a stylesheet with warnings here, not in the caller, so that none of them is cached.
    """
    fonts = FontConfiguration()
    fetcher = URLFetcher(allowed_protocols={"file", "data"})
    with _refuse_engine_warnings():
        style = CSS(string=css, font_config=fonts, url_fetcher=fetcher)
    # Excludes what is loaded by now from garbage collection, which would take 85 ms at every third sheet to scan it.
    gc.freeze()
    return style, fonts


@contextmanager
def _refuse_engine_warnings() -> Iterator[None]:
    """Raise Refused at the end of the block with what the engine logged in it at level WARNING or above.

    The engine itself only logs a missing glyph or image, and draws the page without it.
    """
    messages: list[str] = []

    class Collector(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            messages.append(record.getMessage())

    handler = Collector(logging.WARNING)
    logger = logging.getLogger("weasyprint")
    logger.disabled = False  # a logging configuration may have disabled it, and a missing glyph would go unnoticed
    logger.addHandler(handler)
    try:
        yield
    finally:
        logger.removeHandler(handler)
    if messages:
        problems = (Problem(Fault.ENGINE_COMPLAINED, "The print engine says: {}.", subject=(text,)) for text in messages)
        raise Refused(problems)
