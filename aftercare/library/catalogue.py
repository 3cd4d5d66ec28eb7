"""Reads every content file into one frozen Library, or refuses with every problem in all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol, TypeVar

from aftercare.errors import Fault, Problem, Refused, Where, nearest
from aftercare.files import read_optional
from aftercare.library.body import Part
from aftercare.library.clinic import Clinic, read_clinic
from aftercare.library.device_parsing import read_device, read_material
from aftercare.library.devices import Device, Material
from aftercare.library.figures import Figure
from aftercare.library.header import Fields, parse_yaml
from aftercare.library.modules import Advice, ExclusiveModules, Option, Topic, WarningSign, Weight
from aftercare.library.names import name_problems
from aftercare.library.parsing import (
    range_problem,
    read_advice,
    read_exclusive,
    read_figures,
    read_option,
    read_topics,
    read_warning,
    read_weights,
)
from aftercare.library.pictograms import pictogram_name_problems, read_pictograms
from aftercare.library.source import Source, inline_problems, parse_source
from aftercare.library.supply import Supply, read_supplies
from aftercare.library.text import Text
from aftercare.library.wording import override, staff_text_problems, text_problems
from aftercare.library.words import OTHER_VALUES, Words
from aftercare.places import Places, shown


@dataclass(frozen=True, slots=True)
class Library:
    """All content files, with the clinic's figures and wording applied."""

    devices: Mapping[str, Device]
    materials: Mapping[str, Material]
    advice: tuple[Advice, ...]
    warnings: tuple[WarningSign, ...]
    options: Mapping[str, Option]
    weights: Mapping[str, Weight]
    topics: Mapping[str, Topic]
    labels: Mapping[str, Text]
    words: Words
    exclusive: tuple[ExclusiveModules, ...]
    figures: Mapping[str, Figure]
    supplies: Mapping[str, Supply]
    pictograms: Mapping[str, str]  # the text of an SVG file by the file's name
    clinic: Clinic


