"""Problems as data, each with its place and the next step, and the exception that carries them."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum, auto


class Fault(StrEnum):
    """The kind of a problem. Programs and tests use this code, so that sentences can be reworded."""

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
    """A file, folder or web address, and a line in it; line 0 means the whole file."""

    path: str
    line: int = 0

    def __str__(self) -> str:
        return f"{self.path}:{self.line}" if self.line else self.path


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem as data; `sentence` formats it where it is shown, with the names that its reader knows.

    `what` is a sentence with `{}` for each of `subject`, in order: the ids and words it is about. `allowed` are the valid
    values, `suggestion` the one nearest to what was given, `advice` a sentence on what to do next. `field` is the choice it
    is about ("visit"), so that a form can show it there.
    """

    fault: Fault
    what: str
    _: KW_ONLY
    subject: tuple[str, ...] = ()
    allowed: tuple[str, ...] = ()
    suggestion: str = ""
    advice: str = ""
    where: Where | None = None
    field: str = ""

    def sentence(self, name: Callable[[str], str] | None = None) -> str:
        """Format the problem without its place. `name` returns the reader's name of an id, "" for an unknown word.

        Raises ValueError where the number of `{}` in `what` is not that of `subject`.
        """

        def quoted(word: str) -> str:
            readable = name(word) if name else ""
            return f"“{readable}”" if readable else f"'{word}'"

        what = _filled(self.what, tuple(map(quoted, self.subject)))
        values = [(name(value) if name else "") or value for value in self.allowed]
        allowed = f"Allowed: {', '.join(values)}." if values else ""
        suggestion = f"Did you mean {quoted(self.suggestion)}?" if self.suggestion else ""
        return " ".join(part for part in (what, allowed, suggestion, self.advice) if part)

    def as_data(self) -> dict[str, object]:
        """Return the problem as a JSON object; `message` is its sentence."""
        return {
            "fault": self.fault.value,
            "message": self.sentence(),
            "subject": list(self.subject),
            "allowed": list(self.allowed),
            "suggestion": self.suggestion,
            "advice": self.advice,
            "field": self.field,
            "file": self.where.path if self.where else None,
            "line": self.where.line if self.where and self.where.line else None,
        }

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return place + self.sentence()


def _filled(what: str, subject: tuple[str, ...]) -> str:
    """Replace each `{}` in `what` by the next subject. Raises ValueError where their numbers differ."""
    if not subject:
        return what
    parts = what.split("{}")
    if len(parts) != len(subject) + 1:
        raise ValueError(f"{len(subject)} subjects for: {what}")
    return "".join(part + word for part, word in zip(parts, (*subject, ""), strict=True))


def slots(subject: Iterable[str]) -> str:
    """A `{}` for each subject, as a list for a problem's `what`: "{}, {}"."""
    return ", ".join("{}" for _ in subject)


class Refused(Exception):
    """Raised instead of guessing. Carries every problem, not only the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @classmethod
    def one(
        cls,
        fault: Fault,
        what: str,
        *,
        subject: tuple[str, ...] = (),
        allowed: Iterable[str] = (),
        suggestion: str = "",
        advice: str = "",
        where: Where | None = None,
        field: str = "",
    ) -> Refused:
        """Create the exception with a single problem; the arguments are those of `Problem`."""
        problem = Problem(
            fault,
            what,
            subject=subject,
            allowed=tuple(allowed),
            suggestion=suggestion,
            advice=advice,
            where=where,
            field=field,
        )
        return cls([problem])

    def __reduce__(self) -> tuple[type[Refused], tuple[tuple[Problem, ...]]]:
        """Pickle the problems, which BaseException would lose between processes."""
        return Refused, (self.problems,)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that is most similar to `word`, or "" if none is similar."""
    matches = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return matches[0] if matches else ""
