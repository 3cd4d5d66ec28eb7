"""Rules for English text: voice, commands, long words, technical terms, numbers, calculations and chances.

Each rule works by patterns and lists of words, so it can be wrong. A word missing from a list is reported as an offence, and a
person decides whether to change the text or to add the word. Results are cached by text, since sheets share most sentences.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from aftercare.understanding.syllables import syllables


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")

# Irregular past participles that a sheet may contain.
_IRREGULAR = (
    "bent|bound|broken|brought|built|caught|cut|done|felt|found|given|held|hidden|hurt|kept|known|left|lost|made|met|put|"
    "read|said|seen|set|shown|shut|stuck|swollen|taken|taught|told|torn|understood|worn|written"
)
# A form of "be" or "get", perhaps a word between, and a participle.
_PASSIVE = re.compile(
    rf"\b(?:am|is|are|was|were|be|been|being|gets?|got|getting)\s+(?:not\s+|\w+ly\s+)?(?:\w+[^e\W]ed|{_IRREGULAR})\b", re.I
)

# Verbs with which advice begins. Advice that begins with another is reported until its verb is added.
_VERBS = _words(
    """
    add ask avoid bend bring call change check clean clear compare count cover cut do drain drink eat expect feel find follow
    get go have hold keep lay lean learn leave let lie lift look loosen lower make move open pad pinch place point press print
    pull push put raise read rest rinse roll rub scan seal see show sit sleep slide smell soak spread squeeze stand start stay
    stop stretch support take tap tape tell throw tighten touch tuck turn type undo unroll use wait walk wash watch wear wiggle
    wipe wrap write
    """
)
# What may stand before the verb of a command.
_BEFORE_VERB = _words("do not never always please first then only just also so and or but if")

# Long words that everybody uses: the sign over the emergency door, and whom to ask for another language.
_LONG_BUT_USUAL = _words("emergency interpreter")
# Syllables from which a word counts as long. Three would forbid "medicine", "fingertip" and "holidays".
_LONG = 4

# Medical words that have a plain equivalent or need an explanation.
TECHNICAL_TERMS = _words(
    """
    abduction adduction ambulate analgesia analgesic anesthesia anterior bilateral capillary cephalad compartment contusion
    cyanosis debride debridement distal dorsiflexion dvt edema elevate elevation embolism erythema extremity fixation flexion
    gait hematoma immobilise immobilize immobilization intermittent ischemia lateral ligament maceration medial metacarpal
    metatarsal nerve-damage neurovascular nsaid orthosis orthotic pallor paresthesia parenteral perfusion phalanx plantarflexion
    posterior pronation proximal pruritus pulmonary reduction rotation sepsis subluxation supination syndrome tendon
    thrombosis trauma ulceration ventral
    """
)
_EXPLAINED = r"\s*(?:\(|,? (?:which|that) (?:is|are|means)\b|,? (?:meaning|means)\b)"
_ACRONYM = re.compile(r"\b[A-Z]{2,}\b")

_SPELLED = "two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|sixty|ninety"
_UNIT = "minute|hour|day|week|month|year|time"
_NUMBER = r"\d+(?:\.\d+)?(?:[–-]\d+(?:\.\d+)?)?"
# A number followed by its unit, or preceded by words that name what it counts ("How many times: 5–10").
_WITH_UNIT = re.compile(rf"{_NUMBER}\s*(?:(?:{_UNIT})s?\b|°[CF])|\btimes[^.:]*:\s*{_NUMBER}", re.I)
_NUMBER_AND_UNIT = re.compile(rf"{_NUMBER}\s*(?:{_UNIT})s?")
_SPELLED_WITH_UNIT = re.compile(rf"\b(?:{_SPELLED})\b[ -](?:to \w+ )?(?:{_UNIT})s?\b", re.I)
_DECIMAL = re.compile(r"\d+\.\d+")
_DIGITS = re.compile(r"\d+")
_TEMPERATURE = re.compile(rf"{_NUMBER}\s*°[CF]")
_PART_OF = re.compile(
    rf"%|\bper ?cent\b|\d/\d|[¼½¾]|\b(?:half|third|quarter)s? (?:of )?(?:an?|the) (?:{_UNIT})|\ba half\b", re.I
)
_SUM = re.compile(
    r"\bevery \d+ of\b|\bminus\b|\bplus\b|\bpercent of\b|\bper (?:kg|kilo|pound)|\btimes your\b"
    r"|\b(?:divide|multiply|subtract|calculate)|\badd (?:up|together)\b|\bhalf of\b"
    r"|\b(?:twice|double|three times) (?:as|the|that|your)\b|\bfor each (?:kilo|pound|year)\b",
    re.I,
)
_CHANCE = re.compile(rf"%|\bper ?cent\b|\b(?:\d+|one|{_SPELLED}) (?:in|out of) (?:every )?(?:\d+|{_SPELLED}|a hundred)\b", re.I)
_CHANCE_IN_WORDS = re.compile(r"\b(?:most|few|some|rare|rarely|seldom|often|almost all|hardly any|likely|unlikely)\b", re.I)


# Texts for which each rule caches its result. All sheets together have about 1,100 different ones (measured).
_CACHED = 4096


@lru_cache(_CACHED)
def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text."""
    return tuple(part for part in _SENTENCE.split(text.strip()) if part)


