"""Compares a translation with its English: numbers, units, negation, placeholders, markup and length.

The checks follow what published criteria for translated health numbers have in common.
A person who has read a sentence may overrule some of them with a translator's comment in the PO file:
`# reviewed: polarity`.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import NamedTuple

from aftercare.errors import Fault, Problem, Where, slots
from aftercare.language.grammar import GRAMMARS, negatives, number_words, units
from aftercare.library.markdown_subset import parse_inline, refusals
from aftercare.library.words import PLACEHOLDER, placeholders

# U+202A..202E force a direction on the text after them, even past the sentence if they are not closed (UAX #9, 2.2).
_EMBEDDINGS = re.compile("[\u202a-\u202e]")
_ISOLATES, _POP = re.compile("[\u2066-\u2068]"), "\u2069"
_INVISIBLE = re.compile("[\u200e\u200f\u061c\u2066-\u2069]")
# Arabic vowel marks, and the stroke (U+0640) that only lengthens a word.
_VOWEL_SIGNS = re.compile("[\u064b-\u0652\u0670\u0640]")
_DIGITS = re.compile(r"\d+(?:[.,\u066b\u066c]\d+)*")
_MARKUP = re.compile(r"[<>`\\\n\t]|\]\(|(?<!\*)\*(?!\*)|\*{3,}|^(?:#|-|\+|>) ")
_NOT_OR = re.compile(rf"(?:{GRAMMARS['en'].negatives.pattern})[^.;:!?]*\bor\b")  # "do not eat or drink"
_BOLD = "**"
# (least, most) length relative to the English; beyond it a sentence was probably cut or pasted. Common practice, no source.
_RELATIVE_LENGTHS = (0.4, 2.5)
_MIN_COMPARED_LENGTH = 25  # characters; shorter sentences vary too much in relative length


class Difference(NamedTuple):
    """A difference of a translation from its English: a sentence with `{}` for each of `subject`, in order."""

    what: str
    subject: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Check:
    """One comparison. `find` takes the English, the translation and the language's tag; it returns None for no difference.

    `reviewable`: whether a person may overrule it.
    """

    name: str
    fault: Fault
    reviewable: bool
    find: Callable[[str, str, str], Difference | None]
    advice: str


def _bare(text: str) -> str:
    """The text in lower case, without placeholders, vowel marks and invisible direction marks."""
    return _VOWEL_SIGNS.sub("", _INVISIBLE.sub("", PLACEHOLDER.sub(" ", text))).lower()


def _value(digits: str) -> str:
    """A number in any script as ASCII digits. A separator before exactly three digits groups thousands; others are decimal."""
    ascii_digits = "".join(str(unicodedata.decimal(char)) if char.isdecimal() else char for char in digits)
    ungrouped = re.sub(r"[.,\u066c](?=\d{3}(?!\d))", "", ascii_digits)
    return re.sub(r"[,\u066b\u066c]", ".", ungrouped)


def numbers(text: str, tag: str) -> tuple[str, ...]:
    """Every number of a text in order: digits as their value, number words as `=` and their value."""
    bare = _bare(text)
    positions = [(match.start(), _value(match[0])) for match in _DIGITS.finditer(bare)]
    positions += [(start, f"={value}") for start, value in number_words(bare, GRAMMARS[tag])]
    return tuple(value for _, value in sorted(positions))


def _listing(values: Iterable[str]) -> str:
    """Join numbers and units for a sentence. They are digits or from the tables in grammar.py, so they need not be subjects."""
    return ", ".join(value.lstrip("=") for value in values) or "none"


def _placeholders(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    source, translated = Counter(placeholders(message)), Counter(placeholders(translation))
    rest = PLACEHOLDER.sub("", translation)
    if source == translated and "{" not in rest and "}" not in rest:
        return None
    missing = tuple(f"{{{name}}}" for name in (source - translated).elements())
    added = tuple(f"{{{name}}}" for name in (translated - source).elements())
    what = f"Values in braces: missing {slots(missing) or 'none'}, added {slots(added) or 'none'}."
    return Difference(what, missing + added)


def _numbers(message: str, translation: str, tag: str) -> Difference | None:
    source, translated = numbers(message, "en"), numbers(translation, tag)
    if source == translated:
        return None
    return Difference(f"Numbers in order: English {_listing(source)}; translation {_listing(translated)}.")


def _added_digits(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    added = Counter(map(_value, _DIGITS.findall(_bare(translation)))) - Counter(map(_value, _DIGITS.findall(_bare(message))))
    return Difference(f"Digits the English does not have: {_listing(added.elements())}.") if added else None


def _units(message: str, translation: str, tag: str) -> Difference | None:
    source, translated = units(_bare(message), GRAMMARS["en"]), units(_bare(translation), GRAMMARS[tag])
    if source == translated:
        return None
    return Difference(f"Units of time: English {_listing(sorted(source))}; translation {_listing(sorted(translated))}.")


def _polarity(message: str, translation: str, tag: str) -> Difference | None:
    bare = _bare(message)
    only, not_or = re.search(r"\bonly\b", bare) is not None, _NOT_OR.search(bare) is not None
    source = negatives(bare, GRAMMARS["en"])
    translated = negatives(_bare(translation), GRAMMARS[tag], only=only, not_or=not_or)
    return None if source == translated else Difference(f"Negations: English {source}; translation {translated}.")


def _bold(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    source, translated = message.count(_BOLD), translation.count(_BOLD)
    return None if source == translated else Difference(f"Bold marks (**): English {source}; translation {translated}.")


def _direction(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    if _EMBEDDINGS.search(translation):
        return Difference("An invisible mark forces the direction of the line (U+202A to U+202E).")
    if len(_ISOLATES.findall(translation)) != translation.count(_POP):
        return Difference("An isolated run (U+2066 to U+2068) is not closed by U+2069.")
    return None


def _markup(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    mark = _MARKUP.search(translation)
    if mark and not _MARKUP.search(message):
        return Difference("{} is a mark that the English does not have.", (_visible(mark[0]),))
    refusal = next(refusals(parse_inline(translation), 0), None)  # pages refuse these too
    return Difference(refusal.what, (refusal.text,)) if refusal else None


def _visible(mark: str) -> str:
    """A mark with a line break or tab as its escape sequence, so that a message shows it."""
    return mark.replace("\n", "\\n").replace("\t", "\\t")


def _length(message: str, translation: str, tag: str) -> Difference | None:  # noqa: ARG001
    source, translated = (len(PLACEHOLDER.sub("", text)) for text in (message, translation))
    if source < _MIN_COMPARED_LENGTH:
        return None
    if translation == message:
        return Difference("It is still the English sentence.")
    relative, (shortest, longest) = translated / source, _RELATIVE_LENGTHS
    return None if shortest <= relative <= longest else Difference(f"It is {relative:.1f} times as long as the English.")


CHECKS: tuple[Check, ...] = (
    Check("placeholders", Fault.PLACEHOLDER_LOST, False, _placeholders, "Keep each {value} exactly as often as the English."),
    Check("digits", Fault.NUMBER_CHANGED, False, _added_digits, "Numbers and phone numbers come from the clinic's files only."),
    Check("numbers", Fault.NUMBER_CHANGED, True, _numbers, "Keep every number, in the same order, digits as digits."),
    Check("units", Fault.NUMBER_CHANGED, True, _units, "Keep minutes, hours, days and weeks as they are."),
    Check("polarity", Fault.NEGATION_LOST, True, _polarity, "Say 'not' as often as the English."),
    Check("bold", Fault.BAD_MARKDOWN, False, _bold, "Make the same words bold."),
    Check("direction", Fault.BAD_PO, False, _direction, "Remove the mark; values are set apart by the program."),
    Check("markup", Fault.BAD_MARKDOWN, False, _markup, "Write plain words and **bold** only."),
    Check("length", Fault.UNTRANSLATED, True, _length, "Translate the whole sentence and nothing else."),
)
REVIEWABLE = tuple(check.name for check in CHECKS if check.reviewable)


def missing_grammar(tag: str, where: Where | None = None) -> Problem:
    """The problem of a language without a table in grammar.py."""
    return Problem(
        Fault.UNKNOWN_LANGUAGE,
        "Nothing is known of negation and numbers in {}, so its sentences cannot be checked.",
        subject=(tag,),
        allowed=tuple(GRAMMARS),
        advice="Add a table to aftercare/language/grammar.py.",
        where=where,
    )


def unsafe(
    message: str, translation: str, tag: str, reviewed: frozenset[str] = frozenset(), where: Where | None = None
) -> tuple[Problem, ...]:
    """Run every check on a translation; returns one problem for each difference, none when it may be printed.

    `reviewed` names the checks that a person has overruled for this sentence.
    """
    if tag not in GRAMMARS:
        return (missing_grammar(tag, where),)
    problems = []
    for check in CHECKS:
        if (check.reviewable and check.name in reviewed) or not (difference := check.find(message, translation, tag)):
            continue
        overrule = f" If it is right as it is, write '# reviewed: {check.name}' above it." if check.reviewable else ""
        problems.append(
            Problem(
                check.fault,
                difference.what + " In: {}.",
                subject=(*difference.subject, message),
                advice=check.advice + overrule,
                where=where,
            )
        )
    return tuple(problems)
