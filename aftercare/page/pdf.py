"""HTML on paper. The only module that imports the print engine; any complaint of the engine is an error of ours."""

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
except OSError as error:  # the Python package is there, a library of the system is not
    raise Refused.one(
        Fault.NOT_INSTALLED,
        "The print engine lacks a system library: {}.",
        subject=(str(error),),
        advice="On Debian or Ubuntu: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
    ) from error

# Engine objects are not safe across threads (they hang or crash), and one lock costs nothing: the work is all in Python.
_ENGINE = threading.Lock()


@dataclass(frozen=True, slots=True)
class Printed:
    """A finished PDF and how many sides of paper it takes."""

    pdf: bytes
    sides: int


def render_pdf(html: str, css: str, language: Language) -> Printed:
    """The page with its stylesheet as tagged PDF (PDF/UA-1).

    Raises Refused for a character none of the language's fonts has, and for anything the engine complains of.
    """
    if missing := missing_characters(html, language):
        what = f"No font of {language.english_name} has {', '.join('{}' for _ in missing)}."
        subject = tuple(f"{character} (U+{ord(character):04X})" for character in missing)
        raise Refused.one(Fault.NO_FONT, what, subject=subject, advice="Write it with other characters.")
    with _ENGINE, _no_complaint():
        style, fonts = _style(css)
        fetcher = URLFetcher(allowed_protocols={"data"})
        document = HTML(string=html, url_fetcher=fetcher).render(stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")
        pdf = document.write_pdf(pdf_variant="pdf/ua-1")
    return Printed(pdf, len(document.pages))


def prepare(css: str, language: Language) -> None:
    """Do now what the first sheet in a language would wait for. Raises Refused for fonts or CSS that cannot be used."""
    with _ENGINE:
        _drawn(language)
        _style(css)


def missing_characters(html: str, language: Language) -> tuple[str, ...]:
    """The characters of the page's text that no font of the language can draw."""
    needed = set(Markup(html).striptags()) - _INVISIBLE
    return tuple(sorted(needed - _drawn(language)))


# White space, and the isolates that values carry; they have no shape.
_INVISIBLE = frozenset(" \n\t\u00a0\u200b\u2066\u2067\u2068\u2069\u202f")


@cache
def _drawn(language: Language) -> frozenset[str]:
    found: set[str] = set()
    for font in language.fonts:
        with TTFont(font_path(font), lazy=True) as face:
            found |= {chr(code) for code in face.getBestCmap()}
    return frozenset(found)


@lru_cache(maxsize=64)
def _style(css: str) -> tuple[CSS, FontConfiguration]:
    """The stylesheet and the fonts, made once: a new font configuration for each sheet leaks 0.3 MB and costs 40 ms.

    A stylesheet that the engine complains of is refused here too, so that it is never kept and found good the second time.
    """
    fonts = FontConfiguration()
    fetcher = URLFetcher(allowed_protocols={"file", "data"})
    with _no_complaint():
        style = CSS(string=css, font_config=fonts, url_fetcher=fetcher)
    # All that is loaded by now stays for good. Left to the garbage collector, walking it costs 85 ms every third sheet.
    gc.freeze()
    return style, fonts


@contextmanager
def _no_complaint() -> Iterator[None]:
    """Refuses what the engine logs at warning and above meanwhile. It draws on regardless; we do not."""
    lines: list[str] = []

    class Gatherer(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            lines.append(record.getMessage())

    handler = Gatherer(logging.WARNING)
    logger = logging.getLogger("weasyprint")
    logger.disabled = False  # whoever configures logging may disable it, and then a missing glyph would pass
    logger.addHandler(handler)
    try:
        yield
    finally:
        logger.removeHandler(handler)
    if lines:
        raise Refused(Problem(Fault.ENGINE_COMPLAINED, "The print engine says: {}.", subject=(line,)) for line in lines)
