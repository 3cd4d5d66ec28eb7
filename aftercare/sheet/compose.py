"""Choices become a sheet: which modules stand on it, in which order, under which conditions."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import Any, TypeVar

from aftercare.errors import Refused
from aftercare.library.body import group_fingers
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material
from aftercare.library.modules import Advice, Applies, Tier, WarningSign
from aftercare.library.text import Block, Text
from aftercare.library.words import placeholders
from aftercare.sheet.choices import Choices
from aftercare.sheet.required import contradicting, lacking
from aftercare.sheet.schedule import schedule
from aftercare.sheet.sheet import Condition, Passage, Section, Sheet, Sign, SignGroup
from aftercare.sheet.validate import options_for

_T = TypeVar("_T", Passage, Sign)
_Made = TypeVar("_Made")


def compose(library: Library, choices: Choices) -> Sheet:
    """The sheet for these choices, in no language yet.

    For one patient every condition is settled; with `choices.everyone` each passage keeps its own.
    Raises Refused when a required fact is missing, or two passages contradict each other.
    """
    device, material = choices.device, choices.material
    whole = _arranged(library, device.id, material.id)
    groups, sections = (whole.groups, whole.sections) if choices.everyone else _settled(whole, choices)
    problems = lacking(choices, groups, sections)
    if not choices.everyone:
        problems += contradicting(library.exclusive, groups, sections)
    if problems:
        raise Refused(problems)
    return _sheet(library, choices, whole, groups, sections)


def _sheet(
    library: Library, choices: Choices, whole: _Arranged, groups: tuple[SignGroup, ...], sections: tuple[Section, ...]
) -> Sheet:
    device = choices.device
    moving, tips = group_fingers(device.moving), group_fingers(device.tips)
    held = group_fingers(tuple(dict.fromkeys((*device.held, *device.enclosed))))
    parts = {*moving, *held, *tips}
    return Sheet(
        choices=choices,
        title=whole.labels["sheet_title"],
        name=device.name,
        material=choices.material.name,
        purpose=whole.purpose,
        groups=groups,
        sections=sections,
        moving=moving,
        held=held,
        tips=tips,
        names={part: text for part, text in library.words.parts.items() if part in parts},
        labels=whole.labels,
        schedule=schedule(choices, library.figures, _mentioned(sections)),
        figures=library.figures,
        page_texts=whole.texts,
    )


def _mentioned(sections: tuple[Section, ...]) -> frozenset[str]:
    """The values that the advice on a sheet names."""
    blocks = (block for section in sections for passage in section.passages for block in passage.blocks)
    return frozenset(name for block in blocks for name in placeholders(block.text.message))


@dataclass(frozen=True, slots=True)
class _Arranged:
    """Everything that can stand on a sheet for a device in a material, each passage under its condition."""

    groups: tuple[SignGroup, ...]
    sections: tuple[Section, ...]
    purpose: Text
    labels: Mapping[str, Text]
    texts: tuple[Text, ...] = ()


@lru_cache(maxsize=8)
def _shared(library: Library) -> dict[Hashable, Any]:  # noqa: ARG001 - one for each library
    """The parts composed so far. Most devices say most things in the same words, and then with the very same part, so that
    what is made of a part later need be made once.
    """
    return {}


# Every device in every material fits, so that composing all combinations arranges each of them once.
@lru_cache(maxsize=1024)
def _arranged(library: Library, device_id: str, material_id: str) -> _Arranged:
    device, material = library.devices[device_id], library.materials[material_id]
    possible = frozenset((*(option.id for option in options_for(library, device, material)), *device.weights))
    composer = _Composer(library, device, material, possible, _shared(library))
    labels = composer.labels()
    whole = _Arranged(composer.groups(labels), composer.sections(), composer.fill(device.purpose), labels)
    page = _sheet(library, Choices(device, material, everyone=True), whole, whole.groups, whole.sections)
    return replace(whole, texts=tuple(dict.fromkeys(page.texts())))


def _settled(whole: _Arranged, choices: Choices) -> tuple[tuple[SignGroup, ...], tuple[Section, ...]]:
    """The passages that are for this patient, their conditions gone."""
    true = {option.id for option in choices.options} | ({choices.weight.id} if choices.weight else set())

    def settle(items: tuple[_T, ...]) -> tuple[_T, ...]:
        return tuple(
            replace(item, condition=Condition(), conditions=()) if item.condition else item
            for item in items
            if item.condition.holds(true)
        )

    groups = tuple(replace(group, signs=signs) for group in whole.groups if (signs := settle(group.signs)))
    sections = tuple(replace(section, passages=kept) for section in whole.sections if (kept := settle(section.passages)))
    return groups, sections


@dataclass(frozen=True, slots=True)
class _Composer:
    library: Library
    device: Device
    material: Material
    possible: frozenset[str]
    shared: dict[Hashable, Any]

    def fill(self, text: Text) -> Text:
        return self.library.words.fill(text, self.device)

    def once(self, make: Callable[[], _Made], *made_of: Hashable) -> _Made:
        """The part made before of the same things and with the same words in place, else a new one."""
        key = (*made_of, self.device.noun, self.device.limb)  # which decide every word that `fill` puts in
        found: _Made | None = self.shared.get(key)
        if found is None:
            found = self.shared[key] = make()
        return found

    def labels(self) -> Mapping[str, Text]:
        return self.once(lambda: {key: self.fill(text) for key, text in self.library.labels.items()}, "labels")

    def groups(self, labels: Mapping[str, Text]) -> tuple[SignGroup, ...]:
        found = []
        for tier in Tier:
            signs = tuple(sign for warning in self.library.warnings if warning.tier is tier and (sign := self._sign(warning)))
            if signs:
                title = labels[f"tier_{tier.replace('-', '_')}"]
                # Parts in `shared` stay there, so their addresses tell them apart.
                found.append(self.once(partial(SignGroup, tier, title, signs), tier, *map(id, signs)))
        return tuple(found)

    def sections(self) -> tuple[Section, ...]:
        found = []
        for topic in self.library.topics.values():
            passages = tuple(p for advice in self.library.advice if advice.topic == topic.id and (p := self._passage(advice)))
            if passages:
                make = partial(Section, topic.id, self.fill(topic.title), topic.picture, passages)
                found.append(self.once(make, "section", topic.id, *map(id, passages)))
        return tuple(found)

    def _sign(self, warning: WarningSign) -> Sign | None:
        condition = self._condition(warning.applies, warning.unless)
        if condition is None:
            return None

        def make() -> Sign:
            sign, why = self.fill(warning.sign), self.fill(warning.why)
            return Sign(warning.id, sign, why, warning.picture, condition, self._conditions(condition), warning.covers)

        return self.once(make, "sign", warning.id, condition)

    def _passage(self, advice: Advice) -> Passage | None:
        condition = self._condition(advice.applies, advice.unless)
        if condition is None:
            return None

        def make() -> Passage:
            title = self.fill(advice.title) if advice.applies.about_patient else None
            blocks = tuple(Block(block.kind, self.fill(block.text)) for block in advice.blocks)
            why = self.fill(advice.why) if advice.why else None
            conditions = self._conditions(condition)
            return Passage(advice.id, title, blocks, why, condition, conditions, advice.covers, advice.meanwhile)

        return self.once(make, "passage", advice.id, condition)

    def _condition(self, applies: Applies, unless: Applies) -> Condition | None:
        """What remains to be asked of the patient, or None where the passage never stands on this sheet."""
        device, material, possible = self.device, self.material, self.possible
        if not applies.fits(device, material):
            return None
        without: tuple[str, ...] = ()
        if unless.about_patient and unless.fits(device, material):
            without = (*unless.options, *unless.weights)
        elif unless.about_device and unless.fits(device, material):
            return None
        condition = Condition(
            options=tuple(id_ for id_ in applies.options if id_ in possible),
            weights=tuple(id_ for id_ in applies.weights if id_ in possible),
            without=tuple(id_ for id_ in without if id_ in possible),
        )
        if (applies.options and not condition.options) or (applies.weights and not condition.weights):
            return None
        return condition

    def _conditions(self, condition: Condition) -> tuple[Text, ...]:
        options = (self.library.options[id_].condition for id_ in condition.options)
        weights = (self.library.weights[id_].condition for id_ in condition.weights)
        return tuple(self.fill(text) for text in (*options, *weights))
