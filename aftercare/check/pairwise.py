"""Generates a pairwise covering set: few sheets that contain every compatible pair of settings at least once.

Layout faults come from one setting or from a pair of them; all combinations are up to 11 million sheets.
Not from a package: allpairspy 2.5 misses one pair in twenty where settings exclude each other; covertable 3.2 is complete and
needs 201 sheets instead of 245, but takes 45 s instead of 0.3 s, which is more than laying out 44 sheets takes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from aftercare.check.combinations import compatible
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.sheet.choices import Choices
from aftercare.sheet.validate import options_for, weights_for

# A setting by name and value, such as ("paper", "a4") or ("option wires", "on"); and a pair of different settings.
Item = tuple[str, str]
Pair = frozenset[Item]
ON, OFF = "on", "off"
# Options on one sheet: more of them need fewer sheets, but few patients have more than four (common practice, no source).
MOST_TOGETHER = 4


@dataclass(frozen=True, slots=True)
class Setting:
    """One sheet to lay out: the choices, and how they are printed."""

    choices: Choices
    language: str
    paper: Paper
    size: Size

    def items(self, library: Library) -> dict[str, str]:
        """Return the values of its settings by name. Every option of the library has one; those that cannot apply are off."""
        on = {option.id for option in self.choices.options}
        return {
            "device": self.choices.device.id,
            "material": self.choices.material.id,
            "weight": self.choices.weight.id if self.choices.weight else "",
            "language": self.language,
            "paper": self.paper.value,
            "size": self.size.value,
        } | {_option_name(id_): ON if id_ in on else OFF for id_ in library.options}


def pairs(items: Iterable[Item]) -> Iterator[Pair]:
    """Return all pairs of settings with different names."""
    return (frozenset(pair) for pair in combinations(items, 2) if pair[0][0] != pair[1][0])


def covering(library: Library, languages: Iterable[str]) -> tuple[Setting, ...]:
    """Return sheets that contain each compatible pair of settings at least once."""
    return _Covering(library, tuple(languages)).settings()


class _Covering:
    """Greedy algorithm: each row starts with an uncovered pair, and every other setting gets the value that covers most pairs.

    A base is a device in a material with a weight order.
    """

    def __init__(self, library: Library, languages: tuple[str, ...]) -> None:
        self.library = library
        self.bases = tuple(_bases(library))
        self.print_settings = {"language": languages, "paper": tuple(Paper), "size": tuple(Size)}
        # For each pair, the indexes in `bases` of those it is compatible with.
        self.indexes: dict[Pair, list[int]] = {}
        for index, base in enumerate(self.bases):
            for pair in self._compatible_pairs(base):
                self.indexes.setdefault(pair, []).append(index)
        self.uncovered = dict.fromkeys(self.indexes)
        self.uncovered_of_item = Counter(item for pair in self.uncovered for item in sorted(pair))

    def settings(self) -> tuple[Setting, ...]:
        rows = []
        while self.uncovered:
            row = self._row(next(iter(self.uncovered)))
            rows.append(row)
            for pair in pairs(row.items(self.library).items()):
                if pair in self.uncovered:
                    del self.uncovered[pair]
                    self.uncovered_of_item.subtract(pair)
        return tuple(rows)

    def _row(self, pair: Pair) -> Setting:
        values = dict(pair)
        base = max((self.bases[index] for index in self.indexes[pair]), key=self._uncovered_of_base)
        applicable = options_for(self.library, base.device, base.material)
        on = tuple(option for option in applicable if values.get(_option_name(option.id)) == ON)
        row = set(_base_items(base)) | {*pair}
        for name, choices in self.print_settings.items():
            items = [(name, value) for value in choices if values.get(name, value) == value]
            best = max(items, key=lambda item: self._newly_covered(item, row))
            values[name] = best[1]
            row.add(best)
        for option in applicable:
            name = _option_name(option.id)
            if name not in values:
                allowed = len(on) < MOST_TOGETHER and compatible((*on, option), base.weight)
                is_on = allowed and self._newly_covered((name, ON), row) > self._newly_covered((name, OFF), row)
                values[name] = ON if is_on else OFF
                on += (option,) if is_on else ()
            row.add((name, values[name]))
        options = tuple(option for option in applicable if option in on)
        return Setting(replace(base, options=options), values["language"], Paper(values["paper"]), Size(values["size"]))

    def _uncovered_of_base(self, base: Choices) -> int:
        return sum(self.uncovered_of_item[item] for item in _base_items(base))

    def _newly_covered(self, item: Item, row: set[Item]) -> int:
        return sum(frozenset((item, other)) in self.uncovered for other in row)

    def _compatible_pairs(self, base: Choices) -> Iterator[Pair]:
        """Return every pair of settings that is possible on a sheet of this base."""
        applicable = options_for(self.library, base.device, base.material)
        on = {_option_name(option.id): option for option in applicable if compatible((option,), base.weight)}
        print_items = [(name, value) for name, values in self.print_settings.items() for value in values]
        option_items = [(_option_name(id_), OFF) for id_ in self.library.options] + [(name, ON) for name in on]
        for pair in pairs([*_base_items(base), *print_items, *option_items]):
            options = [on[name] for name, value in pair if value == ON]
            if len(options) < 2 or compatible(options, base.weight):
                yield pair


def _bases(library: Library) -> Iterator[Choices]:
    for device in library.devices.values():
        for material in device.materials:
            for weight in weights_for(library, device) or (None,):
                yield Choices(device, library.materials[material], weight=weight)


def _base_items(base: Choices) -> tuple[Item, ...]:
    weight = base.weight.id if base.weight else ""
    return ("device", base.device.id), ("material", base.material.id), ("weight", weight)


def _option_name(id_: str) -> str:
    return f"option {id_}"
