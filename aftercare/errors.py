"""Problems, each with its place and the next step, and the one exception that carries them."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum, auto


class Fault(StrEnum):
    """What kind of thing is wrong; tests and programs hold the code, writers may reword the sentence."""

    # content files
    BAD_FILE = auto()
    BAD_HEADER = auto()
    UNKNOWN_KEY = auto()
    MISSING_KEY = auto()
    BAD_VALUE = auto()
    UNKNOWN_NAME = auto()
    DUPLICATE = auto()
    BAD_MARKDOWN = auto()
    UNKNOWN_PLACEHOLDER = auto()
    DIGITS_IN_TEXT = auto()
    SENTENCE_TOO_LONG = auto()
    HARD_TO_READ = auto()
    OUTSIDE_PUBLISHED_RANGE = auto()
    OVERRIDE_LOSES_SAFETY = auto()
    LIST_TOO_LONG = auto()
    CHUNK_TOO_LONG = auto()
    # the clinic file
    NOT_SET = auto()
    BAD_PHONE = auto()
    LOCAL_ADDRESS = auto()
    ADDRESS_TOO_LONG = auto()
    # choices
    UNKNOWN_DEVICE = auto()
    UNKNOWN_MATERIAL = auto()
    NOT_MADE_IN = auto()
    UNKNOWN_OPTION = auto()
    CANNOT_APPLY = auto()
    CONTRADICTION = auto()
    UNKNOWN_LANGUAGE = auto()
    UNKNOWN_PAPER = auto()
    UNKNOWN_SIZE = auto()
    UNKNOWN_SIDE = auto()
    UNKNOWN_WEIGHT = auto()
    NEEDED = auto()
    BAD_DATE = auto()
    DATE_ORDER = auto()
    BAD_CODE = auto()
    # sheets
    REQUIRED_MISSING = auto()
    TOO_MANY_PAGES = auto()
    PAGE_TOO_HEAVY = auto()
    UNFILLED = auto()
    # languages
    UNTRANSLATED = auto()
    FUZZY = auto()
    PLACEHOLDER_LOST = auto()
    NUMBER_CHANGED = auto()
    NEGATION_LOST = auto()
    BAD_PO = auto()
    NO_FONT = auto()
    # engines and disks
    ENGINE_COMPLAINED = auto()
    NOT_INSTALLED = auto()
    CANNOT_WRITE = auto()
    CANNOT_SERVE = auto()
    NOT_SERVED = auto()
    SERVED_OTHERWISE = auto()
    CHANGED_SINCE = auto()


@dataclass(frozen=True, slots=True, order=True)
class Where:
    """A line of one of our files; line 0 means the whole file."""

    path: str
    line: int = 0

    def __str__(self) -> str:
        return f"{self.path}:{self.line}" if self.line else self.path


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: where, what was found, what is allowed, what to do next.

    `field` names the choice it is about ("visit"), so that a form can show it there.
    """

    fault: Fault
    what: str
    allowed: str = ""
    advice: str = ""
    where: Where | None = None
    field: str = ""

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return place + " ".join(part for part in (self.what, self.allowed, self.advice) if part)


class Refused(Exception):
    """We refuse rather than guess; carries every problem found, never just the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[Refused], tuple[tuple[Problem, ...]]]:
        """Refused crosses from a process that checks or prints to ours with its problems whole."""
        return Refused, (self.problems,)


def listed(known: Iterable[str]) -> str:
    """The sentence that names what is allowed."""
    return f"Allowed: {', '.join(known)}."


def did_you_mean(found: str, known: Iterable[str]) -> str:
    """A question naming the nearest known word, or nothing when none is near."""
    near = difflib.get_close_matches(found.lower(), list(known), n=1, cutoff=0.6)
    return f"Did you mean '{near[0]}'?" if near else ""
