"""Text as content files hold it: a message with its place, and the blocks and modules made of messages."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from aftercare.errors import Where


@dataclass(frozen=True, slots=True)
class Text:
    """One English message in inline Markdown.

    In a content file it may hold words (`{the device}`); on a sheet the words are in place and only values
    (`{ice_minutes}`) remain. Equality and hash ignore the place, so equal sentences are one message.
    """

    message: str
    where: Where = field(default=Where(""), compare=False)


class BlockKind(StrEnum):
    """What Markdown we allow inside a module, besides its one heading."""

    PARAGRAPH = "paragraph"
    ITEM = "item"


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph or a list item."""

    kind: BlockKind
    text: Text
