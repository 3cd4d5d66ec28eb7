"""Selects the option sets to check, so that no effect of options in combination is missed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from aftercare.library.catalogue import Library
from aftercare.library.modules import Option, Weight
from aftercare.sheet.choices import Choices
from aftercare.sheet.required import BY_OPTION
from aftercare.sheet.sheet import Conditional, FullSheet, Passage, Sign
from aftercare.sheet.validate import options_for, weights_for


def cases(library: Library, full: FullSheet) -> Iterator[Choices]:
    """Return all choices to check for the device and material of a full sheet, with each weight order.

    Options interact where they occur in the same passage, required fact, list of signs or exclusive rule. Interacting options
    are tried in every combination; the others cannot change each other's effect, so they are tried in separate groups. The
    largest compatible sets are tried as well. Incompatible sets are left out, since `choose` refuses them.
    """
    device, material = full.device, full.material
    options = options_for(library, device, material)
    for weight in weights_for(library, device) or (None,):
        for ids in sorted(_option_sets(options, _interactions(library, full)), key=lambda ids: (len(ids), sorted(ids))):
            subset = tuple(option for option in options if option.id in ids)
            if compatible(subset, weight):
                yield Choices(device, material, None, subset, weight)


def compatible(options: Iterable[Option], weight: Weight | None) -> bool:
    """Whether `choose` accepts these options and this weight order together."""
    options = tuple(options)
    ids = {option.id for option in options} | ({weight.id} if weight else set())
    return not any(other in ids for option in options for other in option.conflicts)


def largest(options: tuple[Option, ...]) -> Iterator[frozenset[str]]:
    """Return, for each option, the ids of a maximal compatible set that contains it; others are added in the given order."""
    for first in options:
        subset = [first]
        for option in options:
            if option not in subset and compatible((*subset, option), None):
                subset.append(option)
        yield frozenset(option.id for option in subset)


def _option_sets(options: tuple[Option, ...], interactions: list[frozenset[str]]) -> set[frozenset[str]]:
    """Return the empty set, the largest sets and all subsets of each group of interacting options."""
    sets = {frozenset[str](), *largest(options)}
    for group in _groups({option.id for option in options}, interactions):
        for size in range(1, len(group) + 1):
            sets |= {frozenset(subset) for subset in combinations(sorted(group), size)}
    return sets


def _interactions(library: Library, full: FullSheet) -> list[frozenset[str]]:
    """Return the options that occur together, by passage or sign, required fact, list of signs, and exclusive rule."""
    entries = tuple(full.entries())
    facts = {fact for entry in entries for fact in entry.item.covers}
    required_by = {fact: {id_ for id_, required in BY_OPTION.items() if fact in required} for fact in facts}
    return [
        *(_options_of((entry,)) for entry in entries),
        *(_options_of(entry for entry in entries if fact in entry.item.covers) | required_by[fact] for fact in facts),
        *(_options_of(group.signs) for group in full.groups),
        *(_options_of(entry for entry in entries if entry.item.id in rule.modules) for rule in library.exclusive),
    ]


def _options_of(entries: Iterable[Conditional[Passage] | Conditional[Sign]]) -> frozenset[str]:
    """Return the ids in the conditions of these entries."""
    return frozenset(id_ for entry in entries for id_ in (*entry.condition.options, *entry.condition.without))


def _groups(ids: set[str], interactions: list[frozenset[str]]) -> list[set[str]]:
    """Partition the options: two that interact, directly or through others, are in the same group."""
    groups = [{id_} for id_ in sorted(ids)]
    for interaction in interactions:
        touched = [group for group in groups if group & interaction]
        if len(touched) > 1:
            groups = [group for group in groups if group not in touched] + [set().union(*touched)]
    return groups
