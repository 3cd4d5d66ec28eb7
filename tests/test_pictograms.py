"""Tests that pictograms are SVG files in one house style, and that each is used."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.catalogue import Library, load_library
from aftercare.library.pictograms import PAGE_PICTOGRAMS, ROOT_ATTRIBUTES, SLASH, SLASH_WIDTH, style_problems
from aftercare.places import find_places
from tests.small_world import FILES, PICTOGRAM, small_world

# Uses the pictogram `raise` in a warning, for tests in which the topic no longer does.
WARNING = FILES["warnings/pain.md"].replace("why:", "picture: raise\nwhy:")
PATH = '<path d="M4 4h24v24H4z"/>'
SVG = "{http://www.w3.org/2000/svg}"


def refused(folder: Path, changed: dict[str, str | None]) -> tuple[Problem, ...]:
    """The problems of the small world with some files changed."""
    with pytest.raises(Refused) as refusal:
        load_library(small_world(folder, changed))
    return refusal.value.problems


def problem(svg: str) -> Problem:
    """The only problem of a file."""
    (reported,) = style_problems(svg, "content/pictograms/box.svg")
    assert reported.where
    assert reported.where.path == "content/pictograms/box.svg"
    return reported


# ---- the files ----


def test_every_shipped_pictogram_is_a_drawing_on_the_same_square_in_one_style(library: Library) -> None:
    widths = {ROOT_ATTRIBUTES["stroke-width"], SLASH_WIDTH}

    for name, svg in library.pictograms.items():
        root = ElementTree.fromstring(svg)
        assert root.tag == f"{SVG}svg", name
        assert dict(root.attrib) == dict(ROOT_ATTRIBUTES), name
        assert {path.tag for path in root} == {f"{SVG}path"}, name
        assert {path.get("stroke-width", ROOT_ATTRIBUTES["stroke-width"]) for path in root} <= widths, name
        assert {root.get("stroke"), *(path.get("fill", "none") for path in root)} <= {"currentColor", "none"}, name


def test_a_pictogram_that_means_do_not_has_the_slash_and_no_other_line_of_its_width(library: Library) -> None:
    slashed = {
        name
        for name, svg in library.pictograms.items()
        for path in ElementTree.fromstring(svg)
        if (path.get("stroke-width"), path.get("d")) == (SLASH_WIDTH, SLASH)
    }

    assert slashed == {"dry", "inside", "removal"}


def test_every_shipped_pictogram_is_used_and_every_one_used_is_shipped(library: Library) -> None:
    named = {topic.picture for topic in library.topics.values()} | {warning.picture for warning in library.warnings}

    assert (named - {""}) | set(PAGE_PICTOGRAMS) == set(library.pictograms)
    assert {path.stem for path in (find_places().content / "pictograms").iterdir()} == set(library.pictograms)


def test_the_pictograms_of_pages_are_those_that_templates_and_the_icon_draw(checkout: Path) -> None:
    templates = "".join(path.read_text() for path in (checkout / "templates").rglob("*.html"))
    program = "".join(path.read_text() for path in (checkout / "aftercare").rglob("*.py"))
    drawn = {*re.findall(r"\bicons\.([a-z]+)", templates), *re.findall(r"pictograms\[['\"]([a-z-]+)['\"]\]", program)}

    assert drawn == set(PAGE_PICTOGRAMS)


def test_an_unknown_pictogram_is_refused_with_its_line_the_known_ones_and_a_suggestion(tmp_path: Path) -> None:
    topics = FILES["topics.yaml"].replace("picture: raise", "picture: raize")

    (reported,) = refused(tmp_path, {"topics.yaml": topics, "warnings/pain.md": WARNING})

    assert (reported.fault, reported.subject, reported.suggestion) == (Fault.UNKNOWN_NAME, ("raize",), "raise")
    assert reported.allowed == ("call", "ice", "raise", "sheet", "skin", "visit", "warning")
    assert str(reported.where).endswith("content/topics.yaml:1")


def test_an_unknown_pictogram_of_a_warning_is_refused_too(tmp_path: Path) -> None:
    warning = FILES["warnings/pain.md"].replace("why:", "picture: snow-ball\nwhy:")

    (reported,) = refused(tmp_path, {"warnings/pain.md": warning})

    assert (reported.fault, reported.subject) == (Fault.UNKNOWN_NAME, ("snow-ball",))
    assert str(reported.where).endswith("content/warnings/pain.md")


def test_a_pictogram_that_nothing_uses_is_refused_by_its_file(tmp_path: Path) -> None:
    (reported,) = refused(tmp_path, {"pictograms/sun.svg": PICTOGRAM})

    assert reported.fault is Fault.BAD_FILE
    assert str(reported.where).endswith("content/pictograms/sun.svg")
    assert "uses" in reported.what


@pytest.mark.parametrize("name", PAGE_PICTOGRAMS)
def test_a_pictogram_that_pages_draw_cannot_be_left_out(tmp_path: Path, name: str) -> None:
    (reported,) = refused(tmp_path, {f"pictograms/{name}.svg": None})

    assert reported.fault is Fault.BAD_FILE
    assert str(reported.where).endswith(f"content/pictograms/{name}.svg")


def test_every_problem_of_every_pictogram_is_reported_in_one_run(tmp_path: Path) -> None:
    reported = refused(tmp_path, {"pictograms/ice.svg": "<svg", "pictograms/raise.svg": PICTOGRAM.replace("2", "3")})

    assert {str(each.where).rpartition("/")[2].partition(":")[0] for each in reported} == {"ice.svg", "raise.svg"}
    assert len(reported) > 2


def test_a_file_that_is_no_text_is_one_problem(tmp_path: Path) -> None:
    places = small_world(tmp_path)
    (places.content / "pictograms" / "ice.svg").write_bytes(b"\x89PNG\r\n")

    with pytest.raises(Refused) as refusal:
        load_library(places)

    (reported,) = refusal.value.problems
    assert str(reported.where).endswith("content/pictograms/ice.svg")


# ---- the house style ----


def test_a_pictogram_in_the_house_style_has_no_problem() -> None:
    parts = f'{PATH}\n<path fill="currentColor" d="M1 1z"/>\n<!-- do not --><path stroke-width="3" d="{SLASH}"/>'

    assert style_problems(PICTOGRAM.replace(PATH, parts), "box.svg") == []
    assert style_problems(f'<?xml version="1.0" encoding="UTF-8"?>\n{PICTOGRAM}', "box.svg") == []


@pytest.mark.parametrize(
    ("old", "new", "subject"),
    [
        ("0 0 32 32", "0 0 24 24", "0 0 24 24"),
        ('stroke-width="2"', 'stroke-width="1.5"', "1.5"),
        ('fill="none"', 'fill="black"', "black"),
        ('stroke="currentColor"', 'stroke="#000"', "#000"),
        ('linecap="round"', 'linecap="butt"', "butt"),
        ('linejoin="round"', 'linejoin="miter"', "miter"),
    ],
)
def test_another_size_stroke_or_color_of_the_drawing_is_refused(old: str, new: str, subject: str) -> None:
    assert old in PICTOGRAM

    reported = problem(PICTOGRAM.replace(old, new))

    assert (reported.fault, reported.subject) == (Fault.BAD_VALUE, (subject,))
    assert reported.allowed


@pytest.mark.parametrize("name", ROOT_ATTRIBUTES)
def test_a_drawing_without_an_attribute_of_the_style_is_refused(name: str) -> None:
    reported = problem(re.sub(f' {name}="[^"]*"', "", PICTOGRAM))

    assert (reported.fault, reported.subject, reported.allowed) == (Fault.MISSING_KEY, (name,), (ROOT_ATTRIBUTES[name],))


@pytest.mark.parametrize(
    ("path", "fault", "subject"),
    [
        ('<path d="M1 1z" fill="#7c1412"/>', Fault.BAD_VALUE, "#7c1412"),
        (f'<path d="{SLASH}" stroke-width="4"/>', Fault.BAD_VALUE, "4"),
        ('<path d="M4 4L28 28" stroke-width="3"/>', Fault.BAD_VALUE, "M4 4L28 28"),
        ('<path d="M1 1z" style="fill:red"/>', Fault.UNKNOWN_KEY, "style"),
        ('<path d="M1 1z" transform="scale(2)"/>', Fault.UNKNOWN_KEY, "transform"),
        ('<path d="url(#x)"/>', Fault.BAD_VALUE, "url(#x)"),
        ('<path d="M1 1&quot; onload=&quot;x"/>', Fault.BAD_VALUE, 'M1 1" onload="x'),
        ("<path/>", Fault.BAD_VALUE, ""),
        ('<circle r="4"/>', Fault.UNKNOWN_NAME, "circle"),
        ('<path xmlns="" d="M1 1z"/>', Fault.UNKNOWN_NAME, "path"),
        ("<path d='M1 1z'><title/></path>", Fault.UNKNOWN_NAME, "title"),
        ("words", Fault.BAD_VALUE, "words"),
    ],
)
def test_anything_in_a_drawing_but_plain_paths_is_refused_at_its_line(path: str, fault: Fault, subject: str) -> None:
    reported = problem(PICTOGRAM.replace(PATH, f"{PATH}\n{path}"))

    assert (reported.fault, reported.subject) == (fault, (subject,))
    assert reported.where
    assert reported.where.line == 3


@pytest.mark.parametrize("svg", ["", "<svg", PICTOGRAM.replace("</svg>", ""), PICTOGRAM.replace(PATH, "&box;")])
def test_a_file_that_is_no_xml_is_refused(svg: str) -> None:
    assert problem(svg).fault is Fault.BAD_FILE


def test_a_drawing_without_a_line_is_refused() -> None:
    assert problem(PICTOGRAM.replace(PATH, "")).fault is Fault.BAD_FILE


def test_an_entity_is_refused_before_it_is_parsed() -> None:
    svg = f'<?xml version="1.0"?>\n<!DOCTYPE svg [<!ENTITY d "M4 4z">]>\n{PICTOGRAM}'

    reported = problem(svg)

    assert reported.fault is Fault.BAD_FILE
    assert reported.where
    assert reported.where.line == 2
