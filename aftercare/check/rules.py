"""What must hold of one composed sheet, besides what compose itself refuses."""

from __future__ import annotations

from collections.abc import Iterator

from aftercare.errors import Fault, Problem
from aftercare.library.text import BlockKind
from aftercare.library.wording import MOST_ITEMS, MOST_WORDS_IN_CHUNK
from aftercare.sheet.choices import describe
from aftercare.sheet.sheet import Passage, Sheet


def sheet_problems(sheet: Sheet) -> Iterator[Problem]:
    """Lists too long on this sheet; a list of signs is one tier of them."""
    for group in sheet.groups:
        if len(group.signs) > MOST_ITEMS:
            what = f"{len(group.signs)} signs of tier '{group.tier}' for {describe(sheet.choices)}."
            advice = "Join two of them, or make one depend on an option."
            yield Problem(Fault.LIST_TOO_LONG, what, f"At most {MOST_ITEMS}.", advice, sheet.choices.device.where)


def passage_problems(passage: Passage) -> Iterator[Problem]:
    """A passage's own list or chunk too long; the same wherever it stands."""
    items = sum(block.kind is BlockKind.ITEM for block in passage.blocks)
    words = sum(len(block.text.message.split()) for block in passage.blocks)
    where = passage.blocks[0].text.where
    if items > MOST_ITEMS:
        yield Problem(Fault.LIST_TOO_LONG, f"'{passage.id}' lists {items} items.", f"At most {MOST_ITEMS}.", "Split it.", where)
    if words > MOST_WORDS_IN_CHUNK:
        what, allowed = f"'{passage.id}' has {words} words.", f"At most {MOST_WORDS_IN_CHUNK}."
        yield Problem(Fault.CHUNK_TOO_LONG, what, allowed, "Shorten or split it.", where)
