"""Tests of the printed PDF for people who hear it or see little: two PDF/UA checkers, ISO 14289-1 and clear print."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import outloud
import pdfua
import pikepdf
import pytest

from aftercare.language.languages import LANGUAGES
from aftercare.page.paper import Size
from tests.phone_world import demo_desk
from tests.printed import COPIES, PAPER_MM, POINTS_PER_MM, SOME_COPIES, Copy, pdf, sides

each_copy = pytest.mark.parametrize("copy", COPIES, ids=str)

# Warnings of the stricter checker that are not faults of the sheet:
ACCEPTED = {
    "TXT-004",  # several shapes of one Arabic letter, each rightly mapped to that letter
    "LNK-010",  # the address in words is there to be typed by hand; the code beside it is its link
    "PAG-001",  # the engine keeps the foot out of the reading order, but PDF 1.7 gives it no way to tag it so
}


def opened(copy: Copy) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(pdf(copy)))


def elements(node: pikepdf.Object) -> Iterator[pikepdf.Dictionary]:
    """Every structure element below a node in reading order."""
    children = node.get("/K", pikepdf.Array())
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            yield child
            yield from elements(child)


def tags(copy: Copy) -> list[str]:
    with opened(copy) as file:
        return [str(element.S) for element in elements(file.Root.StructTreeRoot)]


@pytest.mark.parametrize("copy", SOME_COPIES, ids=str)
def test_the_screen_reader_checker_finds_no_fault(copy: Copy, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf(copy))

    result = outloud.check(str(path))

    assert result.error is None
    assert [finding for finding in result.findings if finding.severity == "error"] == []
    assert {finding.rule for finding in result.findings if finding.severity == "warning"} <= ACCEPTED


@each_copy
def test_the_conformance_checker_finds_no_fault(copy: Copy, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf(copy))

    report = pdfua.validate(str(path))

    assert list(report.findings) == []
    assert len(report.outcomes) > 10
    # One rule stumbles over elements that hold a list of contents; it is about headings, which are checked below instead.
    assert {outcome.rule_id for outcome in report.outcomes if outcome.skipped_reason} <= {"UA-14-001"}


def test_both_checkers_report_a_picture_without_words(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    with opened(COPIES[0]) as file:
        for element in elements(file.Root.StructTreeRoot):
            if "/Alt" in element:
                del element["/Alt"]
        file.save(path)

    assert "FIG-001" in {finding.rule for finding in outloud.check(str(path)).findings}
    assert "UA-13-004" in {finding.rule_id for finding in pdfua.validate(str(path)).findings}


@each_copy
def test_the_file_names_its_language_and_shows_its_title(copy: Copy) -> None:
    with opened(copy) as file, file.open_metadata() as metadata:
        assert str(file.Root.Lang) == copy.tag
        assert bool(file.Root.ViewerPreferences.DisplayDocTitle)
        assert metadata["pdfuaid:part"] == "1"
        translated = demo_desk().translate(copy.choices, copy.tag)
        assert metadata["dc:title"] == translated.translation(translated.sheet.full.title)


@each_copy
def test_all_content_is_tagged(copy: Copy) -> None:
    with opened(copy) as file:
        assert bool(file.Root.MarkInfo.Marked)
        assert "/StructTreeRoot" in file.Root


@each_copy
def test_every_picture_has_words(copy: Copy) -> None:
    with opened(copy) as file:
        figures = [element for element in elements(file.Root.StructTreeRoot) if element.S == "/Figure"]
        words = [str(figure.get("/Alt", "")) for figure in figures]
    assert len(words) == 2  # the code and the drawing; pictograms are decoration
    assert all(words)


@each_copy
def test_headings_begin_at_the_first_level_and_skip_none(copy: Copy) -> None:
    levels = [int(tag[2:]) for tag in tags(copy) if re.fullmatch("/H[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


@each_copy
def test_lists_are_tagged_as_lists(copy: Copy) -> None:
    structure = tags(copy)
    assert structure.count("/LI") > 15
    assert structure.count("/L") > 5


@each_copy
def test_fonts_are_embedded_readable_and_only_the_languages_own(copy: Copy) -> None:
    declared = {family.replace(" ", "-") for family in LANGUAGES[copy.tag].families}
    embedded = set()
    with opened(copy) as file:
        for page in file.pages:
            for font in page.Resources.Font.values():
                (descendant,) = font.DescendantFonts
                assert "/FontFile2" in descendant.FontDescriptor
                assert "/ToUnicode" in font
                embedded.add(str(font.BaseFont).split("+")[1].removesuffix("-Bold"))
    assert embedded == declared


@each_copy
def test_no_letter_is_smaller_than_the_minimum(copy: Copy) -> None:
    # 12 pt: RNIB clear print. 18 pt: American Council of the Blind.
    least = {Size.REGULAR: 12, Size.LARGE: 18}[copy.size]
    assert min(glyph.size for side in sides(copy) for glyph in side.glyphs) >= least - 0.01


@each_copy
def test_nothing_is_cut_off_by_the_edge_that_printers_leave_white(copy: Copy) -> None:
    # Office printers leave 4 mm and more (common practice, no source).
    white = 4 * POINTS_PER_MM
    outside = [
        glyph
        for side in sides(copy)
        for glyph in side.glyphs
        if not (white <= glyph.left and glyph.right <= side.width - white and white <= glyph.top)
        or glyph.bottom > side.height - white
    ]
    assert outside == []


@each_copy
def test_every_side_has_the_size_of_its_paper(copy: Copy) -> None:
    width, height = (millimeters * POINTS_PER_MM for millimeters in PAPER_MM[copy.paper])
    assert {(round(side.width), round(side.height)) for side in sides(copy)} == {(round(width), round(height))}


@each_copy
def test_the_sheet_fits_one_sheet_of_paper_or_three_in_large_print(copy: Copy) -> None:
    assert len(sides(copy)) <= {Size.REGULAR: 2, Size.LARGE: 6}[copy.size]
