"""House rules for every text, and the clinic's own wording put in the place of ours."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from aftercare.errors import Fault, Problem, did_you_mean, listed
from aftercare.library.modules import Advice, WarningSign
from aftercare.library.source import Wording
from aftercare.library.text import BlockKind, Text
from aftercare.library.words import placeholders

# A sentence above 20 words loses readers (common practice, no source).
MOST_WORDS = 20
# CDC Clear Communication Index, item 8: no list longer than seven items.
MOST_ITEMS = 7
# A chunk of at most 80 words holds one idea (our own bound; PEMAT-P item 8 asks for short chunks and gives no number).
MOST_WORDS_IN_CHUNK = 80

_SENTENCE = re.compile(r"(?<=[.!?:])\s+")


def sentences(message: str) -> tuple[str, ...]:
    """The sentences of a message; a colon ends one too, since what follows is read as a list."""
    return tuple(part for part in _SENTENCE.split(message.strip()) if part)


def text_problems(texts: Iterable[tuple[Text, str]], values: frozenset[str], words: frozenset[str]) -> list[Problem]:
    """Unknown placeholders, digits and per cent signs, and sentences too long."""
    problems: list[Problem] = []
    known = values | words
    for text, _ in texts:
        for name in placeholders(text.message):
            if name not in values and name[:1].lower() + name[1:] not in words:
                advice = did_you_mean(name, known)
                problems.append(
                    Problem(
                        Fault.UNKNOWN_PLACEHOLDER,
                        f"Unknown placeholder '{{{name}}}'.",
                        listed(sorted(known)),
                        advice,
                        text.where,
                    )
                )
        bare = re.sub(r"\{[^{}]*\}", "", text.message)
        if found := re.search(r"[\d%]+", bare):
            advice = "Put the number into content/figures.yaml and write its {name} here."
            problems.append(
                Problem(
                    Fault.DIGITS_IN_TEXT, f"'{found[0]}' stands in a text.", "No digits, no per cent signs.", advice, text.where
                )
            )
        if "{" in bare or "}" in bare:
            what, advice = "A brace without its partner.", "Write '{' and '}' around a name."
            problems.append(Problem(Fault.UNKNOWN_PLACEHOLDER, what, advice=advice, where=text.where))
        for sentence in sentences(text.message):
            count = len(sentence.split())
            if count > MOST_WORDS:
                what = f"A sentence of {count} words: '{sentence[:60]}…'."
                problems.append(Problem(Fault.SENTENCE_TOO_LONG, what, f"At most {MOST_WORDS}.", "Make two of it.", text.where))
    return problems


def override(
    advice: tuple[Advice, ...], warnings: tuple[WarningSign, ...], wordings: tuple[Wording, ...], problems: list[Problem]
) -> tuple[tuple[Advice, ...], tuple[WarningSign, ...]]:
    """Our modules with the clinic's wording in them.

    A clinic may reword any module and may leave out (by an empty section) one that covers no required fact.
    It may not lose a value the module gives, such as a phone number or a figure.
    """
    by_id: dict[str, Wording] = {}
    known: dict[str, Advice | WarningSign] = {module.id: module for module in advice}
    known |= {warning.id: warning for warning in warnings}
    for wording in wordings:
        if wording.id not in known:
            what = f"No module is called '{wording.id}'."
            problems.append(
                Problem(Fault.UNKNOWN_NAME, what, listed(sorted(known)), did_you_mean(wording.id, known), wording.where)
            )
        elif wording.id in by_id:
            problems.append(
                Problem(Fault.DUPLICATE, f"'## {wording.id}' stands here twice.", advice="Keep one.", where=wording.where)
            )
        else:
            by_id[wording.id] = wording
            problems += _loses(known[wording.id], wording)
    new_advice = []
    for module in advice:
        own = by_id.get(module.id)
        if not own:
            new_advice.append(module)
        elif own.blocks:
            new_advice.append(replace(module, blocks=own.blocks, title=own.title or module.title))
    new_warnings = []
    for warning in warnings:
        own = by_id.get(warning.id)
        if not own:
            new_warnings.append(warning)
        elif own.blocks:
            new_warnings.append(replace(warning, sign=own.blocks[0].text))
    return tuple(new_advice), tuple(new_warnings)


def _loses(module: Advice | WarningSign, wording: Wording) -> list[Problem]:
    ours = [module.sign.message] if isinstance(module, WarningSign) else [block.text.message for block in module.blocks]
    theirs = {name for block in wording.blocks for name in placeholders(block.text.message)}
    problems = []
    if not wording.blocks and module.covers:
        what = f"'{module.id}' may not be left out: every sheet it belongs on must say it ({', '.join(module.covers)})."
        problems.append(Problem(Fault.OVERRIDE_LOSES_SAFETY, what, advice="Write it in your own words.", where=wording.where))
    if (
        isinstance(module, WarningSign)
        and wording.blocks
        and (len(wording.blocks) > 1 or wording.blocks[0].kind is not BlockKind.PARAGRAPH)
    ):
        what = "A warning is one paragraph."
        problems.append(Problem(Fault.BAD_MARKDOWN, what, advice="Join the lines.", where=wording.where))
    values = {name for message in ours for name in placeholders(message) if "_" in name}
    lost = sorted(values - theirs) if wording.blocks else []
    if lost:
        what = f"The new wording of '{module.id}' no longer gives {', '.join('{' + name + '}' for name in lost)}."
        problems.append(Problem(Fault.OVERRIDE_LOSES_SAFETY, what, advice="Keep each of these.", where=wording.where))
    return problems
