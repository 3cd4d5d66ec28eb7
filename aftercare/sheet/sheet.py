"""The sheet: ordered sections of blocks in no language yet. Frozen; made by compose, read by language and page."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from aftercare.library.body import Part
from aftercare.library.figures import Figure
from aftercare.library.modules import Tier
from aftercare.library.text import Block, Text
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import Schedule


@dataclass(frozen=True, slots=True)
class Condition:
    """When a passage is for this patient: any of `options`, any of `weights`, none of `without`. Empty asks nothing.

    On paper every condition has been settled and is empty; the phone page keeps them.
    """

    options: tuple[str, ...] = ()
    weights: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.options or self.weights or self.without)

    def holds(self, true: Collection[str]) -> bool:
        """Whether the passage is for a patient of whom these options and this weight order are true."""
        return (
            (not self.options or any(id_ in true for id_ in self.options))
            and (not self.weights or any(id_ in true for id_ in self.weights))
            and not any(id_ in true for id_ in self.without)
        )


@dataclass(frozen=True, slots=True)
class Passage:
    """One advice module in its place. `conditions` says in the patient's words when it holds (phone page only).

    `title` is there only where the passage depends on the patient, as a lead to it. `meanwhile` says that it still holds on the
    way to help.
    """

    id: str
    title: Text | None
    blocks: tuple[Block, ...]
    why: Text | None
    condition: Condition
    conditions: tuple[Text, ...]
    covers: tuple[str, ...]
    meanwhile: bool

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield from self.conditions
        if self.title:
            yield self.title
        for block in self.blocks:
            yield block.text
        if self.why:
            yield self.why


@dataclass(frozen=True, slots=True)
class Section:
    """All passages on one topic."""

    topic: str
    title: Text
    picture: str
    passages: tuple[Passage, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield self.title
        for passage in self.passages:
            yield from passage.texts()


@dataclass(frozen=True, slots=True)
class Sign:
    """One warning sign in its place."""

    id: str
    sign: Text
    why: Text
    picture: str
    condition: Condition
    conditions: tuple[Text, ...]
    covers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SignGroup:
    """The signs of one tier, with the tier's own heading."""

    tier: Tier
    title: Text
    signs: tuple[Sign, ...]

    def texts(self) -> Iterator[Text]:
        """Its messages in reading order."""
        yield self.title
        for sign in self.signs:
            yield from (*sign.conditions, sign.sign, sign.why)


@dataclass(frozen=True, slots=True)
class Sheet:
    """Choices composed.

    `name` is the device's, `material` the material's. `names` holds the message for each part, `labels` the fixed words of
    the page (headings of boxes, cautions, teach-back questions) by id, with this device's words already in them.
    `figures` are those in force at this clinic. `page_texts` are all messages of the phone page behind the sheet's code,
    which is for everyone with this device in this material; the edition printed on paper is that page's.
    """

    choices: Choices
    title: Text
    name: Text
    material: Text
    purpose: Text
    groups: tuple[SignGroup, ...]
    sections: tuple[Section, ...]
    moving: tuple[Part, ...]
    held: tuple[Part, ...]
    tips: tuple[Part, ...]
    names: Mapping[Part, Text]
    labels: Mapping[str, Text]
    schedule: Schedule
    figures: Mapping[str, Figure]
    page_texts: tuple[Text, ...]

    def texts(self) -> Iterator[Text]:
        """Every message of the sheet, in reading order, labels last; a message may come twice."""
        yield from (self.title, self.name, self.material, self.purpose)
        for group in self.groups:
            yield from group.texts()
        for section in self.sections:
            yield from section.texts()
        yield from self.names.values()
        yield from self.labels.values()
