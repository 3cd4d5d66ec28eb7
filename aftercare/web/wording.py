"""Problems in a nurse's words: the core names things by id, the desk by what stands on its buttons."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from aftercare.errors import Problem
from aftercare.library.catalogue import Library

_QUOTED = re.compile(r"'([a-z][a-z-]*)'")
_LISTED = re.compile(r"[a-z][a-z-]*")


def names(library: Library) -> dict[str, str]:
    """What a nurse calls each id of the library and each date of the form."""
    named = {id_: device.name.message for id_, device in library.devices.items()}
    named |= {id_: material.name.message for id_, material in library.materials.items()}
    named |= {id_: option.label.message for id_, option in library.options.items()}
    named |= {id_: weight.label.message for id_, weight in library.weights.items()}
    return named | {"applied": "Put on", "visit": "Next visit", "removal": "Taken off at home on"}


def in_words(problem: Problem, named: Mapping[str, str]) -> Problem:
    """The problem with names where it has ids; whatever else was typed stays as it was typed."""

    def quoted(match: re.Match[str]) -> str:
        return f"“{named[match[1]]}”" if match[1] in named else match[0]

    def listed(match: re.Match[str]) -> str:
        return named.get(match[0], match[0])

    allowed = problem.allowed
    if isinstance(allowed, str):
        head, colon, ids = allowed.partition(": ")
        allowed = head + colon + _LISTED.sub(listed, ids) if head == "Allowed" else allowed
    return replace(problem, what=_QUOTED.sub(quoted, problem.what), allowed=allowed, advice=_QUOTED.sub(quoted, problem.advice))
