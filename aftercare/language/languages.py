"""The languages of sheets: tag, names, direction, locale and fonts. Babel only formats values in them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Direction(StrEnum):
    """Direction of a line of text."""

    LTR = "ltr"
    RTL = "rtl"


@dataclass(frozen=True, slots=True)
class FontFile:
    """A static font file: `package` is the Python package with it, `file` its name in that package's `files/` folder."""

    family: str
    package: str
    file: str
    weight: int


@dataclass(frozen=True, slots=True)
class Language:
    """A language of sheets. `tag` is its BCP 47 tag, `locale` Babel's name for it."""

    tag: str
    own_name: str
    english_name: str
    direction: Direction
    locale: str
    fonts: tuple[FontFile, ...]

    @property
    def path(self) -> str:
        """The folder of its pages on the phone site, in capitals so that the printed code stays small."""
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

SOURCE = "en"  # the tag of the language that content files are written in
LANGUAGES: dict[str, Language] = {
    language.tag: language
    for language in (
        Language("en", "English", "English", Direction.LTR, "en_US", _ATKINSON),
        # Spanish of the United States: a clock of twelve hours, and a decimal point as its thermometers have.
        Language("es", "Español", "Spanish", Direction.LTR, "es_US", _ATKINSON),
        Language("ar", "العربية", "Arabic", Direction.RTL, "ar", _PLEX_ARABIC),
    )
}
