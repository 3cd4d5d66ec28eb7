"""Types of sheets before translation: full sheets for phone pages, and sheets of one patient for paper.

A full sheet has every sign and passage that can apply to a device in a material, each with its condition. A patient's sheet has
those that apply to one patient, without conditions. compose.py builds both.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Generic, TypeVar

from aftercare.library.body import Part
from aftercare.library.devices import Device, Material
from aftercare.library.figures import Figure
from aftercare.library.modules import Tier
from aftercare.library.text import Block, Text
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import Schedule


@dataclass(frozen=True, slots=True)
class Condition:
    """What must be true of a patient: any of `options`, any of `weights`, none of `without`. An empty one requires nothing."""

    options: tuple[str, ...] = ()
    weights: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    def holds(self, true_ids: Collection[str]) -> bool:
        """Whether a patient for whom the options and weight order with these ids are true meets it."""
        return (
            (not self.options or any(id_ in true_ids for id_ in self.options))
            and (not self.weights or any(id_ in true_ids for id_ in self.weights))
            and not any(id_ in true_ids for id_ in self.without)
        )


@dataclass(frozen=True, slots=True)
class Passage:
    """One advice module on a sheet.

    `title` is None unless the module depends on the patient. `meanwhile`: whether it also applies on the way to help.
    """

    id: str
    title: Text | None
    blocks: tuple[Block, ...]
    why: Text | None
    covers: tuple[str, ...]
    meanwhile: bool

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        if self.title:
            yield self.title
        for block in self.blocks:
            yield block.text
        if self.why:
            yield self.why


@dataclass(frozen=True, slots=True)
class Sign:
    """One warning sign on a sheet. `picture` names a pictogram or is empty."""

    id: str
    sign: Text
    why: Text
    picture: str
    covers: tuple[str, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield from (self.sign, self.why)


ItemT = TypeVar("ItemT", Passage, Sign)


@dataclass(frozen=True, slots=True)
class Conditional(Generic[ItemT]):
    """A passage or sign of a full sheet. `lead` is its condition in the patient's words, one text for each alternative."""

    item: ItemT
    condition: Condition
    lead: tuple[Text, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield from self.lead
        yield from self.item.texts()


PassageT = TypeVar("PassageT", Passage, Conditional[Passage])
SignT = TypeVar("SignT", Sign, Conditional[Sign])


@dataclass(frozen=True, slots=True)
class Section(Generic[PassageT]):
    """All passages on one topic. `picture` names a pictogram."""

    topic: str
    title: Text
    picture: str
    passages: tuple[PassageT, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield self.title
        for passage in self.passages:
            yield from passage.texts()


@dataclass(frozen=True, slots=True)
class SignGroup(Generic[SignT]):
    """The signs of one tier, under the tier's own heading."""

    tier: Tier
    title: Text
    signs: tuple[SignT, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield self.title
        for sign in self.signs:
            yield from sign.texts()


@dataclass(frozen=True)
class FullSheet:
    """Every sign and passage that can apply to a device in a material.

    `names` has the message for each part of the body, `labels` the fixed texts of the page (headings of boxes, cautions,
    teach-back questions) by id, with this device's words in them. `figures` are those in force at this clinic.
    """

    device: Device
    material: Material
    title: Text
    purpose: Text
    groups: tuple[SignGroup[Conditional[Sign]], ...]
    sections: tuple[Section[Conditional[Passage]], ...]
    moving: tuple[Part, ...]
    held: tuple[Part, ...]
    tips: tuple[Part, ...]
    names: Mapping[Part, Text]
    labels: Mapping[str, Text]
    figures: Mapping[str, Figure]

    @property
    def full(self) -> FullSheet:
        """This sheet; a PatientSheet has its full sheet under the same name."""
        return self

    def entries(self) -> Iterator[Conditional[Sign] | Conditional[Passage]]:
        """Every sign, then every passage, each with its condition."""
        yield from (entry for group in self.groups for entry in group.signs)
        yield from (entry for section in self.sections for entry in section.passages)

    @cached_property
    def messages(self) -> tuple[str, ...]:
        """The messages of its texts, each once, in reading order."""
        return tuple(dict.fromkeys(text.message for text in self.texts()))

    def texts(self) -> Iterator[Text]:
        """Every message that any patient with this device can read, in reading order, labels last; one may come twice."""
        return _texts(self, self.groups, self.sections)


@dataclass(frozen=True, slots=True)
class PatientSheet:
    """The signs and passages of a full sheet that apply to one patient, and the dates that follow from the choices."""

    full: FullSheet
    choices: Choices
    groups: tuple[SignGroup[Sign], ...]
    sections: tuple[Section[Passage], ...]
    schedule: Schedule

    def texts(self) -> Iterator[Text]:
        """Every message of the sheet, in reading order, labels last; a message may come twice."""
        return _texts(self.full, self.groups, self.sections)


def _texts(full: FullSheet, groups: tuple[SignGroup[SignT], ...], sections: tuple[Section[PassageT], ...]) -> Iterator[Text]:
    """Every message of a full sheet with these groups and sections in place of its own."""
    yield from (full.title, full.device.name, full.material.name, full.purpose)
    for group in groups:
        yield from group.texts()
    for section in sections:
        yield from section.texts()
    yield from full.names.values()
    yield from full.labels.values()