@lru_cache(_CACHED)
def words(text: str) -> tuple[str, ...]:
    """The words and numbers of a text, divided at blanks; other signs are not words."""
    return tuple(part for part in text.split() if re.search(r"\w|…", part))


@lru_cache(_CACHED)
def passive(sentence: str) -> str:
    """The words that make a sentence passive; empty if the pattern matches none."""
    match = _PASSIVE.search(sentence)
    return match[0] if match else ""


@lru_cache(_CACHED)
def commands(text: str) -> bool:
    """Whether a clause begins with the verb of a command."""
    return any(_is_command(clause) for clause in re.split(r"[.,:;?!]\s+", text))


def _is_command(clause: str) -> bool:
    clause_words = [word.lower() for word in _WORD.findall(clause)]
    if not clause_words or clause_words[0] == "if":
        return False
    if clause_words[0] == "do":
        return True
    verb = next((word for word in clause_words if word not in _BEFORE_VERB), "")
    return verb in _VERBS


@lru_cache(_CACHED)
def addresses_reader(text: str) -> bool:
    """Whether the text says "you" or commands."""
    return bool(re.search(r"\byou(?:r|rs|rself)?\b", text, re.I)) or commands(text)


@lru_cache(_CACHED)
def speaks_of_others(text: str) -> str:
    """The first words that speak of the reader in the third person; empty if there are none."""
    match = re.search(r"\bpatients?\b|\bthe user\b|\bhe or she\b|\bhe/she\b|\bone should\b", text, re.I)
    return match[0] if match else ""


@lru_cache(_CACHED)
def long_words(text: str) -> tuple[str, ...]:
    """Words of four syllables or more. Each part of a hyphenated word is a word."""
    return tuple(word for word in _WORD.findall(text) if syllables(word) >= _LONG and word.lower() not in _LONG_BUT_USUAL)


@lru_cache(_CACHED)
def unexplained(text: str) -> tuple[str, ...]:
    """Technical terms and acronyms without an explanation next to them: brackets, "which is" or "means"."""
    terms = [match for match in re.finditer(r"[\w-]+", text) if match[0].lower() in TECHNICAL_TERMS]
    return tuple(match[0] for match in (*terms, *_ACRONYM.finditer(text)) if not _is_explained(match))


def _is_explained(term: re.Match[str]) -> bool:
    text = term.string
    explains_words_before = text[: term.start()].endswith("(")
    return explains_words_before or re.match(_EXPLAINED, text[term.end() :]) is not None


@lru_cache(_CACHED)
def unclear_numbers(text: str) -> tuple[str, ...]:
    """Fractions and percentages, decimals other than temperatures, numbers spelled out, and numbers without a unit."""
    return (
        *_all_matches(_PART_OF, text),
        *_all_matches(_DECIMAL, _TEMPERATURE.sub("", text)),
        *_all_matches(_SPELLED_WITH_UNIT, text),
        *_all_matches(_DIGITS, _WITH_UNIT.sub("", text)),
    )


def _all_matches(pattern: re.Pattern[str], text: str) -> tuple[str, ...]:
    return tuple(match[0] for match in pattern.finditer(text))


@lru_cache(_CACHED)
def sums(text: str) -> tuple[str, ...]:
    """Words that ask the reader to calculate."""
    return _all_matches(_SUM, text)


@lru_cache(_CACHED)
def chances(text: str) -> tuple[str, ...]:
    """Chances in numbers: "1 in 100", "five out of ten", "3%"."""
    return _all_matches(_CHANCE, text)


def bare_chances(text: str) -> tuple[str, ...]:
    """Chances in numbers, unless the text also says in words how great they are."""
    return () if _CHANCE_IN_WORDS.search(text) else chances(text)


@lru_cache(_CACHED)
def bare_numbers(text: str) -> tuple[str, ...]:
    """Sentences that do not say what their number counts: fewer than two words besides the number and its unit."""
    return tuple(sentence for sentence in sentences(text) if _DIGITS.search(sentence) and len(words(_unnumbered(sentence))) < 2)


def _unnumbered(sentence: str) -> str:
    return _TEMPERATURE.sub("", _NUMBER_AND_UNIT.sub("", sentence))


# Words for when, how often, how or how much. "No" and "never" are among them, since a prohibition always holds.
_DIRECTION = re.compile(
    r"\d|\b(?:until|when|while|before|after|if|for an?|once|now|each|every|morning|noon|night|awake|within|all the time)\b"
    r"|\b(?:with|on pillows|over|only|gently|slowly|by|as (?:you were|your clinic|much|long)|full|no|not|never|nothing)\b",
    re.I,
)


def directs(texts: Iterable[str]) -> bool:
    """Whether one of the texts says what to do and also when, how often, how or how much."""
    return any(acts(text) and _DIRECTION.search(text) for text in texts)


def acts(text: str) -> bool:
    """Whether the text says what to do: a command, or a permission ("You may put your full weight on this leg")."""
    return commands(text) or bool(re.search(r"\byou (?:may|can) (?:\w+ )?\w+", text, re.I))
