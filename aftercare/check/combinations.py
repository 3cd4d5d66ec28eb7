"""Which sets of options have to be tried so that nothing two of them do together is missed."""

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
    """All choices to prove for the device and material of a full sheet.

    Options that meet in a passage, in a fact, in a list of signs or in a rule of what stands apart are tried in every
    combination; those that meet nowhere cannot change each other's effect, so they are tried one group at a time. Each
    largest set that may stand together is tried too, and all of it with each weight order. Sets that contradict
    themselves are left out: choosing refuses them.
    """
    device, material = full.device, full.material
    options = options_for(library, device, material)
    for weight in weights_for(library, device) or (None,):
        for chosen in sorted(_sets(options, _meetings(library, full)), key=lambda ids: (len(ids), sorted(ids))):
            picked = tuple(option for option in options if option.id in chosen)
            if compatible(picked, weight):
                yield Choices(device, material, None, picked, weight)


def compatible(options: Iterable[Option], weight: Weight | None) -> bool:
    """Whether choosing would accept these together."""
    picked = tuple(options)
    ids = {option.id for option in picked} | ({weight.id} if weight else set())
    return not any(other in ids for option in picked for other in option.conflicts)


def largest(options: tuple[Option, ...]) -> Iterator[frozenset[str]]:
    """For each option, a largest set around it: everything that agrees with what is in already, in the order of bits."""
    for first in options:
        chosen = [first]
        for option in options:
            if option not in chosen and compatible((*chosen, option), None):
                chosen.append(option)
        yield frozenset(option.id for option in chosen)


def _sets(options: tuple[Option, ...], meeting: list[frozenset[str]]) -> set[frozenset[str]]:
    found = {frozenset[str](), *largest(options)}
    for group in _groups({option.id for option in options}, meeting):
        for size in range(1, len(group) + 1):
            found |= {frozenset(subset) for subset in combinations(sorted(group), size)}
    return found


def _meetings(library: Library, full: FullSheet) -> list[frozenset[str]]:
    """The options that meet: in one passage's condition, one required fact, one list of signs, one rule of what is apart."""
    entries = tuple(full.entries())
    facts = {fact for entry in entries for fact in entry.item.covers}
    asking = {fact: {id_ for id_, asked in BY_OPTION.items() if fact in asked} for fact in facts}
    return [
        *(_asked((entry,)) for entry in entries),
        *(_asked(entry for entry in entries if fact in entry.item.covers) | asking[fact] for fact in facts),
        *(_asked(group.signs) for group in full.groups),
        *(_asked(entry for entry in entries if entry.item.id in rule.modules) for rule in library.exclusive),
    ]


def _asked(entries: Iterable[Conditional[Passage] | Conditional[Sign]]) -> frozenset[str]:
    return frozenset(id_ for entry in entries for id_ in (*entry.condition.options, *entry.condition.without))


def _groups(ids: set[str], meetings: list[frozenset[str]]) -> list[set[str]]:
    """The options gathered into groups that share no meeting."""
    groups = [{id_} for id_ in sorted(ids)]
    for meeting in meetings:
        touched = [group for group in groups if group & meeting]
        if len(touched) > 1:
            groups = [group for group in groups if group not in touched] + [set().union(*touched)]
    return groups
