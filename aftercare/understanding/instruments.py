"""Instruments that score how well a text is understood: their items, and the rule that turns answers into a score."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from aftercare.understanding.reviewed_sheet import Offences, ReviewedSheet


class Verdict(StrEnum):
    """The answer to one item. `PERSON` marks an item that only a person can answer; it never counts."""

    AGREE = "agree"
    DISAGREE = "disagree"
    NOT_APPLICABLE = "not applicable"
    PERSON = "for a person"


# Returns every passage that fails an item, nothing if the item holds, None if it does not apply to this sheet.
Check = Callable[[ReviewedSheet], Offences | None]


@dataclass(frozen=True, slots=True)
class Item:
    """One item of an instrument, paraphrased in `asks`.

    Without a `check` only a person can answer it. `look` says what that person looks at; an item whose check covers a part
    of it has both. An `optional` item may be not applicable. An item gives no point if the item with the number `depends_on`
    fails; 0 means that it depends on none.
    """

    number: int
    asks: str
    check: Check | None = None
    look: str = ""
    optional: bool = False
    depends_on: int = 0


@dataclass(frozen=True, slots=True)
class Scale:
    """Items that are scored together, and the percentage at which the scale passes."""

    name: str
    items: tuple[Item, ...]
    passes_at: int


@dataclass(frozen=True, slots=True)
class Score:
    """Points, out of the number of items that apply."""

    points: int
    applicable: int

    @property
    def percent(self) -> float:
        """Points as a percentage, rounded to a tenth; 0 if no item applies."""
        return round(100 * self.points / self.applicable, 1) if self.applicable else 0.0


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to one item for one sheet, with the passages that fail it."""

    item: Item
    verdict: Verdict
    offences: Offences = ()


@dataclass(frozen=True, slots=True)
class ScaleResult:
    """The answers to all items of a scale for one sheet, in the order of the items."""

    scale: Scale
    answers: tuple[Answer, ...]

    @property
    def score(self) -> Score:
        """The score of the items that a program can answer; the instrument's own score needs the others too."""
        return score(self.scale, {answer.item.number: answer.verdict for answer in self.answers})

    @property
    def lost(self) -> tuple[Answer, ...]:
        """The answers that disagree."""
        return tuple(answer for answer in self.answers if answer.verdict is Verdict.DISAGREE)


def score(scale: Scale, verdicts: Mapping[int, Verdict]) -> Score:
    """Score verdicts by item number: one point for each item agreed to, out of those that apply (both instruments).

    An item that depends on one disagreed with gives no point, whatever its own answer (CDC index, items 2 to 4).
    Raises ValueError for a number that the scale does not have, and for an item that is not optional but not applicable.
    """
    items = {item.number: item for item in scale.items}
    if unknown := sorted(set(verdicts) - set(items)):
        raise ValueError(f"{scale.name} has no item {unknown}.")
    points = applicable = 0
    for number, verdict in verdicts.items():
        item = items[number]
        if verdict is Verdict.NOT_APPLICABLE and not item.optional:
            raise ValueError(f"Item {number} of {scale.name} always applies.")
        if verdict in (Verdict.AGREE, Verdict.DISAGREE):
            applicable += 1
            points += verdict is Verdict.AGREE and verdicts.get(item.depends_on) is not Verdict.DISAGREE
    return Score(points, applicable)


def score_sheet(scale: Scale, reviewed: ReviewedSheet) -> ScaleResult:
    """Answer every item of a scale for one sheet."""
    return ScaleResult(scale, tuple(_answer(item, reviewed) for item in scale.items))


def _answer(item: Item, reviewed: ReviewedSheet) -> Answer:
    if item.check is None:
        return Answer(item, Verdict.PERSON)
    offences = item.check(reviewed)
    if offences is None:
        return Answer(item, Verdict.NOT_APPLICABLE)
    return Answer(item, Verdict.DISAGREE if offences else Verdict.AGREE, offences)
