"""Checks the lengths of lists and passages, which composing a sheet does not."""

from __future__ import annotations

from collections.abc import Iterator

from aftercare.errors import Fault, Problem
from aftercare.library.text import BlockKind
from aftercare.library.wording import MOST_ITEMS, MOST_WORDS_IN_CHUNK
from aftercare.sheet.choices import describe
from aftercare.sheet.sheet import Passage, PatientSheet


def sheet_problems(sheet: PatientSheet) -> Iterator[Problem]:
    """Return the lists of signs on a patient's sheet that are too long; the signs of one tier are a list."""
    for group in sheet.groups:
        if len(group.signs) > MOST_ITEMS:
            yield Problem(
                Fault.LIST_TOO_LONG,
                f"{len(group.signs)} signs of tier {{}} for {describe(sheet.choices)}.",
                subject=(group.tier,),
                allowed=(f"at most {MOST_ITEMS}",),
                advice="Join two of them, or make one depend on an option.",
                where=sheet.choices.device.where,
            )


def passage_problems(passage: Passage) -> Iterator[Problem]:
    """Return the list or chunk of a passage that is too long. The result is the same on every sheet."""
    items = sum(block.kind is BlockKind.ITEM for block in passage.blocks)
    words = sum(len(block.text.message.split()) for block in passage.blocks)
    where = passage.blocks[0].text.where
    if items > MOST_ITEMS:
        what, allowed = f"{{}} lists {items} items.", (f"at most {MOST_ITEMS}",)
        yield Problem(Fault.LIST_TOO_LONG, what, subject=(passage.id,), allowed=allowed, advice="Split it.", where=where)
    if words > MOST_WORDS_IN_CHUNK:
        what, allowed = f"{{}} has {words} words.", (f"at most {MOST_WORDS_IN_CHUNK}",)
        advice = "Shorten or split it."
        yield Problem(Fault.CHUNK_TOO_LONG, what, subject=(passage.id,), allowed=allowed, advice=advice, where=where)
