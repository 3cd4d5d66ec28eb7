"""Sheets of the demo clinic, printed once for all tests of a process, and what programs that are not ours see in them."""

from __future__ import annotations

import re
import subprocess
import unicodedata
from dataclasses import dataclass
from functools import cache
from io import BytesIO

import pdfplumber
from PIL import Image

from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.sheet.choices import Choices
from aftercare.sheet.validate import Picked
from tests.phone_world import demo_desk

ARM = Picked(
    "short-arm-cast",
    "fiberglass",
    side="left",
    options=("swelling-risk",),
    applied="2026-11-25T14:30",
    visit="2026-12-02T09:00",
)
# A sheet too full for the reasons of its advice, and one too full for any.
LEG = Picked("short-leg-cast", "fiberglass", side="right", weight="none", applied="2026-11-25T14:30", visit="2026-12-02T09:00")
FULLEST = Picked(
    "long-leg-cast",
    "plaster-fast",
    side="right",
    options=("nerve-block", "wires", "blood-thinner", "crutches", "swelling-risk"),
    weight="none",
    applied="2026-11-25T14:30",
    visit="2026-12-02T09:00",
)
POINTS_PER_MM = 72 / 25.4
# Millimeters, width and height: ISO 216 and ANSI/ASME Y14.1.
PAPER_MM = {Paper.LETTER: (215.9, 279.4), Paper.A4: (210.0, 297.0)}


@dataclass(frozen=True, slots=True)
class Copy:
    """One printed form of a sheet."""

    tag: str
    paper: Paper = Paper.LETTER
    size: Size = Size.REGULAR
    picked: Picked = ARM

    def __str__(self) -> str:
        form = f"{self.tag}-{self.paper}-{self.size}"
        return form if self.picked == ARM else f"{form}-{self.picked.device}"

    @property
    def choices(self) -> Choices:
        """What was picked, checked."""
        return demo_desk().choose(self.picked)

    @property
    def address(self) -> str:
        """Where its code leads."""
        return demo_desk().address(demo_desk().translate(self.choices, self.tag))


TAGS = ("en", "es", "ar")
FULL_COPIES = tuple(Copy(tag, picked=picked) for tag in TAGS for picked in (LEG, FULLEST))
ARM_COPIES = tuple(Copy(tag, paper, size) for tag in TAGS for paper in Paper for size in Size)
COPIES = ARM_COPIES + FULL_COPIES
# Each language on both papers and in both sizes, in half the prints, and the full sheets.
SOME_COPIES = tuple(copy for copy in COPIES if (copy.paper is Paper.A4) == (copy.size is Size.LARGE))


@cache
def pdf(copy: Copy) -> bytes:
    """The sheet as PDF."""
    return demo_desk().print_sheet(copy.choices, copy.tag, copy.paper, copy.size)


@cache
def raster(copy: Copy, dpi: int, side: int = 1) -> Image.Image:
    """One side as gray pixels, by Poppler; sides count from 1."""
    command = ("pdftoppm", "-r", str(dpi), "-gray", "-f", str(side), "-l", str(side), "-")
    with Image.open(BytesIO(subprocess.run(command, input=pdf(copy), capture_output=True, check=True).stdout)) as image:
        return image.copy()


@cache
def text(copy: Copy) -> str:
    """The words in reading order as Poppler sees it on the page."""
    return text_of(pdf(copy))


def text_of(file: bytes) -> str:
    """The words of a PDF by Poppler, without the characters that only steer direction; a form feed ends each side."""
    command = ("pdftotext", "-enc", "UTF-8", "-", "-")
    extracted = subprocess.run(command, input=file, capture_output=True, check=True).stdout.decode()
    return "".join(character for character in extracted if unicodedata.category(character) != "Cf")


@cache
def blocks(copy: Copy) -> tuple[tuple[str, str], ...]:
    """Tag and own text of each block in the order of the file's structure, which a screen reader follows, by Poppler."""
    command = ("pdfinfo", "-enc", "UTF-8", "-struct-text", "-")
    printed = subprocess.run(command, input=pdf(copy), capture_output=True, check=True).stdout.decode()
    elements: list[tuple[str, str]] = []
    for line in printed.splitlines():
        if opening := re.match(r" *(?!Span|NonStruct)(\w+)", line):
            elements.append((opening[1], ""))
        elif (words := re.match(r' *"(.*)"$', line)) and elements:
            elements[-1] = elements[-1][0], f"{elements[-1][1]} {words[1]}".strip()
    return tuple(elements)


@dataclass(frozen=True, slots=True)
class Glyph:
    """A character where it stands: points from the left and from the top of its side, and its size in points."""

    text: str
    left: float
    right: float
    top: float
    bottom: float
    size: float
    font: str
    side: int


@dataclass(frozen=True, slots=True)
class Side:
    """One side of paper: its size in points, and its characters."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...]


@cache
def sides(copy: Copy) -> tuple[Side, ...]:
    """Every side with every character, by pdfminer."""
    with pdfplumber.open(BytesIO(pdf(copy))) as opened:
        return tuple(
            Side(
                float(page.width),
                float(page.height),
                tuple(
                    Glyph(c["text"], c["x0"], c["x1"], c["top"], c["bottom"], c["size"], c["fontname"], number)
                    for c in page.chars
                ),
            )
            for number, page in enumerate(opened.pages, 1)
        )


def lines_from_the_left(copy: Copy) -> list[str]:
    """What stands on each line of the sheet from left to right, whatever its language; a gap gives a space."""
    lines: list[str] = []
    for side in sides(copy):
        rows: dict[int, list[Glyph]] = {}
        for glyph in side.glyphs:
            if glyph.text.strip() and unicodedata.category(glyph.text[0]) != "Cf":
                rows.setdefault(round((glyph.bottom + glyph.top) / 4), []).append(glyph)
        for row in rows.values():
            line, end = "", None
            for glyph in sorted(row, key=lambda glyph: glyph.left):
                line += (" " if end is not None and glyph.left - end > glyph.size / 8 else "") + glyph.text
                end = glyph.right
            lines.append(line)
    return lines


def words(text: str) -> list[str]:
    """The words of a text, each as its letters in the order of the alphabet, without marks and numbers.

    Poppler gives the letters of an Arabic ligature (lam-alef and others of the font) from left to right, so that words can
    only be compared by which letters they hold.
    """
    letters = "".join(c for c in unicodedata.normalize("NFKD", text) if unicodedata.category(c) != "Mn")
    return ["".join(sorted(word)) for word in re.findall(r"[^\W\d_]+", letters.lower())]


def letters(text: str) -> str:
    """All letters of a text in the order of the alphabet: the structure's lines run from left to right in Arabic too."""
    return "".join(sorted("".join(words(text))))
