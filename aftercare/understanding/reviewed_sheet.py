"""The finished English sheet that the items of the instruments look at: its texts, with their places in the content files,
and its two faces as HTML.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from aftercare.errors import Where
from aftercare.language.translated import TranslatedSheet
from aftercare.library.modules import URGENT
from aftercare.library.text import Text
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.sheet import Passage, PatientSheet, Section, Sign, SignGroup
from aftercare.understanding.faces import Face, without_isolates

# Labels for staff, and those of controls on the phone page; they tell the patient nothing.
_NOT_FOR_PATIENTS = ("patient_label_box", "teach_back_title")


@dataclass(frozen=True, slots=True)
class Offence:
    """A passage that fails an item: its text, the reason, and its place in the content files if it comes from one."""

    text: str
    why: str
    where: Where | None = None

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}'{self.text}': {self.why}"


Offences = tuple[Offence, ...]


def face_offence(face: Face, text: str, why: str) -> Offence:
    """An offence of one face; the reason names the face."""
    return Offence(text, f"{why} ({face.name})")


@dataclass(frozen=True, slots=True)
class SheetText:
    """One message as printed, without bold marks.

    `figures_only` is the same message for rules about words and numbers: its clinical figures are filled in, but "…" stands
    for every other value, such as phone numbers, opening hours and lists of body parts.
    """

    text: str
    figures_only: str
    where: Where

    def offence(self, why: str) -> Offence:
        """An offence with the place of this message."""
        return Offence(self.text, why, self.where)


@dataclass(frozen=True)
class ReviewedSheet:
    """One English sheet and the HTML made from it. Derived texts are cached, so nothing in it must change."""

    translated: TranslatedSheet[PatientSheet]
    paper: Face
    phone: Face

    @classmethod
    def of(cls, translated: TranslatedSheet[PatientSheet], paper: str, phone: str) -> ReviewedSheet:
        """The sheet with the HTML of its faces. Raises ValueError for HTML that a browser has to repair."""
        return cls(translated, Face.of("paper", paper), Face.of("phone", phone))

    @property
    def sheet(self) -> PatientSheet:
        """The sheet before translation."""
        return self.translated.sheet

    @property
    def faces(self) -> tuple[Face, Face]:
        """Paper, then phone."""
        return self.paper, self.phone

    @property
    def urgent_groups(self) -> tuple[SignGroup[Sign], ...]:
        """The groups of signs in the danger box."""
        return tuple(group for group in self.sheet.groups if group.tier in URGENT)

    def filled(self, text: Text) -> SheetText:
        """A message of the sheet with its values filled in. Raises KeyError for a message that is not on the sheet."""
        full, figures_only = self._filled[text.message]
        return SheetText(full, figures_only, text.where)

    @cached_property
    def _filled(self) -> dict[str, tuple[str, str]]:
        """The two texts of the `SheetText` of each message of the sheet."""
        values = {name: without_isolates(value.text) for name, value in self.translated.values.items()}
        figures = {name: values[name] if name in self.sheet.full.figures else "…" for name in values}
        messages = {text.message: self.translated.translation(text).replace("**", "") for text in self.sheet.texts()}
        return {source: (_with_values(message, values), _with_values(message, figures)) for source, message in messages.items()}

    def label(self, id_: str) -> SheetText:
        """A label of the page, with its values filled in."""
        return self.filled(self.sheet.full.labels[id_])

    @cached_property
    def content_texts(self) -> tuple[SheetText, ...]:
        """Each message once, without labels and without the names of device, material and body parts."""
        full = self.sheet.full
        excluded = {*full.labels.values(), *full.names.values(), full.device.name, full.material.name}
        return tuple(self.filled(text) for text in dict.fromkeys(self.sheet.texts()) if text not in excluded)

    @cached_property
    def patient_texts(self) -> tuple[SheetText, ...]:
        """`content_texts`, and the labels that paper or phone display to the patient when the page opens."""
        shown = " ".join(face.text for face in self.faces)
        labels = (self.filled(text) for id_, text in self.sheet.full.labels.items() if id_ not in _NOT_FOR_PATIENTS)
        return (*self.content_texts, *(label for label in labels if label.text in shown))

    def advice(self, section: Section[Passage]) -> tuple[SheetText, ...]:
        """The instructions of a section, block by block, without their reasons."""
        return tuple(self.filled(block.text) for passage in section.passages for block in passage.blocks)

    def values_in_advice(self) -> frozenset[str]:
        """The names of the values that the instructions of any section contain."""
        blocks = (block for section in self.sheet.sections for passage in section.passages for block in passage.blocks)
        return frozenset(name for block in blocks for name in PLACEHOLDER.findall(block.text.message))


def _with_values(message: str, values: Mapping[str, str]) -> str:
    return PLACEHOLDER.sub(lambda match: values[match[1]], message)
