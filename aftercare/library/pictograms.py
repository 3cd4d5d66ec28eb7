"""Reads the pictograms, one SVG file each, and checks them against the house style."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING
from xml.parsers import expat

from aftercare.errors import Fault, Problem, Refused, Where, nearest
from aftercare.files import read_optional
from aftercare.places import shown

if TYPE_CHECKING:
    from aftercare.library.catalogue import Library

# Pictograms that the program itself uses, and where. All others are named by `picture` in a topic or a warning.
PAGE_PICTOGRAMS: Mapping[str, str] = {
    "call": "beside each phone number on a phone page (templates/phone/_calls.html)",
    "sheet": "as the icon of the phone site (site/site_files.py)",
    "skin": "on the button that starts the check of danger signs (templates/phone/page.html)",
    "visit": "in the heading of the dates on a phone page (templates/phone/page.html)",
    "warning": "in the heading of the danger signs on a phone page (templates/phone/page.html)",
}

# The house style. On paper a pictogram is 7 to 9 mm wide, so a stroke of 2 units is about 0.5 mm.
ROOT_ATTRIBUTES: Mapping[str, str] = {
    "viewBox": "0 0 32 32",
    "fill": "none",
    "stroke": "currentColor",
    "stroke-width": "2",
    "stroke-linejoin": "round",
    "stroke-linecap": "round",
}
PATH_ATTRIBUTES = ("d", "fill", "stroke-width")
SOLID = "currentColor"  # the one `fill` of a path; a path without it is drawn as lines
SLASH_WIDTH = "3"  # the one `stroke-width` of a path: the slash over a pictogram that means "do not"
SLASH = "M4 28L28 4"
# Path data, which may contain nothing else: pages embed it without escaping.
_PATH_DATA = re.compile(r"[Mm][-+.,0-9MmLlHhVvCcSsQqTtAaZz\s]+")
_NAMESPACE = "http://www.w3.org/2000/svg"
_SAVE = "Save it as plain SVG, in the style of the other files in this folder."


def read_pictograms(content: Path, problems: list[Problem]) -> dict[str, str]:
    """The text of each SVG file in the folder `pictograms` of the content folder, by the file's name without `.svg`.

    Every file that cannot be read or is not in the house style is added to `problems`.
    """
    pictograms: dict[str, str] = {}
    for path in sorted(_folder(content).glob("*.svg")):
        place, text = shown(path, content), ""
        try:
            text = read_optional(path) or ""
            problems += style_problems(text, place)
        except Refused as refused:
            problems += [replace(problem, where=Where(place)) for problem in refused.problems]
        pictograms[path.stem] = text
    return pictograms


def pictogram_name_problems(library: Library, content: Path) -> list[Problem]:
    """One problem for each name of a pictogram without a file, and for each file that nothing uses."""
    files = library.pictograms
    named = [(topic.picture, topic.title.where) for topic in library.topics.values() if topic.picture]
    named += [(sign.picture, sign.where) for sign in library.warnings if sign.picture]
    problems = [
        Problem(
            Fault.UNKNOWN_NAME,
            "'picture' names {}, for which there is no file.",
            subject=(name,),
            allowed=tuple(files),
            suggestion=nearest(name, files),
            advice=f"Name one of these, or add a file to {shown(_folder(content), content)}.",
            where=where,
        )
        for name, where in named
        if name not in files
    ]

    def add(name: str, what: str, advice: str) -> None:
        where = Where(shown(_folder(content) / f"{name}.svg", content))
        problems.append(Problem(Fault.BAD_FILE, what, advice=advice, where=where))

    for name, use in PAGE_PICTOGRAMS.items():
        if name not in files:
            add(name, f"There is no such file, and this pictogram is used {use}.", "Install the program again.")
    for name in sorted(files.keys() - PAGE_PICTOGRAMS.keys() - {name for name, _ in named}):
        add(name, "Nothing uses this pictogram.", "Name it as the 'picture' of a topic or a warning, or delete the file.")
    return problems


def _folder(content: Path) -> Path:
    return content / "pictograms"


def style_problems(svg: str, path: str) -> list[Problem]:
    """Find what differs from the house style in the text of a file; `path` is the file as messages name it."""
    if "<!DOCTYPE" in svg:
        line = svg[: svg.index("<!DOCTYPE")].count("\n") + 1
        what = "A pictogram has no DOCTYPE and defines no entities."
        return [Problem(Fault.BAD_FILE, what, advice="Delete it.", where=Where(path, line))]
    parser = expat.ParserCreate(namespace_separator=" ")
    check = _StyleCheck(path, parser)
    parser.StartElementHandler = check.start
    parser.EndElementHandler = check.end
    parser.CharacterDataHandler = check.text
    try:
        parser.Parse(svg, True)
    except expat.ExpatError as error:
        what = f"Cannot be read as XML: {expat.ErrorString(error.code)}."
        return [*check.problems, Problem(Fault.BAD_FILE, what, advice=_SAVE, where=Where(path, error.lineno))]
    if not check.paths and not check.problems:
        check.add(Fault.BAD_FILE, "This pictogram draws nothing.", allowed=("path",))
    return check.problems


@dataclass(slots=True)
class _StyleCheck:
    """Handlers for the parser, which compare each element with the house style and collect problems."""

    path: str
    parser: expat.XMLParserType
    problems: list[Problem] = field(default_factory=list)
    depth: int = 0
    paths: int = 0

    def add(self, fault: Fault, what: str, *, subject: tuple[str, ...] = (), allowed: tuple[str, ...] = ()) -> None:
        """Add a problem at the line that the parser has reached."""
        where = Where(self.path, self.parser.CurrentLineNumber)
        self.problems.append(Problem(fault, what, subject=subject, allowed=allowed, advice=_SAVE, where=where))

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Check an element: the outermost is `svg`, and all in it are `path`."""
        namespace, _, local = name.rpartition(" ")
        expected = "svg" if self.depth == 0 else "path"
        self.depth += 1
        if self.depth > 2 or local != expected or namespace != _NAMESPACE:
            self.add(Fault.UNKNOWN_NAME, "The element {} does not belong here.", subject=(local,), allowed=(expected,))
        elif expected == "svg":
            self._root(attributes)
        else:
            self._path(attributes)

    def end(self, _name: str) -> None:
        """Leave an element."""
        self.depth -= 1

    def text(self, text: str) -> None:
        """Refuse any text but white space."""
        if text.strip():
            self.add(Fault.BAD_VALUE, "The text {} does not belong here.", subject=(text.strip(),))

    def _root(self, attributes: dict[str, str]) -> None:
        self._refuse_unknown(attributes, tuple(ROOT_ATTRIBUTES))
        for name, value in ROOT_ATTRIBUTES.items():
            if name not in attributes:
                self.add(Fault.MISSING_KEY, "The attribute {} is missing.", subject=(name,), allowed=(value,))
            else:
                self._refuse_other(name, attributes[name], value)

    def _path(self, attributes: dict[str, str]) -> None:
        self.paths += 1
        self._refuse_unknown(attributes, PATH_ATTRIBUTES)
        data = attributes.get("d", "")
        if not _PATH_DATA.fullmatch(data):
            self.add(Fault.BAD_VALUE, "'d' is {}, which is no path data.", subject=(data,))
        if "fill" in attributes:
            self._refuse_other("fill", attributes["fill"], SOLID)
        if "stroke-width" in attributes:
            self._refuse_other("stroke-width", attributes["stroke-width"], SLASH_WIDTH)
            self._refuse_other("d", data, SLASH)

    def _refuse_unknown(self, attributes: dict[str, str], known: tuple[str, ...]) -> None:
        for name in attributes:
            if name not in known:
                local = name.rpartition(" ")[2]
                self.add(Fault.UNKNOWN_KEY, "The attribute {} does not belong here.", subject=(local,), allowed=known)

    def _refuse_other(self, name: str, value: str, expected: str) -> None:
        if value != expected:
            self.add(Fault.BAD_VALUE, f"'{name}' is {{}}.", subject=(value,), allowed=(expected,))