class _Named(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def where(self) -> Where: ...


_T = TypeVar("_T", bound=_Named)


def _order(module: Advice | WarningSign) -> tuple[int, str]:
    """The place of a module on a sheet."""
    return module.order, module.id


def load_library(places: Places, home: Path | None = None) -> Library:
    """Read the content folder and the clinic file in `home` (the content folder's own where None).

    Raises Refused with every problem of every file.
    """
    reader = _Reader(places)
    topics = read_topics(reader.yaml("topics"))
    figures = read_figures(reader.yaml("figures"))
    labels_file = reader.yaml("labels")
    labels = {key: Text(labels_file.text(key), labels_file.place(key)) for key in labels_file.keys()}
    clinic_path = (home or places.content) / "clinic.md"
    clinic = read_clinic(reader.source(clinic_path, sections=True), reader.problems)
    devices = reader.folder("devices", read_device)
    library = Library(
        devices=devices,
        materials=reader.folder("materials", read_material),
        advice=tuple(sorted(reader.folder("advice", lambda source: read_advice(source, tuple(topics))).values(), key=_order)),
        warnings=tuple(sorted(reader.folder("warnings", read_warning).values(), key=_order)),
        options=dict(sorted(reader.folder("options", read_option).items(), key=lambda item: item[1].bit)),
        weights=read_weights(reader.yaml("weights")),
        topics=topics,
        labels=labels,
        words=_words(reader.yaml("words")),
        exclusive=read_exclusive(reader.yaml("exclusive")),
        figures=_clinic_figures(figures, clinic, reader.problems),
        supplies=read_supplies(reader.yaml("supply-codes"), devices),
        pictograms=read_pictograms(places.content, reader.problems),
        clinic=clinic,
    )
    advice, warnings = override(library.advice, library.warnings, clinic.wordings, reader.problems)
    library = replace(library, advice=advice, warnings=warnings)
    reader.problems += [problem for text in header_texts_of(library) for problem in inline_problems(text)]
    reader.problems += name_problems(library)
    reader.problems += pictogram_name_problems(library, places.content)
    reader.problems += staff_text_problems(staff_texts_of(library))
    reader.problems += text_problems(texts_of(library), frozenset((*figures, *OTHER_VALUES)), library.words.names())
    if reader.problems:
        raise Refused(sorted(reader.problems, key=lambda problem: problem.where or Where("")))
    return library


_EMPTY_HEADER = "---\n---\n"
_REINSTALL = "Install the program again."
_NAME_HOME = "Name the clinic's folder with --home, or make one with 'aftercare clinic new FOLDER'."


class _Reader:
    """Opens content files and collects their problems."""

    def __init__(self, places: Places) -> None:
        self.places = places
        self.problems: list[Problem] = []

    def _text(self, path: Path) -> str:
        """The file's text; an empty header, and a problem, for a file that cannot be read."""
        where = Where(self._shown(path))
        try:
            text = read_optional(path)
        except Refused as refused:
            self.problems += [replace(problem, where=where) for problem in refused.problems]
            return _EMPTY_HEADER
        if text is None:
            advice = _REINSTALL if path.is_relative_to(self.places.content) else _NAME_HOME
            self.problems.append(Problem(Fault.BAD_FILE, "There is no such file.", advice=advice, where=where))
        return _EMPTY_HEADER if text is None else text

    def _shown(self, path: Path) -> str:
        return shown(path, self.places.content)

    def source(self, path: Path, *, sections: bool = False) -> Source:
        """A parsed Markdown file."""
        return parse_source(self._text(path), self._shown(path), self.problems, sections=sections)

    def yaml(self, name: str) -> Fields:
        """A parsed YAML file of the content folder, by its name without the ending."""
        path = self.places.content / f"{name}.yaml"
        return parse_yaml(self._text(path), Where(self._shown(path), 1), self.problems)

    def folder(self, name: str, read: Callable[[Source], _T]) -> dict[str, _T]:
        """Each Markdown file of a folder, by its name, as `read` converts it."""
        items: dict[str, _T] = {}
        for path in sorted((self.places.content / name).glob("*.md")):
            item = read(self.source(path))
            if item.id != path.stem:
                what, subject = "The id {} is not the file's name {}.", (item.id, path.stem)
                problem = Problem(Fault.BAD_VALUE, what, subject=subject, advice="Make them the same.", where=item.where)
                self.problems.append(problem)
            items[path.stem] = item
        if not items:
            where = Where(self._shown(self.places.content / name))
            self.problems.append(Problem(Fault.BAD_FILE, "This folder has no .md file.", advice=_REINSTALL, where=where))
        return items


def _words(file: Fields) -> Words:
    """Read words.yaml."""

    def tables(key: str) -> dict[str, dict[str, str]]:
        outer = file.inside(key, needed=True)
        return {
            name: {word: inner.text(word) for word in inner.keys()} for name in outer.keys() for inner in [outer.inside(name)]
        }

    parts = file.inside("parts", needed=True)
    words = Words(
        tables("nouns"),
        tables("limbs"),
        tables("extremities"),
        {part: Text(parts.text(part), parts.place(part)) for part in Part},
    )
    parts.done()
    file.done()
    return words


def _clinic_figures(figures: dict[str, Figure], clinic: Clinic, problems: list[Problem]) -> dict[str, Figure]:
    """The figures, with the clinic's values in place of the shipped ones."""
    set_by_clinic = dict(figures)
    for key, (numbers, where) in clinic.figures.items():
        if key not in figures:
            problems.append(
                Problem(
                    Fault.UNKNOWN_NAME,
                    "No figure is called {}.",
                    subject=(key,),
                    allowed=tuple(figures),
                    suggestion=nearest(key, figures),
                    where=where,
                )
            )
        elif numbers:
            set_by_clinic[key] = replace(figures[key], low=numbers[0], high=numbers[-1], where=where)
    problems += [problem for figure in set_by_clinic.values() if (problem := range_problem(figure))]
    return set_by_clinic


def texts_of(library: Library) -> Iterable[Text]:
    """Every text that a patient may read, before words replace their placeholders."""
    for device in library.devices.values():
        yield from (device.name, device.purpose)
    for advice in library.advice:
        yield advice.title
        yield from (block.text for block in advice.blocks)
    yield from (warning.sign for warning in library.warnings)
    yield from header_texts_of(library)


def header_texts_of(library: Library) -> Iterable[Text]:
    """Those of `texts_of` that come from YAML, whose Markdown parse_source has not parsed."""
    yield from (advice.why for advice in library.advice if advice.why)
    yield from (warning.why for warning in library.warnings)
    yield from (option.condition for option in library.options.values())
    yield from (weight.condition for weight in library.weights.values())
    yield from (topic.title for topic in library.topics.values())
    yield from library.labels.values()


def staff_texts_of(library: Library) -> Iterable[Text]:
    """Every text that only staff read, at the desk; nothing fills in a placeholder there."""
    yield from (warning.title for warning in library.warnings)
    yield from (weight.label for weight in library.weights.values())
    for option in library.options.values():
        yield from (option.label, *option.notes)
    for material in library.materials.values():
        yield from material.notes
