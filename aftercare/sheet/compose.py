"""Choices become a sheet: which modules stand on it, in which order, under which conditions."""

from __future__ import annotations

from dataclasses import dataclass

from aftercare.errors import Refused
from aftercare.library.catalogue import Library
from aftercare.library.modules import Advice, Applies, Tier, Warning
from aftercare.library.text import Block, Text
from aftercare.sheet.choices import Choices
from aftercare.sheet.picked import options_for
from aftercare.sheet.required import lacking
from aftercare.sheet.schedule import schedule
from aftercare.sheet.sheet import Condition, Passage, Section, Sheet, Sign, SignGroup


def compose(library: Library, choices: Choices) -> Sheet:
    """The sheet for these choices, in no language yet.

    For one patient every condition is settled; with `choices.everyone` each passage keeps its own.
    Raises Refused when a required fact is missing.
    """
    composer = _Composer(library, choices)
    groups, sections = composer.groups(), composer.sections()
    if problems := lacking(choices, groups, sections):
        raise Refused(problems)
    device = choices.device
    parts = {*device.moving, *device.held, *device.enclosed, *device.tips}
    return Sheet(
        choices=choices,
        title=composer.fill(library.labels["sheet_title"]),
        name=device.name,
        material=choices.material.name,
        purpose=composer.fill(device.purpose),
        groups=groups,
        sections=sections,
        moving=device.moving,
        held=tuple(dict.fromkeys((*device.held, *device.enclosed))),
        tips=device.tips,
        names={part: text for part, text in library.words.parts.items() if part in parts},
        labels={key: composer.fill(text) for key, text in library.labels.items()},
        schedule=schedule(choices, library.figures),
        figures=library.figures,
    )


@dataclass(frozen=True, slots=True)
class _Composer:
    library: Library
    choices: Choices

    def fill(self, text: Text) -> Text:
        return self.library.words.fill(text, self.choices.device)

    def groups(self) -> tuple[SignGroup, ...]:
        found = []
        for tier in Tier:
            signs = tuple(sign for warning in self.library.warnings if warning.tier is tier and (sign := self._sign(warning)))
            if signs:
                found.append(SignGroup(tier, self.fill(self.library.labels[f"tier_{tier.replace('-', '_')}"]), signs))
        return tuple(found)

    def sections(self) -> tuple[Section, ...]:
        found = []
        for topic in self.library.topics.values():
            passages = tuple(p for advice in self.library.advice if advice.topic == topic.id and (p := self._passage(advice)))
            if passages:
                found.append(Section(topic.id, self.fill(topic.title), topic.picture, passages))
        return tuple(found)

    def _sign(self, warning: Warning) -> Sign | None:
        condition = self._condition(warning.applies, warning.unless)
        if condition is None:
            return None
        return Sign(
            warning.id,
            self.fill(warning.sign),
            self.fill(warning.why),
            warning.picture,
            condition,
            self._conditions(condition),
            warning.covers,
        )

    def _passage(self, advice: Advice) -> Passage | None:
        condition = self._condition(advice.applies, advice.unless)
        if condition is None:
            return None
        return Passage(
            advice.id,
            self.fill(advice.title) if advice.applies.about_patient else None,
            tuple(Block(block.kind, self.fill(block.text)) for block in advice.blocks),
            self.fill(advice.why) if advice.why else None,
            condition,
            self._conditions(condition),
            advice.covers,
        )

    def _condition(self, applies: Applies, unless: Applies) -> Condition | None:
        """What remains to be asked of the patient, or None where the passage is not for this sheet."""
        device, material = self.choices.device, self.choices.material
        if not applies.fits(device, material):
            return None
        without: tuple[str, ...] = ()
        if unless.about_patient and unless.fits(device, material):
            without = (*unless.options, *unless.weights)
        elif unless.about_device and unless.fits(device, material):
            return None
        possible = {option.id for option in options_for(self.library, device, material)} | set(device.weights)
        condition = Condition(
            options=tuple(id_ for id_ in applies.options if id_ in possible),
            weights=tuple(id_ for id_ in applies.weights if id_ in possible),
            without=tuple(id_ for id_ in without if id_ in possible),
        )
        if (applies.options and not condition.options) or (applies.weights and not condition.weights):
            return None
        if self.choices.everyone:
            return condition
        true = {option.id for option in self.choices.options}
        if self.choices.weight:
            true.add(self.choices.weight.id)
        return Condition() if condition.holds(true) else None

    def _conditions(self, condition: Condition) -> tuple[Text, ...]:
        options = (self.library.options[id_].condition for id_ in condition.options)
        weights = (self.library.weights[id_].condition for id_ in condition.weights)
        return tuple(self.fill(text) for text in (*options, *weights))
