"""Whether a translation still says what the English says, as far as a program can tell: numbers, units, negation, braces.

The rules follow what published criteria for translated health numbers have in common; each is one small check.
A person who has looked at a sentence may silence some of them with a translator's comment in the PO file:
`# reviewed: polarity`.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from aftercare.errors import Fault, Problem, Where, listed
from aftercare.language.grammar import GRAMMARS, negatives, number_words, units
from aftercare.library.words import PLACEHOLDER, placeholders

# U+202A..202E force a direction on what follows, past the end of the sentence if they are not closed (UAX #9, 2.2).
_EMBEDDINGS = re.compile("[\u202a-\u202e]")
_ISOLATES, _POP = re.compile("[\u2066-\u2068]"), "\u2069"
_INVISIBLE = re.compile("[\u200e\u200f\u061c\u2066-\u2069]")
_VOWEL_SIGNS = re.compile("[\u064b-\u0652\u0670\u0640]")  # Arabic vowel marks and the stroke that only lengthens a word
_DIGITS = re.compile(r"\d+(?:[.,\u066b\u066c]\d+)*")
_MARKUP = re.compile(r"[<>`\\\n\t]|\]\(|(?<!\*)\*(?!\*)|\*{3,}|^(?:#|-|\+|>) ")
_CARRIED = re.compile(rf"(?:{GRAMMARS['en'].negatives.pattern})[^.;:!?]*\bor\b")  # "do not eat or drink"
_BOLD = "**"
# Share of the English length, outside of which a sentence was probably cut or pasted. Common practice, no source.
_LENGTHS = (0.4, 2.5)
_LONG_ENOUGH = 25  # letters; below it the share says little


@dataclass(frozen=True, slots=True)
class Check:
    """One rule. `find` takes the English, the translation and the language's tag and says what differs, or nothing.

    `reviewable` says whether a person may overrule it.
    """

    name: str
    fault: Fault
    reviewable: bool
    find: Callable[[str, str, str], str]
    advice: str


def _bare(text: str) -> str:
    """Lower case, without placeholders, vowel marks and invisible direction marks."""
    return _VOWEL_SIGNS.sub("", _INVISIBLE.sub("", PLACEHOLDER.sub(" ", text))).lower()


def _value(digits: str) -> str:
    """A number in any script as ASCII digits. A separator before exactly three digits groups thousands, else it is decimal."""
    ascii_digits = "".join(str(unicodedata.decimal(char)) if char.isdecimal() else char for char in digits)
    ungrouped = re.sub(r"[.,\u066c](?=\d{3}(?!\d))", "", ascii_digits)
    return re.sub(r"[,\u066b\u066c]", ".", ungrouped)


def numbers(text: str, tag: str) -> tuple[str, ...]:
    """Every number of a text in order: digits as their value, number words as `=` and their value."""
    bare = _bare(text)
    found = [(match.start(), _value(match[0])) for match in _DIGITS.finditer(bare)]
    found += [(start, f"={value}") for start, value in number_words(bare, GRAMMARS[tag])]
    return tuple(value for _, value in sorted(found))


def _listing(values: Iterable[str]) -> str:
    return ", ".join(value.lstrip("=") for value in values) or "none"


def _placeholders(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    ours, theirs = Counter(placeholders(message)), Counter(placeholders(translation))
    rest = PLACEHOLDER.sub("", translation)
    if ours == theirs and "{" not in rest and "}" not in rest:
        return ""
    lost, added = [f"{{{n}}}" for n in (ours - theirs).elements()], [f"{{{n}}}" for n in (theirs - ours).elements()]
    return f"Values in braces: lost {_listing(lost)}, added {_listing(added)}."


def _numbers(message: str, translation: str, tag: str) -> str:
    ours, theirs = numbers(message, "en"), numbers(translation, tag)
    return "" if ours == theirs else f"Numbers in order: English {_listing(ours)}; translation {_listing(theirs)}."


def _added_digits(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    added = Counter(map(_value, _DIGITS.findall(_bare(translation)))) - Counter(map(_value, _DIGITS.findall(_bare(message))))
    return f"Digits the English does not have: {_listing(added.elements())}." if added else ""


def _units(message: str, translation: str, tag: str) -> str:
    ours, theirs = units(_bare(message), GRAMMARS["en"]), units(_bare(translation), GRAMMARS[tag])
    return "" if ours == theirs else f"Units of time: English {_listing(sorted(ours))}; translation {_listing(sorted(theirs))}."


def _polarity(message: str, translation: str, tag: str) -> str:
    bare = _bare(message)
    only, carried = re.search(r"\bonly\b", bare) is not None, _CARRIED.search(bare) is not None
    ours = negatives(bare, GRAMMARS["en"])
    theirs = negatives(_bare(translation), GRAMMARS[tag], only=only, carried=carried)
    return "" if ours == theirs else f"Negations: English {ours}; translation {theirs}."


def _bold(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    ours, theirs = message.count(_BOLD), translation.count(_BOLD)
    return "" if ours == theirs else f"Bold marks (**): English {ours}; translation {theirs}."


def _direction(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    if _EMBEDDINGS.search(translation):
        return "An invisible mark forces the direction of the line (U+202A to U+202E)."
    if len(_ISOLATES.findall(translation)) != translation.count(_POP):
        return "An isolated run (U+2066 to U+2068) is not closed by U+2069."
    return ""


def _markup(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    found = _MARKUP.search(translation)
    return f"'{found[0]!a}' is a mark that the English has no use for." if found and not _MARKUP.search(message) else ""


def _length(message: str, translation: str, tag: str) -> str:  # noqa: ARG001
    ours, theirs = (len(PLACEHOLDER.sub("", text)) for text in (message, translation))
    if ours < _LONG_ENOUGH:
        return ""
    if translation == message:
        return "It is still the English sentence."
    share = theirs / ours
    return "" if _LENGTHS[0] <= share <= _LENGTHS[1] else f"It is {share:.1f} times as long as the English."


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


def no_table(tag: str, where: Where | None = None) -> Problem:
    """Why a language without a table in grammar.py is refused."""
    what = f"Nothing is known of negation and numbers in '{tag}', so its sentences cannot be checked."
    return Problem(Fault.UNKNOWN_LANGUAGE, what, listed(GRAMMARS), "Add a table to aftercare/language/grammar.py.", where)


def unsafe(
    message: str, translation: str, tag: str, reviewed: frozenset[str] = frozenset(), where: Where | None = None
) -> tuple[Problem, ...]:
    """Every way in which a translation may not say what its English says; empty when it may be printed.

    `reviewed` names the checks a person has overruled for this sentence.
    """
    if tag not in GRAMMARS:
        return (no_table(tag, where),)
    found = []
    for check in CHECKS:
        if (check.reviewable and check.name in reviewed) or not (difference := check.find(message, translation, tag)):
            continue
        overrule = f" If it is right as it is, write '# reviewed: {check.name}' above it." if check.reviewable else ""
        found.append(Problem(check.fault, f"{difference} In: '{message}'.", advice=check.advice + overrule, where=where))
    return tuple(found)
