"""Composes full sheets from a library, and the sheet of one patient from a full sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from aftercare.errors import Problem, Refused
from aftercare.library.body import group_fingers
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Material
from aftercare.library.modules import Advice, Applies, Tier, WarningSign
from aftercare.library.text import Block, Text
from aftercare.library.words import placeholders
from aftercare.sheet.choices import Choices
from aftercare.sheet.required import contradicting, lacking_in_full, lacking_in_patient
from aftercare.sheet.schedule import schedule
from aftercare.sheet.sheet import Condition, Conditional, FullSheet, Passage, PatientSheet, Section, Sign, SignGroup
from aftercare.sheet.validate import options_for


def arrange_all(library: Library) -> tuple[FullSheet, ...]:
    """Compose the full sheet of each device in each of its materials, in the library's order.

    Raises Refused with the problems of all sheets.
    """
    sheets: list[FullSheet] = []
    problems: list[Problem] = []
    for device in library.devices.values():
        for material in device.materials:
            try:
                sheets.append(arrange(library, device, library.materials[material]))
            except Refused as refused:
                problems += refused.problems
    if problems:
        raise Refused(problems)
    return tuple(sheets)


def arrange(library: Library, device: Device, material: Material) -> FullSheet:
    """Compose the full sheet of a device in a material: all signs and passages it can have, each with its condition.

    Raises Refused with every required fact that is missing.
    """
    possible = frozenset((*(option.id for option in options_for(library, device, material)), *device.weights))
    composer = _Composer(library, device, material, possible)
    labels = {id_: composer.fill(text) for id_, text in library.labels.items()}
    moving, tips = group_fingers(device.moving), group_fingers(device.tips)
    held = group_fingers(tuple(dict.fromkeys((*device.held, *device.enclosed))))
    parts = {*moving, *held, *tips}
    sheet = FullSheet(
        device=device,
        material=material,
        title=labels["sheet_title"],
        purpose=composer.fill(device.purpose),
        groups=composer.groups(labels),
        sections=composer.sections(),
        moving=moving,
        held=held,
        tips=tips,
        names={part: text for part, text in library.words.parts.items() if part in parts},
        labels=labels,
        figures=library.figures,
    )
    if problems := lacking_in_full(sheet):
        raise Refused(problems)
    return sheet


def settle(library: Library, full: FullSheet, choices: Choices) -> PatientSheet:
    """Compose the sheet of one patient: the part of the full sheet that applies to these choices.

    Raises Refused with every required fact that is missing and every two modules that exclude each other.
    """
    true_ids = {option.id for option in choices.options} | ({choices.weight.id} if choices.weight else set())
    groups = tuple(
        SignGroup(group.tier, group.title, signs)
        for group in full.groups
        if (signs := tuple(entry.item for entry in group.signs if entry.condition.holds(true_ids)))
    )
    sections = tuple(
        Section(section.topic, section.title, section.picture, passages)
        for section in full.sections
        if (passages := tuple(entry.item for entry in section.passages if entry.condition.holds(true_ids)))
    )
    if problems := [*lacking_in_patient(choices, groups, sections), *contradicting(library.exclusive, groups, sections)]:
        raise Refused(problems)
    return PatientSheet(full, choices, groups, sections, schedule(choices, full.figures, _mentioned(sections)))


def _mentioned(sections: tuple[Section[Passage], ...]) -> frozenset[str]:
    """The names in braces in the advice of a sheet."""
    blocks = (block for section in sections for passage in section.passages for block in passage.blocks)
    return frozenset(name for block in blocks for name in placeholders(block.text.message))


@dataclass(frozen=True, slots=True)
class _Composer:
    """Selects modules for the full sheet of a device in a material; `possible` are the ids of its options and weight orders."""

    library: Library
    device: Device
    material: Material
    possible: frozenset[str]

    def fill(self, text: Text) -> Text:
        return self.library.words.fill(text, self.device)

    def groups(self, labels: Mapping[str, Text]) -> tuple[SignGroup[Conditional[Sign]], ...]:
        signs: dict[Tier, list[Conditional[Sign]]] = {tier: [] for tier in Tier}
        for warning in self.library.warnings:
            condition = self._condition(warning.applies, warning.unless)
            if condition is not None:
                signs[warning.tier].append(Conditional(self._sign(warning), condition, self._lead(condition)))
        return tuple(
            SignGroup(tier, labels[f"tier_{tier.replace('-', '_')}"], tuple(entries))
            for tier, entries in signs.items()
            if entries
        )

    def sections(self) -> tuple[Section[Conditional[Passage]], ...]:
        passages: dict[str, list[Conditional[Passage]]] = {topic: [] for topic in self.library.topics}
        for advice in self.library.advice:
            condition = self._condition(advice.applies, advice.unless)
            if condition is not None:
                passages[advice.topic].append(Conditional(self._passage(advice), condition, self._lead(condition)))
        topics = self.library.topics
        return tuple(
            Section(id_, self.fill(topics[id_].title), topics[id_].picture, tuple(entries))
            for id_, entries in passages.items()
            if entries
        )

    def _sign(self, warning: WarningSign) -> Sign:
        return Sign(warning.id, self.fill(warning.sign), self.fill(warning.why), warning.picture, warning.covers)

    def _passage(self, advice: Advice) -> Passage:
        return Passage(
            id=advice.id,
            title=self.fill(advice.title) if advice.applies.about_patient else None,
            blocks=tuple(Block(block.kind, self.fill(block.text)) for block in advice.blocks),
            why=self.fill(advice.why) if advice.why else None,
            covers=advice.covers,
            meanwhile=advice.meanwhile,
        )

    def _condition(self, applies: Applies, unless: Applies) -> Condition | None:
        """What must be true of the patient for a module; None where the module does not apply to this device and material."""
        device, material, possible = self.device, self.material, self.possible
        if not applies.fits(device, material):
            return None
        without: tuple[str, ...] = ()
        if unless.fits(device, material):
            if unless.about_patient:
                without = (*unless.options, *unless.weights)
            elif unless.about_device:
                return None
        condition = Condition(
            options=tuple(id_ for id_ in applies.options if id_ in possible),
            weights=tuple(id_ for id_ in applies.weights if id_ in possible),
            without=tuple(id_ for id_ in without if id_ in possible),
        )
        if (applies.options and not condition.options) or (applies.weights and not condition.weights):
            return None
        return condition

    def _lead(self, condition: Condition) -> tuple[Text, ...]:
        """The options and weight orders of a condition in the patient's words, one text for each."""
        options = (self.library.options[id_].condition for id_ in condition.options)
        weights = (self.library.weights[id_].condition for id_ in condition.weights)
        return tuple(self.fill(text) for text in (*options, *weights))
