"""Pieces of phone pages kept for the next page: most sentences of one page stand on a hundred others in the same words."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from aftercare.language.spoken import SpokenSheet
from aftercare.library.text import Text
from aftercare.library.words import placeholders
from aftercare.sheet.sheet import Passage, Sign

# Some thousand pieces a language, each of some hundred bytes; beyond this something is never asked for again.
MOST = 50_000
_kept: dict[Hashable, Markup] = {}


@dataclass(frozen=True, slots=True)
class Pieces:
    """Renders signs and passages of one page, or finds them among those of earlier pages.

    A piece is known by everything it is made from: `made_by` names the templates and marks, the rest is its own words in this
    language, the values in them, its condition and its picture.
    """

    spoken: SpokenSheet
    made_by: Hashable

    def __call__(self, macro: Callable[[Sign | Passage], Markup], item: Sign | Passage) -> Markup:
        """The piece as `macro` renders it."""
        translations, values = self.spoken.translations, self.spoken.values
        said = tuple(translations[text.message] for text in _texts(item))
        filled = tuple(values.get(name) for sentence in said if "{" in sentence for name in placeholders(sentence))
        # Passages and signs have different parts, so what stands where in `said` is told by these counts.
        shape = (
            (len(item.conditions), item.title is None, tuple(block.kind for block in item.blocks), item.why is None)
            if isinstance(item, Passage)
            else (len(item.conditions), item.picture)
        )
        key = (self.made_by, shape, item.condition, said, filled)
        found = _kept.get(key)
        if found is None:
            if len(_kept) >= MOST:
                _kept.clear()
            found = _kept[key] = macro(item)
        return found


def _texts(item: Sign | Passage) -> Iterator[Text]:
    yield from item.conditions
    if isinstance(item, Sign):
        yield item.sign
        yield item.why
        return
    if item.title is not None:
        yield item.title
    for block in item.blocks:
        yield block.text
    if item.why is not None:
        yield item.why
