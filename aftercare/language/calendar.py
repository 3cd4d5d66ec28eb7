"""Patterns and names with which a phone writes dates like the printed sheet, also in languages that browsers do not support."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time
from functools import cache

from babel import Locale
from babel.dates import format_date, format_time

from aftercare.language.languages import Language
from aftercare.language.values import SPACES, date_time_pattern, day_pattern

# The supported CLDR pattern letters, and what templates/phone/dates.js replaces for each.
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
    """The patterns and names that give the same text as `values.moment`. Raises KeyError for an unsupported pattern letter."""
    locale = Locale.parse(language.locale)
    days, clock = day_pattern(locale), str(locale.time_formats["short"].pattern)
    weekday, month = _letter_run("Ec", days), _letter_run("ML", days)
    day, time_of_day = _with_names(days), _with_names(clock)
    return CalendarWords(
        day=day,
        both=date_time_pattern(language).replace("{1}", day).replace("{0}", time_of_day).translate(SPACES),
        weekdays=tuple(format_date(date(2023, 1, 1 + number), weekday, locale) for number in range(7)),  # 2023 began on Sunday
        months=tuple(format_date(date(2023, number, 1), month, locale) for number in range(1, 13)),
        halves=_halves(clock, locale),
    )


def _halves(clock: str, locale: Locale) -> tuple[str, ...]:
    """The words for parts of the day that a CLDR time pattern uses, in the order of `CalendarWords.halves`."""
    match = re.search("[aB]+", clock)
    if not match:
        return ()
    hours = (9, 15) if "a" in match[0] else range(24)
    return tuple(format_time(time(hour, 30), match[0], locale=locale) for hour in hours)


def _letter_run(letters: str, pattern: str) -> str:
    """The first run of these letters in a CLDR pattern: "EEE" in "EEE, MMMM d". Raises ValueError where there is none."""
    match = re.search(f"[{letters}]+", re.sub(r"'[^']*'", "", pattern))
    if match is None:
        raise ValueError(f"CLDR's pattern '{pattern}' has none of the letters {letters}.")
    return match[0]


def _with_names(pattern: str) -> str:
    """A CLDR pattern with names in braces for its letters, and without the quotes around literal words (UTS 35, part 4)."""

    def token(match: re.Match[str]) -> str:
        if match[1] is not None:
            return match[1].replace("''", "'") or "'"
        name = _LETTERS[match[2]]
        return "{0" + name[1:] if match[0] in ("HH", "hh") else name

    return _TOKEN.sub(token, pattern)
