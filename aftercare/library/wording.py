"""Checks every text against the house rules, and replaces the shipped wording by the clinic's own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from aftercare.errors import Fault, Problem, nearest, slots
from aftercare.library.modules import Advice, WarningSign
from aftercare.library.source import Wording
from aftercare.library.text import BlockKind, Text
from aftercare.library.words import placeholders

# A sentence above 20 words loses readers (common practice, no source).
MOST_WORDS = 20
# CDC Clear Communication Index, item 8: no list longer than seven items.
MOST_ITEMS = 7
# A chunk of at most 80 words has one idea (this project's limit; PEMAT-P item 8 asks for short chunks and gives no number).
MOST_WORDS_IN_CHUNK = 80

_SENTENCE = re.compile(r"(?<=[.!?:])\s+")
# Characters of a sentence that its problem quotes, enough to find it.
_QUOTED_LENGTH = 60


def sentences(message: str) -> tuple[str, ...]:
    """Split a message into sentences; a colon ends one too, since what follows is read as a list."""
    return tuple(part for part in _SENTENCE.split(message.strip()) if part)


def text_problems(texts: Iterable[Text], values: frozenset[str], words: frozenset[str]) -> list[Problem]:
    """Find unknown placeholders, digits, per cent signs, single braces and sentences that are too long.

    `values` and `words` are the names that are allowed in braces; only a word may begin with a capital there.
    """
    problems: list[Problem] = []
    for text in texts:
        problems += _placeholder_problems(text, values, words)
        problems += _character_problems(text)
        problems += _length_problems(text)
    return problems


def _placeholder_problems(text: Text, values: frozenset[str], words: frozenset[str]) -> Iterator[Problem]:
    names = values | words
    for name in placeholders(text.message):
        if name not in values and name[:1].lower() + name[1:] not in words:
            yield Problem(
                Fault.UNKNOWN_PLACEHOLDER,
                "Unknown placeholder {}.",
                subject=(f"{{{name}}}",),
                allowed=tuple(sorted(names)),
                suggestion=nearest(name, names),
                where=text.where,
            )


def _character_problems(text: Text) -> Iterator[Problem]:
    without_placeholders = re.sub(r"\{[^{}]*\}", "", text.message)
    if match := re.search(r"[\d%]+", without_placeholders):
        yield Problem(
            Fault.DIGITS_IN_TEXT,
            "A text holds {}; digits and per cent signs are not allowed in texts.",
            subject=(match[0],),
            advice="Put the number into content/figures.yaml and write its {name} here.",
            where=text.where,
        )
    if "{" in without_placeholders or "}" in without_placeholders:
        advice = "Write '{' and '}' around a name."
        yield Problem(Fault.UNKNOWN_PLACEHOLDER, "A brace without its partner.", advice=advice, where=text.where)


def _length_problems(text: Text) -> Iterator[Problem]:
    for sentence in sentences(text.message):
        count = len(sentence.split())
        if count > MOST_WORDS:
            yield Problem(
                Fault.SENTENCE_TOO_LONG,
                f"The sentence that begins {{}} has {count} words.",
                subject=(sentence[:_QUOTED_LENGTH],),
                allowed=(f"at most {MOST_WORDS}",),
                advice="Make two of it.",
                where=text.where,
            )


def staff_text_problems(texts: Iterable[Text]) -> list[Problem]:
    """Find placeholders in texts for staff, who read them in lists and forms, where nothing fills in a value."""
    return [
        Problem(
            Fault.UNKNOWN_PLACEHOLDER,
            "This text for staff holds the placeholder {}, which nothing fills in.",
            subject=(f"{{{name}}}",),
            advice="Write the text without it.",
            where=text.where,
        )
        for text in texts
        for name in placeholders(text.message)
    ]


def override(
    advice: tuple[Advice, ...], warnings: tuple[WarningSign, ...], wordings: tuple[Wording, ...], problems: list[Problem]
) -> tuple[tuple[Advice, ...], tuple[WarningSign, ...]]:
    """Replace the texts and titles of modules by the clinic's; mistakes are added to `problems`.

    A clinic may reword any module, give only a title, and leave out (by an empty section) a module that covers no
    required fact. It may not omit a value of the module's text, such as a phone number or a figure.
    """
    modules: dict[str, Advice | WarningSign] = {module.id: module for module in advice}
    modules |= {warning.id: warning for warning in warnings}
    by_id: dict[str, Wording] = {}
    for wording in wordings:
        if wording.id not in modules:
            problems.append(
                Problem(
                    Fault.UNKNOWN_NAME,
                    "No module is called {}.",
                    subject=(wording.id,),
                    allowed=tuple(sorted(modules)),
                    suggestion=nearest(wording.id, modules),
                    where=wording.where,
                )
            )
        elif wording.id in by_id:
            what = "The module {} has two sections here."
            problems.append(Problem(Fault.DUPLICATE, what, subject=(wording.id,), advice="Keep one.", where=wording.where))
        else:
            by_id[wording.id] = wording
            problems += _wording_problems(modules[wording.id], wording)
    omitted = {id_ for id_, wording in by_id.items() if _is_empty(wording)}
    return (
        tuple(_reworded_advice(module, by_id.get(module.id)) for module in advice if module.id not in omitted),
        tuple(_reworded_warning(warning, by_id.get(warning.id)) for warning in warnings if warning.id not in omitted),
    )


def _is_empty(wording: Wording) -> bool:
    return not wording.blocks and not wording.title


def _reworded_advice(module: Advice, wording: Wording | None) -> Advice:
    if wording is None:
        return module
    return replace(module, title=wording.title or module.title, blocks=wording.blocks or module.blocks)


def _reworded_warning(warning: WarningSign, wording: Wording | None) -> WarningSign:
    if wording is None:
        return warning
    sign = wording.blocks[0].text if wording.blocks else warning.sign
    return replace(warning, title=wording.title or warning.title, sign=sign)


def _wording_problems(module: Advice | WarningSign, wording: Wording) -> Iterator[Problem]:
    """Find what the clinic's wording of a module lacks. A section with only a title leaves the text as it is."""
    if _is_empty(wording) and module.covers:
        yield Problem(
            Fault.OVERRIDE_LOSES_SAFETY,
            f"The module {{}} may not be left out, because sheets need it for {slots(module.covers)}.",
            subject=(module.id, *module.covers),
            advice="Write it in your own words.",
            where=wording.where,
        )
    if not wording.blocks:
        return
    is_paragraph = len(wording.blocks) == 1 and wording.blocks[0].kind is BlockKind.PARAGRAPH
    if isinstance(module, WarningSign) and not is_paragraph:
        advice = "Join the lines."
        yield Problem(Fault.BAD_MARKDOWN, "A warning is one paragraph.", advice=advice, where=wording.where)
    texts = [module.sign] if isinstance(module, WarningSign) else [block.text for block in module.blocks]
    values = {name for text in texts for name in placeholders(text.message) if "_" in name}
    missing = sorted(values - {name for block in wording.blocks for name in placeholders(block.text.message)})
    if missing:
        yield Problem(
            Fault.OVERRIDE_LOSES_SAFETY,
            f"The new wording of {{}} no longer gives {slots(missing)}.",
            subject=(module.id, *(f"{{{name}}}" for name in missing)),
            advice="Keep each of these.",
            where=wording.where,
        )
