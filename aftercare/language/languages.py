"""The languages we can print: tag, own name, direction and fonts. Ours to decide; Babel only formats and reads PO."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Direction(StrEnum):
    """Which way lines run."""

    LTR = "ltr"
    RTL = "rtl"


@dataclass(frozen=True, slots=True)
class FontFile:
    """One static face: the package that carries it and the file inside that package's `files/` folder."""

    family: str
    package: str
    file: str
    weight: int


@dataclass(frozen=True, slots=True)
class Language:
    """A language a sheet can be in. `locale` is Babel's name for it; `path` its capital folder on the phone site."""

    tag: str
    own_name: str
    english_name: str
    direction: Direction
    locale: str
    fonts: tuple[FontFile, ...]

    @property
    def path(self) -> str:
        """The folder of its pages, in capitals so that the printed code stays small."""
        return self.tag.upper()

    @property
    def families(self) -> tuple[str, ...]:
        """The font families, first choice first."""
        return tuple(dict.fromkeys(font.family for font in self.fonts))


_ATKINSON = tuple(
    FontFile("Atkinson Hyperlegible", "fontpkg_atkinson_hyperlegible", f"AtkinsonHyperlegible-{style}.ttf", weight)
    for style, weight in (("Regular", 400), ("Bold", 700))
)
_PLEX_ARABIC = tuple(
    FontFile("IBM Plex Sans Arabic", "fontpkg_ibm_plex_sans_arabic", f"IBMPlexSansArabic-{style}.ttf", weight)
    for style, weight in (("Regular", 400), ("Bold", 700))
)

SOURCE = "en"
LANGUAGES: dict[str, Language] = {
    language.tag: language
    for language in (
        Language("en", "English", "English", Direction.LTR, "en_US", _ATKINSON),
        # Spanish of the United States: a clock of twelve hours, and a decimal point as its thermometers have.
        Language("es", "Español", "Spanish", Direction.LTR, "es_US", _ATKINSON),
        Language("ar", "العربية", "Arabic", Direction.RTL, "ar", _PLEX_ARABIC),
    )
}
