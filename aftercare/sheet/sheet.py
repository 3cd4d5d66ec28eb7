"""The two kinds of sheet, in no language yet. Frozen; made by compose, read by language and page.

A full sheet holds everything that can stand on a sheet for a device in a material, each passage under its condition: the phone
page is made from it. A patient's sheet holds what applies to one patient and no conditions: paper is made from it.
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
    """What must be true of a patient: any of `options`, any of `weights`, none of `without`. Empty asks nothing."""

    options: tuple[str, ...] = ()
    weights: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.options or self.weights or self.without)

    def holds(self, true: Collection[str]) -> bool:
        """Whether it is met by a patient of whom the options and weight order with these ids are true."""
        return (
            (not self.options or any(id_ in true for id_ in self.options))
            and (not self.weights or any(id_ in true for id_ in self.weights))
            and not any(id_ in true for id_ in self.without)
        )


@dataclass(frozen=True, slots=True)
class Passage:
    """One advice module in its place.

    `title` is there only where the module depends on the patient. `meanwhile` says that it still holds on the way to help.
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
    """One warning sign in its place. `picture` names a pictogram or is empty."""

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
    """A passage or sign of a full sheet. `lead` says in the patient's words when it applies, one text for each alternative."""

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
    """Everything that can stand on a sheet for a device in a material.

    `names` holds the message for each part of the body, `labels` the fixed texts of the page (headings of boxes, cautions,
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
        """Itself; a patient's sheet leads to its full sheet by the same name."""
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
        yield from (self.title, self.device.name, self.material.name, self.purpose)
        for group in self.groups:
            yield from group.texts()
        for section in self.sections:
            yield from section.texts()
        yield from self.names.values()
        yield from self.labels.values()


@dataclass(frozen=True, slots=True)
class PatientSheet:
    """The passages and signs of a full sheet that apply to one patient, and the dates that follow from the choices."""

    full: FullSheet
    choices: Choices
    groups: tuple[SignGroup[Sign], ...]
    sections: tuple[Section[Passage], ...]
    schedule: Schedule

    def texts(self) -> Iterator[Text]:
        """Every message of the sheet, in reading order, labels last; a message may come twice."""
        full = self.full
        yield from (full.title, full.device.name, full.material.name, full.purpose)
        for group in self.groups:
            yield from group.texts()
        for section in self.sections:
            yield from section.texts()
        yield from full.names.values()
        yield from full.labels.values()
