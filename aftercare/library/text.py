"""Types of text: a message with its place in a content file, and blocks."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from aftercare.errors import Where


@dataclass(frozen=True, slots=True)
class Text:
    """One English message in inline Markdown.

    In a content file it may contain words (`{the device}`); on a sheet the words are replaced and only values
    (`{ice_minutes}`) remain. Equality and hash ignore the place, so that equal sentences are one message.
    """

    message: str
    where: Where = field(default=Where(""), compare=False)


class BlockKind(StrEnum):
    """The kinds of Markdown block that a module may have below its heading."""

    PARAGRAPH = "paragraph"
    ITEM = "item"


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph or a list item."""

    kind: BlockKind
    text: Text
