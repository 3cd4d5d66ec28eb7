"""All CSS of a printed sheet, and the font files it names. Needs no print engine: the screen shows the same page."""

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

# Danger red #7c1412 is 10:1 on white and near black in gray; ink is the color of the text.
DANGER = "#7c1412"
_PAGE = {Paper.LETTER: "letter", Paper.A4: "a4"}


def pictogram_rules(library: Library) -> str:
    """The CSS rules that draw the pictograms on paper: those of topics and later signs in ink, of urgent signs in danger red.

    A pictogram used both ways has two rules. The text depends on the content files only.
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
    """The CSS of a sheet in a language on a paper; `pictograms` are the `pictogram_rules` of the library.

    Raises Refused when a font is not installed.
    """
    faces = "".join(
        f'@font-face{{font-family:"{font.family}";font-weight:{font.weight};src:url({font_path(font).as_uri()})}}'
        for font in language.fonts
    )
    families = ",".join(f'"{family}"' for family in language.families)
    start = "left" if language.direction is Direction.LTR else "right"
    own = templates.text("paper/page.css")
    marks = f".passage li{{background-image:url({_DOT})}}.boxes li{{background-image:url({_BOX})}}"
    return f"{faces}:root{{--start:{start}}}html{{font-family:{families}}}@page{{size:{_PAGE[paper]}}}{own}{pictograms}{marks}"


def _svg_uri(shape: str) -> str:
    svg = f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'>{shape}</svg>"
    return '"data:image/svg+xml,' + svg.replace("#", "%23").replace("<", "%3C").replace(">", "%3E").replace(" ", "%20") + '"'


_DOT = _svg_uri(f"<circle cx='5' cy='5' r='5' fill='{INK}'/>")
_BOX = _svg_uri(f"<path d='M1 1h8v8H1z' fill='none' stroke='{INK}'/>")


def font_path(font: FontFile) -> Path:
    """Where the font package keeps this face. Raises Refused when it is not installed."""
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
