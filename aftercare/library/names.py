"""Checks the names and codes that content files share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import TYPE_CHECKING

from aftercare.errors import Fault, Problem, Where, nearest
from aftercare.library.modules import Advice, Applies, Option, WarningSign

if TYPE_CHECKING:
    from aftercare.library.catalogue import Library


def name_problems(library: Library) -> list[Problem]:
    """One problem for each name that no file defines, and for each id, code or bit that is used twice."""
    problems: list[Problem] = []

    def check(key: str, names: Iterable[str], defined: Iterable[str], where: Where) -> None:
        defined = tuple(defined)
        for name in names:
            if name not in defined:
                problems.append(
                    Problem(
                        Fault.UNKNOWN_NAME,
                        "The key {} has the unknown name {}.",
                        subject=(key, name),
                        allowed=defined,
                        suggestion=nearest(name, defined),
                        where=where,
                    )
                )

    defined_names: dict[str, Iterable[str]] = {
        "devices": library.devices,
        "materials": library.materials,
        "nouns": library.words.nouns,
        "options": library.options,
        "weights": library.weights,
    }
    passages: list[Advice | WarningSign] = [*library.advice, *library.warnings]
    modules: list[Advice | WarningSign | Option] = [*passages, *library.options.values()]
    for module in modules:
        for applies in (module.applies, module.unless):
            for field in fields(Applies):
                if field.name in defined_names:
                    check(field.name, getattr(applies, field.name), defined_names[field.name], module.where)
    for device in library.devices.values():
        check("materials", device.materials, library.materials, device.where)
        check("weights", device.weights, library.weights, device.where)
        check("noun", [device.noun], library.words.nouns, device.where)
    for material in library.materials.values():
        for key, figure in (("dry-after", material.dry_after), ("walk-after", material.walk_after)):
            check(key, [figure] if figure else [], library.figures, material.where)
    for exclusive in library.exclusive:
        check("modules", exclusive.modules, [module.id for module in passages], exclusive.where)
    for option in library.options.values():
        check("conflicts", option.conflicts, (*library.options, *library.weights), option.where)
    problems += _duplicates("id", ((module.id, module.where) for module in passages))
    problems += _duplicates("code", ((device.code, device.where) for device in library.devices.values()))
    problems += _duplicates("code", ((material.code, material.where) for material in library.materials.values()))
    problems += _duplicates("bit", ((str(option.bit), option.where) for option in library.options.values()))
    return problems


def _duplicates(key: str, values: Iterable[tuple[str, Where]]) -> list[Problem]:
    """One problem for each value that is used again after its first place."""
    places: dict[str, Where] = {}
    problems = []
    for value, where in values:
        if value in places:
            what = f"The {key} {{}} is taken by {{}}."
            advice = "Choose one that was never used; codes are printed on paper and so are permanent."
            subject = (value, str(places[value]))
            problems.append(Problem(Fault.DUPLICATE, what, subject=subject, advice=advice, where=where))
        places[value] = where
    return problems
