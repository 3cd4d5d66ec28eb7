"""Patterns for negation, numbers and units of time in each language, to compare a translation with its English.

A language without a table here is refused, since a missing "not" could not be detected.
The lists are from memory of ordinary grammar; a sound translation with a word they lack is refused until a person reviews it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Grammar:
    """Patterns to match against a text in lower case without vowel marks and placeholders.

    `neutral` matches phrases with a negative word but no negative meaning. Each match of `negatives` counts as one.
    `leading` counts only as the first word of a clause: after a verb such a word repeats a negation already counted
    ("no ... nunca"). `clause` matches the end of a clause. `joining` matches those negatives that extend an earlier one
    ("no ... ni"); they are not counted where the English has "not ... or". `only` matches a pair that says "only" by means
    of a negative ("لا ... إلا"); it is not counted where the English has "only". `numbers` and `units` map a value to the
    pattern of the words for it.
    """

    negatives: re.Pattern[str]
    numbers: Mapping[str, re.Pattern[str]]
    units: Mapping[str, re.Pattern[str]]
    neutral: re.Pattern[str] | None = None
    leading: re.Pattern[str] | None = None
    clause: re.Pattern[str] | None = None
    joining: re.Pattern[str] | None = None
    only: re.Pattern[str] | None = None


def _words(*alternatives: str, before: str = "") -> re.Pattern[str]:
    """A pattern of whole words or phrases, the longest first so that a phrase matches before a word inside it."""
    longest_first = sorted(alternatives, key=len, reverse=True)
    return re.compile(rf"(?<!\w){before}(?:{'|'.join(longest_first)})(?!\w)")


def _word_patterns(table: Mapping[str, str], before: str = "") -> dict[str, re.Pattern[str]]:
    """A pattern of whole words for each value; alternatives are separated by `|`."""
    return {value: _words(words, before=before) for value, words in table.items()}


_ENGLISH = Grammar(
    negatives=re.compile(
        r"n't\b|\b(?:not|cannot|never|no|nothing|none|nobody|nowhere|neither|nor|without|unless|unable|impossible|avoid)\b|\bnon-"
    ),
    # "one", "once", "first" and "second" are often no numbers, so they are not compared.
    numbers=_word_patterns(
        {
            "½": "half",
            "2": "two|twice|both",
            "3": "three",
            "4": "four",
            "5": "five",
            "6": "six",
            "7": "seven",
            "8": "eight",
            "9": "nine",
            "10": "ten",
            "11": "eleven",
            "12": "twelve",
        }
    ),
    units=_word_patterns(
        {
            "minute": "minutes?",
            "hour": "hours?|hourly",
            "day": "days?|daily|today",
            "week": "weeks?|weekly",
            "month": "months?",
            "year": "years?",
        }
    ),
    neutral=re.compile(r"\b(?:after|office|opening|clinic|working|business)[ -]hours\b"),
)

_SPANISH = Grammar(
    negatives=_words(
        "no", "sin", "ni", "ni siquiera", "evit[aeo]n?", "evitar", "incapaz", "incapaces", "imposible", "a menos que",
        "a no ser que", "salvo que", "salvo si", "excepto si", "excepto que",
    ),
    leading=_words("nunca", "jamás", "nada", "nadie", "ningún", "ningun[oa]s?", "tampoco"),
    clause=re.compile(r"[.,;:!?¡¿()\u2014]|(?<!\w)(?:y|e|o|u|pero|si|que|cuando|porque|mientras)(?!\w)"),
    joining=re.compile(r"(?<!\w)ni(?! siquiera)(?!\w)"),
    only=re.compile(r"(?<!\w)no(?!\w)[^.;:]*?(?<!\w)(?:más que|sino)(?!\w)"),
    numbers=_word_patterns(
        {
            "½": "mitad|media hora",
            "2": "dos|ambos|ambas",
            "3": "tres",
            "4": "cuatro",
            "5": "cinco",
            "6": "seis",
            "7": "siete",
            "8": "ocho",
            "9": "nueve",
            "10": "diez",
            "11": "once",
            "12": "doce",
        }
    ),
    units=_word_patterns(
        {
            "minute": "minutos?",
            "hour": "horas?",
            "day": "días?|diari[oa]s?|diariamente|hoy",
            "week": "semanas?|semanal(?:es|mente)?",
            "month": "mes|meses",
            "year": "años?",
        }
    ),
    neutral=_words(
        "sin embargo", "no obstante", "nada más", "fin(?:es)? de semana", "horas de (?:oficina|atención|trabajo|consulta)"
    ),
)  # fmt: skip

# Arabic joins "and", "so", "by", "to", "like" and "the" to the next word.
_JOINED = "[وف]?(?:ال|لل|[بلك](?:ال)?)?"

_ARABIC = Grammar(
    negatives=_words(
        "لا", "لن", "لم", "ليس", "ليست", "ليسوا", "ألا", "لئلا", "كيلا", "لكيلا", "بلا", "دون", "بدون", "[بل]?غير",
        "[بل]?عدم", "ممنوع", "ممنوعة", "[بل]?تجنب", "تجنبي", "تجنبوا", "إلا", "ما لم", "يستحيل", "مستحيل",
        "[يت]?تعذر", "تعذرت",
        before="[وف]?",
    ),
    joining=re.compile(r"(?<!\w)ولا(?! حتى)(?!\w)"),
    only=re.compile(r"(?<!\w)[وف]?(?:لا|لن|لم|ليس)(?!\w)[^.؛:]*?(?<!\w)إلا(?!\w)"),
    numbers=_word_patterns(
        {
            "½": "نصف",
            # Arabic writes "two hours" as one word. Parts of the body are left out: their dual serves as their plural.
            "2": "(?:اثن|اثنت|ساعت|يوم|أسبوع|دقيقت|مرت|شهر|إصبع|كيس|جانب|جهت)(?:ان|ين)|كلت?[يا]هما|كلت?ا(?: \\w+ين)?",
            "3": "ثلاثة?",
            "4": "أربعة?",
            "5": "خمسة?",
            "6": "ستة?",
            "7": "سبعة?",
            "8": "ثمان|ثماني|ثمانية",
            "9": "تسعة?",
            "10": "عشرة?",
            "11": "أحد عشر|إحدى عشرة",
            "12": "اثن[اي] عشر|اثنت[اي] عشرة",
        },
        before=_JOINED,
    ),
    units=_word_patterns(
        {
            "minute": "دقيقة|دقائق|دقيقت(?:ان|ين)",
            "hour": "ساعة|ساعات|ساعت(?:ان|ين)",
            "day": "نهار|نهارا|يوم|يوما|أيام|أياما|يوم(?:ان|ين)|يومي|يومية|يوميا",
            "week": "أسبوع|أسبوعا|أسابيع|أسبوع(?:ان|ين)|أسبوعيا",
            "month": "شهر|شهرا|شهور|أشهر|شهر(?:ان|ين)",
            "year": "سنة|سنوات|سنين|سنت(?:ان|ين)",
        },
        before=_JOINED,
    ),
    neutral=re.compile(r"(?<!\w)[وف]?(?:لا (?:يزال|تزال|بد|سيما)|غير أن|بلا شك|(?:ال|ل)?ساعات (?:العمل|الدوام))(?!\w)"),
)  # fmt: skip

# By language tag. English is the source language; the others are compared with it.
GRAMMARS: dict[str, Grammar] = {"en": _ENGLISH, "es": _SPANISH, "ar": _ARABIC}


def _without(text: str, *patterns: re.Pattern[str] | None) -> str:
    """The text with a space for each match of each pattern."""
    for pattern in filter(None, patterns):
        text = pattern.sub(" ", text)
    return text


def negatives(text: str, grammar: Grammar, *, only: bool = False, not_or: bool = False) -> int:
    """Count the negations in a text. `only` and `not_or`: whether the English has "only", and "not ... or"; see Grammar."""
    text = _without(text, grammar.neutral, grammar.only if only else None, grammar.joining if not_or else None)
    count = len(grammar.negatives.findall(text))
    if grammar.leading and grammar.clause:
        count += sum(bool(grammar.leading.match(clause.strip(' *"'))) for clause in grammar.clause.split(text))
    return count


def units(text: str, grammar: Grammar) -> frozenset[str]:
    """The units of time in a text, by their English names."""
    text = _without(text, grammar.neutral)
    return frozenset(unit for unit, words in grammar.units.items() if words.search(text))


def number_words(text: str, grammar: Grammar) -> list[tuple[int, str]]:
    """Each number written as a word, as (offset in the text, value), in order."""
    longest: dict[int, tuple[int, str]] = {}  # by offset: the end and the value of the longest match there
    for value, words in grammar.numbers.items():
        for match in words.finditer(text):
            end, _ = longest.get(match.start(), (0, ""))
            if match.end() > end:  # "أحد عشر" rather than "عشر" alone
                longest[match.start()] = (match.end(), value)
    last_end, matches = -1, []
    for start, (end, value) in sorted(longest.items()):
        if start >= last_end:
            matches.append((start, value))
            last_end = end
    return matches
