"""Rules of English that a program can follow: voice, commands, long words, trade words, numbers and sums.

Each works by lists of words and may be wrong; a word it does not know shows up as an offence and is looked at by a person.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from aftercare.understanding.syllables import syllables


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")

# Past participles without -ed that a sheet may hold.
_IRREGULAR = (
    "bent|bound|broken|brought|built|caught|cut|done|felt|found|given|held|hidden|hurt|kept|known|left|lost|made|met|put|"
    "read|said|seen|set|shown|shut|stuck|swollen|taken|taught|told|torn|understood|worn|written"
)
# A form of "be" or "get", perhaps a word between, and a participle.
_PASSIVE = re.compile(
    rf"\b(?:am|is|are|was|were|be|been|being|gets?|got|getting)\s+(?:not\s+|\w+ly\s+)?(?:\w+[^e\W]ed|{_IRREGULAR})\b", re.I
)

# Verbs with which advice begins. A new one is shown as an offence until it stands here.
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

# Four syllables and more, yet spoken by everybody: the sign over the door, and whom to ask for another language.
_LONG_BUT_USUAL = _words("emergency interpreter")
# A word of this many syllables is seldom an everyday one. (Three would forbid "medicine", "fingertip" and "holidays".)
_LONG = 4

# Words of the trade that have a plain one, or need explaining.
TRADE = _words(
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
# A number with its unit behind it, or under a lead that names what is counted ("How many times: 5–10").
_WITH_UNIT = re.compile(rf"{_NUMBER}\s*(?:(?:{_UNIT})s?\b|°[CF])|\btimes[^.:]*:\s*{_NUMBER}", re.I)
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


@lru_cache(maxsize=8192)  # sheets share most of their sentences
def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text."""
    return tuple(part for part in _SENTENCE.split(text.strip()) if part)


@lru_cache(maxsize=8192)
def words(text: str) -> tuple[str, ...]:
    """Its words and numbers; signs are none."""
    return tuple(part for part in text.split() if re.search(r"\w|…", part))


@lru_cache(maxsize=8192)
def passive(sentence: str) -> str:
    """The words that make a sentence passive; empty where it is not, as far as a pattern can tell."""
    found = _PASSIVE.search(sentence)
    return found[0] if found else ""


@lru_cache(maxsize=8192)
def commands(text: str) -> bool:
    """Whether some clause begins with the verb of a command."""
    return any(_commands(clause) for clause in re.split(r"[.,:;?!]\s+", text))


def _commands(clause: str) -> bool:
    found = [word.lower() for word in _WORD.findall(clause)]
    if found[:1] == ["do"]:
        return True
    rest = [*found]
    while rest and rest[0] in _BEFORE_VERB:
        rest.pop(0)
    return bool(rest) and rest[0] in _VERBS and found[0] != "if"


def addresses_reader(text: str) -> bool:
    """Whether it says "you" or commands."""
    return bool(re.search(r"\byou(?:r|rs|rself)?\b", text, re.I)) or commands(text)


def speaks_of_others(text: str) -> str:
    """Words that make the reader a third person."""
    found = re.search(r"\bpatients?\b|\bthe user\b|\bhe or she\b|\bhe/she\b|\bone should\b", text, re.I)
    return found[0] if found else ""


def long_words(text: str) -> Iterator[str]:
    """Words too long to be everyday ones. The parts of a hyphened word are words."""
    for word in _WORD.findall(text):
        if syllables(word) >= _LONG and word.lower() not in _LONG_BUT_USUAL:
            yield word


def unexplained(text: str) -> Iterator[str]:
    """Trade words and acronyms that are not explained where they stand: by a bracket, or by "which is", "means"."""
    terms = [match for match in re.finditer(r"[\w-]+", text) if match[0].lower() in TRADE]
    for match in (*terms, *_ACRONYM.finditer(text)):
        in_bracket = text[: match.start()].endswith("(")  # what stands before the bracket explains it
        if not in_bracket and not re.match(_EXPLAINED, text[match.end() :]):
            yield match[0]


def unclear_numbers(text: str) -> Iterator[str]:
    """Numbers that are hard to take in: parts and per cents, decimals (but a temperature), spelled out, without a unit."""
    yield from (match[0] for match in _PART_OF.finditer(text))
    yield from (match[0] for match in re.finditer(r"\d+\.\d+", _TEMPERATURE.sub("", text)))
    yield from (match[0] for match in re.finditer(rf"\b(?:{_SPELLED})\b[ -](?:to \w+ )?(?:{_UNIT})s?\b", text, re.I))
    yield from (match[0] for match in re.finditer(r"\d+", _WITH_UNIT.sub("", text)))


def sums(text: str) -> Iterator[str]:
    """Words that ask the reader to calculate."""
    yield from (match[0] for match in _SUM.finditer(text))


def bare_chances(text: str) -> Iterator[str]:
    """Chances in numbers in a text that does not say in words how great they are."""
    if not _CHANCE_IN_WORDS.search(text):
        yield from chances(text)


def chances(text: str) -> Iterator[str]:
    """Chances in numbers: "1 in 100", "five out of ten", "3%"."""
    yield from (match[0] for match in _CHANCE.finditer(text))


def bare_numbers(text: str) -> Iterator[str]:
    """Sentences with a number that do not say what the number is of: fewer than two words besides it and its unit."""
    for sentence in sentences(text):
        rest = _TEMPERATURE.sub("", re.sub(rf"{_NUMBER}\s*(?:{_UNIT})s?", "", sentence))
        if re.search(r"\d", sentence) and len(words(rest)) < 2:
            yield sentence


# When, how often, how or how much. What is forbidden is so always: "no", "never" say when, too.
_DIRECTION = re.compile(
    r"\d|\b(?:until|when|while|before|after|if|for an?|once|now|each|every|morning|noon|night|awake|within|all the time)\b"
    r"|\b(?:with|on pillows|over|only|gently|slowly|by|as (?:you were|your clinic|much|long)|full|no|not|never|nothing)\b",
    re.I,
)


def directs(texts: Iterable[str]) -> bool:
    """Whether something to do says also when, how often, how or how much."""
    return any(acts(text) and _DIRECTION.search(text) for text in texts)


def acts(text: str) -> bool:
    """Whether it says what to do: a command, or what the reader may do ("You may put your full weight on this leg")."""
    return commands(text) or bool(re.search(r"\byou (?:may|can) (?:\w+ )?\w+", text, re.I))
