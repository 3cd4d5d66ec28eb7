"""Instruments that score how well a text is understood: their items, and the rule by which answers become a score."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet


class Verdict(StrEnum):
    """The answer to one item. `PERSON` is no answer: the item waits for somebody to look, and never counts."""

    AGREE = "agree"
    DISAGREE = "disagree"
    NOT_APPLICABLE = "not applicable"
    PERSON = "for a person"


# What speaks against an item, nothing where it holds; None where the item does not apply to this sheet.
Judge = Callable[[ReviewedSheet], tuple[Offence, ...] | None]


@dataclass(frozen=True, slots=True)
class Item:
    """One item, in words of ours.

    Without a `judge` only a person can answer it; `look` says what to look at, also where a judge answers a part of it.
    `optional` items may be left out where they do not apply. An item that `depends_on` another is lost when that one is.
    """

    number: int
    asks: str
    judge: Judge | None = None
    look: str = ""
    optional: bool = False
    depends_on: int = 0


@dataclass(frozen=True, slots=True)
class Scale:
    """Items that make one score, and the per cent at which it passes."""

    name: str
    items: tuple[Item, ...]
    passes_at: int


@dataclass(frozen=True, slots=True)
class Score:
    """Points of the items that apply."""

    points: int
    applicable: int

    @property
    def percent(self) -> float:
        """Points in a hundred, to a tenth; 0 where no item applies."""
        return round(100 * self.points / self.applicable, 1) if self.applicable else 0.0


@dataclass(frozen=True, slots=True)
class Answer:
    """An item answered for one sheet."""

    item: Item
    verdict: Verdict
    offences: tuple[Offence, ...] = ()


@dataclass(frozen=True, slots=True)
class ScaleResult:
    """A scale answered for one sheet: each item, and the score of those that a program can answer."""

    scale: Scale
    judged: tuple[Answer, ...]

    @property
    def score(self) -> Score:
        """Of the items answered; not the instrument's own score, for which a person has to answer the rest."""
        return score(self.scale, {answer.item.number: answer.verdict for answer in self.judged})

    @property
    def lost(self) -> tuple[Answer, ...]:
        """The items this sheet loses."""
        return tuple(answer for answer in self.judged if answer.verdict is Verdict.DISAGREE)


def score(scale: Scale, answers: Mapping[int, Verdict]) -> Score:
    """One point for each item agreed to, out of those that apply (both instruments: points over applicable items).

    An item that hangs on one disagreed with gives no point, whatever its own answer (CDC index, items 2 to 4).
    Raises ValueError for an item left out that always applies, and for one the scale does not have.
    """
    known = {item.number: item for item in scale.items}
    if strange := sorted(set(answers) - set(known)):
        raise ValueError(f"{scale.name} has no item {strange}.")
    points = applicable = 0
    for number, verdict in answers.items():
        item = known[number]
        if verdict is Verdict.NOT_APPLICABLE and not item.optional:
            raise ValueError(f"Item {number} of {scale.name} always applies.")
        if verdict in (Verdict.AGREE, Verdict.DISAGREE):
            applicable += 1
            points += verdict is Verdict.AGREE and answers.get(item.depends_on) is not Verdict.DISAGREE
    return Score(points, applicable)


def mark(scale: Scale, read: ReviewedSheet) -> ScaleResult:
    """The scale's items answered for a sheet."""
    return ScaleResult(scale, tuple(_judged(item, read) for item in scale.items))


def _judged(item: Item, read: ReviewedSheet) -> Answer:
    if item.judge is None:
        return Answer(item, Verdict.PERSON)
    offences = item.judge(read)
    if offences is None:
        return Answer(item, Verdict.NOT_APPLICABLE)
    return Answer(item, Verdict.DISAGREE if offences else Verdict.AGREE, offences)
