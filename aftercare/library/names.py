"""Names and codes that must agree between content files."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import TYPE_CHECKING

from aftercare.errors import Fault, Problem, Where, did_you_mean, listed
from aftercare.library.modules import Advice, Applies, Option, WarningSign

if TYPE_CHECKING:
    from aftercare.library.catalogue import Library


def names_that_disagree(library: Library) -> list[Problem]:
    """Every name in one file that no other file defines, and every code used twice."""
    problems: list[Problem] = []

    def check(key: str, names: Iterable[str], known: Iterable[str], where: Where) -> None:
        known = tuple(known)
        for name in names:
            if name not in known:
                problems.append(
                    Problem(Fault.UNKNOWN_NAME, f"'{key}' says '{name}'.", listed(known), did_you_mean(name, known), where)
                )

    kinds: dict[str, Iterable[str]] = {
        "devices": library.devices,
        "materials": library.materials,
        "nouns": library.words.nouns,
        "options": library.options,
        "weights": library.weights,
    }
    modules: tuple[Advice | WarningSign | Option, ...] = (*library.advice, *library.warnings, *library.options.values())
    for module in modules:
        for applies in (module.applies, module.unless):
            for field in fields(Applies):
                if field.name in kinds:
                    check(field.name, getattr(applies, field.name), kinds[field.name], module.where)
    for device in library.devices.values():
        check("materials", device.materials, library.materials, device.where)
        check("weights", device.weights, library.weights, device.where)
        check("noun", [device.noun], library.words.nouns, device.where)
    for material in library.materials.values():
        for key, figure in (("dry-after", material.dry_after), ("walk-after", material.walk_after)):
            check(key, [figure] if figure else [], library.figures, material.where)
    written: list[Advice | WarningSign] = [*library.advice, *library.warnings]
    for exclusive in library.exclusive:
        check("modules", exclusive.modules, [module.id for module in written], exclusive.where)
    for option in library.options.values():
        check("conflicts", option.conflicts, (*library.options, *library.weights), option.where)
    problems += _twice(("id", module.id, module.where) for module in written)
    problems += _twice(("code", d.code, d.where) for d in library.devices.values())
    problems += _twice(("code", m.code, m.where) for m in library.materials.values())
    problems += _twice(("bit", str(o.bit), o.where) for o in library.options.values())
    return problems


def _twice(named: Iterable[tuple[str, str, Where]]) -> list[Problem]:
    seen: dict[str, Where] = {}
    problems = []
    for key, value, where in named:
        if value in seen:
            advice = "Choose one that was never used; codes stand on paper for good."
            problems.append(
                Problem(Fault.DUPLICATE, f"The {key} '{value}' is taken by {seen[value]}.", advice=advice, where=where)
            )
        seen[value] = where
    return problems
