"""Tests that templates are read once, and that parts shared by pages are rendered once for equal arguments."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from pathlib import Path

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from aftercare.page.phone import phone_page
from aftercare.page.templates import Templates
from aftercare.places import find_places
from tests.phone_world import demo_desk

PAGE = "{{ greeting }}, {{ name }}!"
MACROS = "{% macro row(cells) %}<tr>{% for cell in cells %}<td>{{ cell }}</td>{% endfor %}</tr>{% endmacro %}"
Call = tuple[str, str, tuple[Hashable, ...]]


class RecordingTemplates(Templates):
    """Templates that record the arguments and the result of every part."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.parts: dict[Call, Markup] = {}

    def part(self, template: str, macro: str, *arguments: Hashable) -> Markup:
        rendered = super().part(template, macro, *arguments)
        self.parts[template, macro, arguments] = rendered
        return rendered


def write_templates(folder: Path, page: str = PAGE, macros: str = MACROS) -> Path:
    """A folder with a page and with macros."""
    (folder / "paper").mkdir(exist_ok=True)
    (folder / "paper" / "page.html").write_text(page, encoding="utf-8")
    (folder / "paper" / "macros.html").write_text(macros, encoding="utf-8")
    return folder


def new_tuple(*words: str) -> tuple[str, ...]:
    """The words as a new tuple, not a constant of this module."""
    return words


def test_a_part_is_rendered_once_for_equal_arguments(tmp_path: Path) -> None:
    templates = Templates(write_templates(tmp_path))
    cells, equal = new_tuple("plaster", "72 hours"), new_tuple("plaster", "72 hours")
    assert cells is not equal

    first = templates.part("paper/macros.html", "row", cells)

    assert first == "<tr><td>plaster</td><td>72 hours</td></tr>"
    assert templates.part("paper/macros.html", "row", equal) is first


def test_a_part_is_rendered_anew_for_other_arguments(tmp_path: Path) -> None:
    templates = Templates(write_templates(tmp_path))

    rows = [templates.part("paper/macros.html", "row", cells) for cells in (("plaster",), ("fiberglass",), ())]

    assert rows == ["<tr><td>plaster</td></tr>", "<tr><td>fiberglass</td></tr>", "<tr></tr>"]


def test_a_part_of_markup_is_not_taken_for_the_part_of_equal_text(tmp_path: Path) -> None:
    templates = Templates(write_templates(tmp_path, macros="{% macro cell(words) %}<td>{{ words }}</td>{% endmacro %}"))

    assert templates.part("paper/macros.html", "cell", Markup("<b>1</b>")) == "<td><b>1</b></td>"
    assert templates.part("paper/macros.html", "cell", "<b>1</b>") == "<td>&lt;b&gt;1&lt;/b&gt;</td>"


def parts_of_page(templates: RecordingTemplates, device: str) -> dict[Call, Markup]:
    """The parts of the phone page of a device in fiberglass."""
    templates.parts = {}
    frame = replace(demo_desk().frame, templates=templates)
    phone_page(demo_desk().translate_sheet(demo_desk().sheets[device, "fiberglass"], "en"), frame)
    return templates.parts


def test_pages_of_two_sheets_share_the_parts_that_are_equal_and_no_others() -> None:
    templates = RecordingTemplates(find_places().templates)

    short, spica = parts_of_page(templates, "short-arm-cast"), parts_of_page(templates, "thumb-spica-cast")

    shared = [(call, other) for call in short for other in spica if call == other]
    assert {macro for (_, macro, _), _ in shared} == {"topic", "signs"}
    # Equal in value: each page has made its arguments itself.
    assert all(arguments[0] is not others[0] for (_, _, arguments), (_, _, others) in shared)
    assert all(short[call] is spica[call] for call, _ in shared)
    # No other part is the same object, or one sheet would carry the words of another.
    unshared = {id(short[call]) for call in short.keys() - spica.keys()}
    assert unshared
    assert not unshared & {id(spica[call]) for call in spica.keys() - short.keys()}


def test_an_edit_on_disk_is_seen_by_new_templates_only(tmp_path: Path) -> None:
    old = Templates(write_templates(tmp_path))
    rendered = old.render("paper/page.html", greeting="Hello", name="nurse")
    row = old.part("paper/macros.html", "row", ("plaster",))
    write_templates(tmp_path, "Goodbye, {{ name }}!", MACROS.replace("td>", "th>"))
    new = Templates(tmp_path)

    assert old.text("paper/page.html") == PAGE
    assert old.render("paper/page.html", greeting="Hello", name="nurse") == rendered == "Hello, nurse!"
    assert old.part("paper/macros.html", "row", ("plaster",)) is row
    # Also what was not rendered before the edit.
    assert old.part("paper/macros.html", "row", ("fiberglass",)) == "<tr><td>fiberglass</td></tr>"
    assert new.render("paper/page.html", name="nurse") == "Goodbye, nurse!"
    assert new.part("paper/macros.html", "row", ("plaster",)) == "<tr><th>plaster</th></tr>"


def test_a_value_is_escaped_and_markup_is_not(tmp_path: Path) -> None:
    templates = Templates(write_templates(tmp_path))

    assert templates.render("paper/page.html", greeting=Markup("<b>Hi</b>"), name="<b>") == "<b>Hi</b>, &lt;b&gt;!"
    assert templates.part("paper/macros.html", "row", ("<b>",)) == "<tr><td>&lt;b&gt;</td></tr>"


def test_a_value_that_was_not_given_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(UndefinedError, match="greeting"):
        Templates(write_templates(tmp_path)).render("paper/page.html", name="nurse")


def test_a_file_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(KeyError, match=r"paper/other\.css"):
        Templates(write_templates(tmp_path)).text("paper/other.css")
