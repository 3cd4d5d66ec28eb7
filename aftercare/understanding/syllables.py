"""Counts the syllables of an English word by rules of spelling, so that no dictionary is needed at run time.

A word has one syllable for each group of vowels, minus silent vowels, plus neighboring vowels that are spoken separately.
`_EXCEPTIONS` lists the words of our content that these rules miscount. The tests compare with a pronouncing dictionary, in
which a word may have several counts; the smallest is taken as correct: two for "every", one for "hour".
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

# An "e" that is not spoken.
_SILENT = re.compile(
    r"""
      (?<=[^aeiouy])e$ (?<![^aeiouyrlw]le)                                     # take; but ta-ble
    | (?<=[^aeioucsxzg]) (?<!ch) (?<!sh) es$ (?<![^aeiouyrlw]les)              # takes; but pla-ces, wa-shes, ta-bles
    | (?<=[^aeioutd]) ed$                                                      # moved; but wai-ted
    | (?<=[^aeiouy]) e (?=(?:ly|ments?|ful|less|ness|where|thing|body|times?)$)  # safe-ly, some-where
    """,
    re.VERBOSE,
)
# Neighboring vowels that are spoken separately, and a syllable without a vowel letter.
_SEPARATE = re.compile(
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


@lru_cache(maxsize=4096)  # all sheets without options together have about 600 different words (measured)
def syllables(word: str) -> int:
    """The number of syllables of a word, at least one. A hyphen joins two words; "'s" adds no syllable."""
    if "-" in word:
        return sum(syllables(part) for part in word.split("-") if part)
    plain = re.sub(r"'s$|[^a-z]", "", word.lower())
    groups = _VOWELS.findall(_SILENT.sub("", plain))
    return _EXCEPTIONS.get(plain) or max(1, len(groups) + len(_SEPARATE.findall(plain)))
