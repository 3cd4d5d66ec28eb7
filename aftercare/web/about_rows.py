"""What the page about the advice shows, as frozen values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

# What content files write as the source of something that no publication supports.
COMMON_PRACTICE = "common practice, no source"


class State(StrEnum):
    """Whether a wording or a translation is approved; CHANGED means that an earlier version of it was."""

    APPROVED = "approved"
    CHANGED = "changed"
    DRAFT = "draft"


class Origin(StrEnum):
    """Who wrote the text of a module."""

    PROGRAM = "as supplied"
    TITLE = "as supplied, under this clinic’s title"
    CLINIC = "this clinic’s own"


@dataclass(frozen=True, slots=True)
class Approval:
    """The state of one wording, with the role that approved it and the day, "" where none is given.

    `edition` is the code of the English wording in force and `approved_edition` that of the one approved; a translation has
    neither.
    """

    name: str
    state: State
    role: str
    on: str
    edition: str = ""
    approved_edition: str = ""


@dataclass(frozen=True, slots=True)
class SourceLine:
    """A source as its content file names it. `unpublished` says that it is common practice and no publication."""

    text: str
    unpublished: bool


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure with its unit, in force and as published. `memory` says that the published range is quoted from memory,
    `own` that the clinic file sets the value.
    """

    id: str
    value: str
    published: str
    source: str
    memory: bool
    own: bool


@dataclass(frozen=True, slots=True)
class ModuleRow:
    """An advice module or a warning sign, by the id that the clinic file uses."""

    id: str
    title: str
    origin: Origin
    sources: tuple[SourceLine, ...]


@dataclass(frozen=True, slots=True)
class UsualTime:
    """A usual time with its unit ("7 to 14 days") and its source."""

    text: str
    source: SourceLine


@dataclass(frozen=True, slots=True)
class DeviceRow:
    """A device with its usual times, None where none is usual, and its usual position, "" where none is given."""

    name: str
    also_called: tuple[str, ...]
    first_visit: UsualTime | None
    time_in_device: UsualTime | None
    position: str


@dataclass(frozen=True, slots=True)
class ModuleGroup:
    """The modules of one topic or one tier."""

    title: str
    modules: tuple[ModuleRow, ...]


@dataclass(frozen=True, slots=True)
class DeviceGroup:
    """The devices of one part of the body."""

    title: str
    devices: tuple[DeviceRow, ...]


@dataclass(frozen=True, slots=True)
class NotesRow:
    """An option or a material with its notes for staff."""

    name: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AboutPage:
    """The whole page. `left_out` are the ids of the modules that the clinic file leaves out."""

    clinic: str
    approvals: tuple[Approval, ...]
    figures: tuple[FigureRow, ...]
    advice: tuple[ModuleGroup, ...]
    warnings: tuple[ModuleGroup, ...]
    left_out: tuple[str, ...]
    devices: tuple[DeviceGroup, ...]
    options: tuple[NotesRow, ...]
    materials: tuple[NotesRow, ...]
