"""What a phone needs to write a date just as our paper does, in languages that phones do not know as well."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time
from functools import cache

from babel import Locale
from babel.dates import format_date, format_time

from aftercare.language.languages import Language
from aftercare.language.values import SPACES, day_pattern, joint

# CLDR pattern letters we can pass on, and the name the phone page's script has for each.
_LETTERS = {
    "E": "{weekday}",
    "c": "{weekday}",
    "M": "{month}",
    "L": "{month}",
    "d": "{day}",
    "h": "{hour12}",
    "H": "{hour}",
    "m": "{minute}",
    "a": "{half}",
    "B": "{half}",
}
_TOKEN = re.compile(r"'((?:[^']|'')*)'|([A-Za-z])\2*")


@dataclass(frozen=True, slots=True)
class CalendarWords:
    """How dates are written in a language. `day` and `both` (a day and a time) are patterns with names in braces.

    `weekdays` begin with Sunday as a phone counts them, `months` with January; `halves` are the words for equal parts of a
    day from midnight on: two, or one for each hour where a language names many; empty where the clock runs to 24.
    """

    day: str
    both: str
    weekdays: tuple[str, ...]
    months: tuple[str, ...]
    halves: tuple[str, ...]


@cache
def calendar_words(language: Language) -> CalendarWords:
    """The patterns and names that make the same text as `values.moment`."""
    locale = Locale.parse(language.locale)
    days, clock = day_pattern(locale), str(locale.time_formats["short"].pattern)
    weekday, month = _run("Ec", days), _run("ML", days)
    day, clock_words = _named(days), _named(clock)
    return CalendarWords(
        day=day,
        both=joint(language).replace("{1}", day).replace("{0}", clock_words).translate(SPACES),
        weekdays=tuple(format_date(date(2023, 1, 1 + number), weekday, locale) for number in range(7)),  # 2023 began on Sunday
        months=tuple(format_date(date(2023, number, 1), month, locale) for number in range(1, 13)),
        halves=_halves(clock, locale),
    )


def _halves(clock: str, locale: Locale) -> tuple[str, ...]:
    found = re.search("[aB]+", clock)
    if not found:
        return ()
    hours = (9, 15) if "a" in found[0] else range(24)
    return tuple(format_time(time(hour, 30), found[0], locale=locale) for hour in hours)


def _run(letters: str, pattern: str) -> str:
    """The letters as often as they stand in a pattern: "EEE" of "EEE, MMMM d"."""
    found = re.search(f"[{letters}]+", re.sub(r"'[^']*'", "", pattern))
    if found is None:
        raise ValueError(f"CLDR's pattern '{pattern}' has none of the letters {letters}.")
    return found[0]


def _named(pattern: str) -> str:
    """A CLDR pattern with its letters as names in braces and its quoted words bare (UTS 35, part 4)."""

    def token(match: re.Match[str]) -> str:
        if match[1] is not None:
            return match[1].replace("''", "'") or "'"
        name = _LETTERS[match[2]]
        return "{0" + name[1:] if match[0] in ("HH", "hh") else name

    return _TOKEN.sub(token, pattern)
