"""Pieces of phone pages kept for the next page: most parts of one page stand on a hundred others in the same words."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Protocol

from markupsafe import Markup

from aftercare.language.translated import TranslatedSheet
from aftercare.library.text import Text
from aftercare.library.words import placeholders


class _Macro(Protocol):
    name: str

    def __call__(self, *made_of: object) -> Markup: ...


class _Texts(Protocol):
    def texts(self) -> Iterable[Text]: ...


# A part of a sheet that knows its messages, or the labels.
Part = _Texts | Mapping[str, Text]


@dataclass(frozen=True, slots=True)
class Pieces:
    """The pieces of one publication in one language, in which a message is always said with the same words.

    A piece is known by the macro that makes it, the part it is made from, and the values that the part and the labels wait
    for. Parts are told apart by where they lie in memory, which holds since all are kept here; what equal devices share is one
    part, whose labels are the same (sheet/compose.py).
    """

    _made: dict[Hashable, Markup] = field(default_factory=dict)
    _waiting: dict[int, tuple[Part, tuple[str, ...]]] = field(default_factory=dict)

    def of(self, translated: TranslatedSheet) -> Callable[..., Markup]:
        """What gives a page of `translated` its pieces: called with a macro, the part, and whatever else decides the piece."""
        return partial(self._piece, translated, self._values(translated, translated.sheet.labels))

    def _piece(self, translated: TranslatedSheet, labels: Hashable, macro: _Macro, part: Part, *more: Hashable) -> Markup:
        key = (macro.name, id(part), self._values(translated, part), labels, more)
        found = self._made.get(key)
        if found is None:
            found = self._made[key] = macro(part, *more)
        return found

    def _values(self, translated: TranslatedSheet, part: Part) -> Hashable:
        known = self._waiting.get(id(part))
        if known is None:
            texts = part.values() if isinstance(part, Mapping) else part.texts()
            names = dict.fromkeys(name for text in texts for name in placeholders(text.message))
            known = self._waiting[id(part)] = (part, tuple(names))
        return tuple([translated.values.get(name) for name in known[1]])
