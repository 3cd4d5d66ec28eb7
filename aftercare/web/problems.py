"""Problems as a nurse reads them: the program names things by id, the desk by the words on its buttons."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from aftercare.errors import Problem
from aftercare.library.catalogue import Library

# The dates of the form by the labels of their fields, as in templates/web/_details.html.
DATE_LABELS = {"applied": "Put on", "visit": "Next visit", "removal": "Taken off at home on"}


@dataclass(frozen=True, slots=True)
class ShownProblem:
    """A problem in words. `what` is its first part, short enough for a link; `sentence` is all of it, with its place in a file.

    `field` is the field of the form that it is about, or "".
    """

    field: str
    what: str
    sentence: str


def desk_names(library: Library) -> dict[str, str]:
    """What the desk calls each id of the library and each date of the form."""
    names = {id_: device.name.message for id_, device in library.devices.items()}
    names |= {id_: material.name.message for id_, material in library.materials.items()}
    names |= {id_: option.label.message for id_, option in library.options.items()}
    names |= {id_: weight.label.message for id_, weight in library.weights.items()}
    return names | DATE_LABELS


def shown_problems(problems: Iterable[Problem], names: Mapping[str, str]) -> tuple[ShownProblem, ...]:
    """The problems with names in place of ids. A word that is not in `names`, such as one that was typed, stays as it is."""

    def name(word: str) -> str:
        return names.get(word, "")

    return tuple(_shown(problem, name) for problem in problems)


def _shown(problem: Problem, name: Callable[[str], str]) -> ShownProblem:
    what = replace(problem, allowed=(), suggestion="", advice="").sentence(name)
    place = f"{problem.where}: " if problem.where else ""
    return ShownProblem(problem.field, what, place + problem.sentence(name))
