"""A sheet as its reader has it: what it says, sentence by sentence with its place in our files, and its two faces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from aftercare.errors import Where
from aftercare.language.translated import TranslatedSheet
from aftercare.library.modules import URGENT
from aftercare.library.text import Text
from aftercare.library.words import PLACEHOLDER
from aftercare.sheet.sheet import Section, Sheet, SignGroup
from aftercare.understanding.faces import ISOLATES, Face

# For staff, or the controls of the phone page: not what the patient is told.
_NOT_TOLD = ("patient_label_box", "teach_back_title")


@dataclass(frozen=True, slots=True)
class Offence:
    """What speaks against an item: the words, what is wrong with them, and where they stand in our files, if there."""

    text: str
    why: str
    where: Where | None = None

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}'{self.text}': {self.why}"


def face_offence(face: Face, text: str, why: str) -> Offence:
    """What a face shows, as an offence."""
    return Offence(text, f"{why} ({face.name})")


@dataclass(frozen=True, slots=True)
class Said:
    """A message as it is read. `counted` holds its clinical numbers, but "…" for phones, hours and lists of parts."""

    text: str
    counted: str
    where: Where

    def against(self, why: str) -> Offence:
        """This message as an offence."""
        return Offence(self.text, why, self.where)


@dataclass(frozen=True)
class ReviewedSheet:
    """One English sheet, and the HTML that paper and phone make of it."""

    translated: TranslatedSheet
    paper: Face
    phone: Face

    @classmethod
    def of(cls, translated: TranslatedSheet, paper: str, phone: str) -> ReviewedSheet:
        """A sheet and the HTML of its faces."""
        return cls(translated, Face.of("paper", paper), Face.of("phone", phone))

    @property
    def sheet(self) -> Sheet:
        """The sheet behind the words."""
        return self.translated.sheet

    @property
    def faces(self) -> tuple[Face, Face]:
        """Paper and phone."""
        return self.paper, self.phone

    @property
    def urgent(self) -> tuple[SignGroup, ...]:
        """The signs of the danger box."""
        return tuple(group for group in self.sheet.groups if group.tier in URGENT)

    def say(self, text: Text) -> Said:
        """A message with its values in place and its bold marks gone."""
        message = self.translated.translation(text).replace("**", "")
        whole = PLACEHOLDER.sub(lambda match: self._values[match[1]], message)
        counted = PLACEHOLDER.sub(lambda match: self._values[match[1]] if match[1] in self.sheet.figures else "…", message)
        return Said(whole, counted, text.where)

    @cached_property
    def _values(self) -> dict[str, str]:
        return {name: value.text.translate(ISOLATES) for name, value in self.translated.values.items()}

    def label(self, id_: str) -> Said:
        """A fixed word of the page."""
        return self.say(self.sheet.labels[id_])

    @cached_property
    def body(self) -> tuple[Said, ...]:
        """The text proper: all but the fixed words of the page and what device and parts are called."""
        fixed = {*self.sheet.labels.values(), *self.sheet.names.values(), self.sheet.name, self.sheet.material}
        return tuple(self.say(text) for text in dict.fromkeys(self.sheet.texts()) if text not in fixed)

    @cached_property
    def told(self) -> tuple[Said, ...]:
        """The body, and the fixed words that paper or phone show a patient from the start."""
        shown = " ".join(face.root.text for face in self.faces)
        labels = (self.say(text) for id_, text in self.sheet.labels.items() if id_ not in _NOT_TOLD)
        return (*self.body, *(said for said in labels if said.text in shown))

    def advice(self, section: Section) -> tuple[Said, ...]:
        """What a section says to do, item by item, without its reasons."""
        return tuple(self.say(block.text) for passage in section.passages for block in passage.blocks)

    def mentioned(self) -> frozenset[str]:
        """The values that the advice names."""
        blocks = (block for section in self.sheet.sections for passage in section.passages for block in passage.blocks)
        return frozenset(name for block in blocks for name in PLACEHOLDER.findall(block.text.message))
