"""Tests that the patterns and names in a phone page give the same dates as paper, in languages of every kind."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from aftercare.language.calendar import calendar_words
from aftercare.language.languages import LANGUAGES
from aftercare.language.values import moment

# The languages we ship, and locales that put weekday, month and half of the day elsewhere or quote words in their patterns.
LOCALES = [language.locale for language in LANGUAGES.values()]
LOCALES += [
    "fr",
    "pt",
    "de",
    "ru",
    "pl",
    "uk",
    "zh_Hans",
    "zh_Hant",
    "ja",
    "ko",
    "vi",
    "th",
    "so",
    "ur",
    "fa",
    "bn",
    "hi",
    "ne",
    "am",
    "km",
]


def written(pattern: str, when: datetime, locale: str) -> str:
    """The text that the page's script makes from a pattern."""
    words = calendar_words(replace(LANGUAGES["en"], locale=locale))
    names: dict[str, str] = {
        "weekday": words.weekdays[(when.weekday() + 1) % 7],
        "month": words.months[when.month - 1],
        "day": str(when.day),
        "hour": str(when.hour),
        "0hour": f"{when.hour:02}",
        "hour12": str(when.hour % 12 or 12),
        "0hour12": f"{when.hour % 12 or 12:02}",
        "minute": f"{when.minute:02}",
    }
    if words.halves:
        names["half"] = words.halves[when.hour * len(words.halves) // 24]
    return re.sub(r"\{(\w+)\}", lambda match: names[match[1]], pattern)


@pytest.mark.parametrize("locale", dict.fromkeys(LOCALES))
def test_every_hour_of_every_month_is_written_as_on_paper(locale: str) -> None:
    language = replace(LANGUAGES["en"], locale=locale)
    words = calendar_words(language)
    start = datetime(2026, 1, 1, 0, 5)  # noqa: DTZ001 - the clock on the wall, as both faces show it

    for step in range(370):
        when = start + timedelta(hours=25 * step)
        assert written(words.both, when, locale) == moment(when, language).text
        assert written(words.day, when, locale) == moment(when.date(), language).text
