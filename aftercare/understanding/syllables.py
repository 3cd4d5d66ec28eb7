"""Syllables of an English word, by rule: no dictionary is needed at run time.

The rules are those of ordinary spelling: groups of vowels, less silent ones, plus neighbors spoken apart. Words of ours
that they miscount stand in a table. The tests compare with a pronouncing dictionary, whose smallest count for a word is
taken as right: "every" has two, "hour" one.
"""

from __future__ import annotations

import re
from functools import lru_cache

_EXCEPTIONS = {
    "coaptation": 4,
    "diabetes": 4,
    "diaper": 2,
    "diapers": 2,
    "every": 2,
    "everyone": 3,
    "everything": 3,
    "evening": 2,
    "evenings": 2,
    "foam": 1,
    "general": 2,
    "posterior": 3,
}

_VOWELS = re.compile("[aeiouy]+")

# An "e" that is written but not spoken.
_SILENT = re.compile(
    r"""
      (?<=[^aeiouy])e$ (?<![^aeiouyrlw]le)                                     # take; but ta-ble
    | (?<=[^aeioucsxzg]) (?<!ch) (?<!sh) es$ (?<![^aeiouyrlw]les)              # takes; but pla-ces, wa-shes, ta-bles
    | (?<=[^aeioutd]) ed$                                                      # moved; but wai-ted
    | (?<=[^aeiouy]) e (?=(?:ly|ments?|ful|less|ness|where|thing|body|times?)$)  # safe-ly, some-where
    """,
    re.VERBOSE,
)
# Neighboring vowels spoken apart, and a syllable without a vowel letter.
_APART = re.compile(
    r"""
      i(?:a(?!ge|n$|l$|ns$)|(?<![tscgxn]i)a)     # di-al; but mar-riage, spe-cial
    | (?<![tscgx])io(?!u)                        # vi-olin; but na-tion
    | iu[ms]                                     # radi-us
    | (?<=[^qg])u(?:a|ou|i(?:ng|ty))             # usu-al; but qua-lity
    | eo(?!p|u|n)                                # vide-o; but peo-ple
    | y(?:ing|a) | (?<=[aeo])ing$                # try-ing, go-ing
    | (?<=[^aeiou])ie(?:r|st)s?$                 # dri-er
    | (?:(?<=[^aeiou])|a)yers?$                  # dry-er, lay-er
    | [aiou]sms?$ | rhythm                       # spas-m
    """,
    re.VERBOSE,
)


@lru_cache(maxsize=8192)  # the words of all sheets several times over
def syllables(word: str) -> int:
    """How many syllables a word has, at least one. A hyphen joins two words; "'s" adds none of its own."""
    if "-" in word:
        return sum(syllables(part) for part in word.split("-") if part)
    plain = re.sub(r"'s$|[^a-z]", "", word.lower())
    spoken = _VOWELS.findall(_SILENT.sub("", plain))
    return _EXCEPTIONS.get(plain) or max(1, len(spoken) + len(_APART.findall(plain)))
