"""Builds the CSS of a printed sheet and locates its font files. Works without the print engine, for the desk's preview."""

from __future__ import annotations

import importlib.util
from pathlib import Path

from aftercare.errors import Fault, Refused
from aftercare.language.languages import Direction, FontFile, Language
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Paper
from aftercare.library.modules import URGENT
from aftercare.page.templates import Templates
from aftercare.pictures import pictogram_data_uri
from aftercare.pictures.style import INK

# Contrast of danger red on white is 10:1; in gray it is nearly black.
DANGER = "#7c1412"
_PAGE_SIZES = {Paper.LETTER: "letter", Paper.A4: "a4"}


def pictogram_rules(library: Library) -> str:
    """Return the CSS rules that draw pictograms on paper: in ink for topics and later signs, in danger red for urgent signs.

    A pictogram used for both has two rules. The result depends only on the content files.
    """
    topics = {topic.picture for topic in library.topics.values()}
    urgent = {sign.picture for sign in library.warnings if sign.tier in URGENT}
    later = {sign.picture for sign in library.warnings if sign.tier not in URGENT}
    return "".join(
        f"{within}.t-{name}{{background-image:url({pictogram_data_uri(library.pictograms[name], color)})}}"
        for within, color, names in (("", INK, topics | later), (".danger ", DANGER, urgent))
        for name in sorted(names - {""})
    )


def stylesheet(language: Language, paper: Paper, templates: Templates, pictograms: str) -> str:
    """Return the CSS of a sheet for a language and a paper; `pictograms` are the `pictogram_rules` of the library.

    Raises Refused when a font is not installed.
    """
    fonts = "".join(
        f'@font-face{{font-family:"{font.family}";font-weight:{font.weight};src:url({font_path(font).as_uri()})}}'
        for font in language.fonts
    )
    families = ",".join(f'"{family}"' for family in language.families)
    start = "left" if language.direction is Direction.LTR else "right"
    layout = templates.text("paper/page.css")
    bullets = f".passage li{{background-image:url({_DOT})}}.boxes li{{background-image:url({_BOX})}}"
    settings = f":root{{--start:{start}}}html{{font-family:{families}}}@page{{size:{_PAGE_SIZES[paper]}}}"
    return fonts + settings + layout + pictograms + bullets


_SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{}</svg>'
_DOT = pictogram_data_uri(_SVG.format('<circle cx="5" cy="5" r="5" fill="currentColor"/>'), INK)
_BOX = pictogram_data_uri(_SVG.format('<path d="M1 1h8v8H1z" fill="none" stroke="currentColor"/>'), INK)


def font_path(font: FontFile) -> Path:
    """Locate a font file in its package. Raises Refused when it is not installed."""
    spec = importlib.util.find_spec(font.package)
    path = Path(spec.origin).parent / "files" / font.file if spec and spec.origin else None
    if path is None or not path.is_file():
        raise Refused.one(
            Fault.NOT_INSTALLED,
            "The font file {} of {} is missing.",
            subject=(font.file, font.package),
            advice="Install the program's requirements again.",
        )
    return path
