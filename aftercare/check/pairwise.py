"""Few sheets in which every two settings that may stand together do so at least once.

Faults of layout come from one setting or from two meeting; all of them together would be billions of sheets.
Ours, since the one well-kept package for it, allpairspy 2.5, misses one pair in twenty where settings exclude each other.
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

# One setting by name and value, such as ("paper", "a4") or ("option wires", "on"); and two of them.
Item = tuple[str, str]
Pair = frozenset[Item]
ON, OFF = "on", "off"
# Options on one sheet. Two make a pair, more save sheets, and few patients have more than four (common practice, no source).
MOST_TOGETHER = 4


@dataclass(frozen=True, slots=True)
class Setting:
    """One sheet to lay out: what was picked, and how it is printed."""

    choices: Choices
    language: str
    paper: Paper
    size: Size

    def items(self, library: Library) -> dict[str, str]:
        """Its settings by name; an option that cannot apply is off like any other."""
        on = {option.id for option in self.choices.options}
        return {
            "device": self.choices.device.id,
            "material": self.choices.material.id,
            "weight": self.choices.weight.id if self.choices.weight else "",
            "language": self.language,
            "paper": self.paper.value,
            "size": self.size.value,
        } | {_option(id_): ON if id_ in on else OFF for id_ in library.options}


def pairs(items: Iterable[Item]) -> Iterator[Pair]:
    """Every two of some settings, but never two values of one."""
    return (frozenset(two) for two in combinations(items, 2) if two[0][0] != two[1][0])


def covering(library: Library, languages: Iterable[str]) -> tuple[Setting, ...]:
    """The sheets; each pair of settings that may stand together is on at least one of them."""
    return _Cover(library, tuple(languages)).settings()


class _Cover:
    """Row after row, each begun with a pair not yet covered and filled with the values that cover most."""

    def __init__(self, library: Library, languages: tuple[str, ...]) -> None:
        self.library = library
        self.bases = tuple(_bases(library))
        self.ways = {"language": languages, "paper": tuple(Paper), "size": tuple(Size)}
        # For each pair, the places in `bases` where it may stand.
        self.places: dict[Pair, list[int]] = {}
        for place, base in enumerate(self.bases):
            for pair in self._possible(base):
                self.places.setdefault(pair, []).append(place)
        self.missing = dict.fromkeys(self.places)
        self.wanted = Counter(item for pair in self.missing for item in sorted(pair))

    def settings(self) -> tuple[Setting, ...]:
        found = []
        while self.missing:
            row = self._row(next(iter(self.missing)))
            found.append(row)
            for pair in pairs(row.items(self.library).items()):
                if pair in self.missing:
                    del self.missing[pair]
                    self.wanted.subtract(pair)
        return tuple(found)

    def _row(self, pair: Pair) -> Setting:
        given = dict(pair)
        base = max((self.bases[place] for place in self.places[pair]), key=self._promise)
        fitting = options_for(self.library, base.device, base.material)
        on = tuple(option for option in fitting if given.get(_option(option.id)) == ON)
        row = set(_about(base)) | {*pair}
        for name, values in self.ways.items():
            items = [(name, value) for value in values if given.get(name, value) == value]
            best = max(items, key=lambda item: self._gain(item, row))
            given[name] = best[1]
            row.add(best)
        for option in fitting:
            name = _option(option.id)
            if name not in given:
                can = len(on) < MOST_TOGETHER and compatible((*on, option), base.weight)
                given[name] = ON if can and self._gain((name, ON), row) > self._gain((name, OFF), row) else OFF
                on += (option,) if given[name] == ON else ()
            row.add((name, given[name]))
        options = tuple(option for option in fitting if option in on)
        return Setting(replace(base, options=options), given["language"], Paper(given["paper"]), Size(given["size"]))

    def _promise(self, base: Choices) -> int:
        return sum(self.wanted[item] for item in _about(base))

    def _gain(self, item: Item, row: set[Item]) -> int:
        return sum(frozenset((item, other)) in self.missing for other in row)

    def _possible(self, base: Choices) -> Iterator[Pair]:
        """Every pair of settings that may stand together on a sheet for what was put on, under this weight order."""
        fitting = options_for(self.library, base.device, base.material)
        on = {_option(option.id): option for option in fitting if compatible((option,), base.weight)}
        ways = [(name, value) for name, values in self.ways.items() for value in values]
        options = [(_option(id_), OFF) for id_ in self.library.options] + [(name, ON) for name in on]
        for pair in pairs([*_about(base), *ways, *options]):
            both = [on[name] for name, value in pair if value == ON]
            if len(both) < 2 or compatible(both, base.weight):
                yield pair


def _bases(library: Library) -> Iterator[Choices]:
    for device in library.devices.values():
        for material in device.materials:
            for weight in weights_for(library, device) or (None,):
                yield Choices(device, library.materials[material], weight=weight)


def _about(base: Choices) -> tuple[Item, ...]:
    weight = base.weight.id if base.weight else ""
    return ("device", base.device.id), ("material", base.material.id), ("weight", weight)


def _option(id_: str) -> str:
    return f"option {id_}"
