"""Tests of dates against a table of CLDR's long dates, and of what makes a printed date unambiguous."""

from __future__ import annotations

import calendar
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from babel.dates import format_date, get_day_names

from aftercare.language.languages import LANGUAGES
from aftercare.language.values import day_in_words, moment

# CLDR long dates of 4 March 2026, as published with Babel 2.18's data; U+00A0 in Russian and Ukrainian shown as a space.
LONG_DATES = {
    "en": "March 4, 2026",
    "es": "4 de marzo de 2026",
    "es_US": "4 de marzo de 2026",
    "zh_Hans": "2026年3月4日",
    "vi": "4 tháng 3, 2026",
    "ko": "2026년 3월 4일",
    "ar": "4 مارس 2026",
    "fa": "4 مارس 2026",
    "ur": "4 مارچ، 2026",
    "ru": "4 марта 2026 г.",
    "fil": "Marso 4, 2026",
    "pt": "4 de março de 2026",
    "fr": "4 mars 2026",
    "de": "4. März 2026",
    "pl": "4 marca 2026",
    "uk": "4 березня 2026 р.",
    "bn": "4 মার্চ, 2026",
    "ne": "2026 मार्च 4",
    "my": "2026 မတ် 4",
}
DAY = date(2026, 3, 4)


@pytest.mark.parametrize(("locale", "expected"), LONG_DATES.items())
def test_long_dates_are_those_of_the_table(locale: str, expected: str) -> None:
    assert format_date(DAY, "long", locale=locale).replace("\u00a0", " ").replace("\u202f", " ") == expected


@pytest.mark.parametrize(("locale", "long"), LONG_DATES.items())
def test_dates_have_the_day_and_month_of_the_table_and_the_weekday(locale: str, long: str) -> None:
    written = day_in_words(DAY, locale)
    if locale not in ("zh_Hans", "ko", "vi"):  # there the month is a number with the word for month
        assert max((word.strip(",،.") for word in long.split() if "2026" not in word), key=len) in written
    assert "4" in written
    names = get_day_names("abbreviated", "format", locale), get_day_names("abbreviated", "stand-alone", locale)
    assert any(name[calendar.WEDNESDAY] in written for name in names)
    assert "2026" not in written


@pytest.mark.parametrize(
    ("tag", "expected"),
    [
        ("en", "Wed, November 25, 2:30 PM"),
        ("es", "mié, 25 de noviembre, 2:30 p.m."),
        ("ar", "الأربعاء، 25 نوفمبر، 2:30 م"),
    ],
)
def test_a_moment_is_weekday_day_month_and_time(tag: str, expected: str) -> None:
    when = datetime(2026, 11, 25, 14, 30, tzinfo=ZoneInfo("America/New_York"))
    assert moment(when, LANGUAGES[tag]).text.replace("\u00a0", " ") == expected


@pytest.mark.parametrize("tag", LANGUAGES)
def test_no_date_of_a_year_is_numbers_alone_or_like_another_day_or_in_other_digits(tag: str) -> None:
    days = [date(2026, 1, 1) + timedelta(days=number) for number in range(365)]
    texts = [day_in_words(day, LANGUAGES[tag].locale) for day in days]
    assert len(set(texts)) == len(days)
    for day, text in zip(days, texts, strict=True):
        assert [word for word in text.split() if any(char.isdigit() for char in word)] in ([str(day.day)], [f"{day.day},"])
        assert not any(char.isdigit() and not char.isascii() for char in text)
        assert "/" not in text


def test_the_wall_clock_is_shown_on_both_sides_of_a_clock_change() -> None:
    """US summer time ended on 1 November 2026 at 2:00 (the tz database): 72 hours later, the wall clock shows an hour less."""
    zone = ZoneInfo("America/New_York")
    applied = datetime(2026, 10, 30, 14, 30, tzinfo=zone)
    dry = (applied.astimezone(UTC) + timedelta(hours=72)).astimezone(zone)
    assert moment(dry, LANGUAGES["en"]).text == "Mon, November 2, 1:30\u00a0PM"


def test_haitian_creole_has_french_day_names_in_cldr_so_it_may_not_be_offered_from_this_data() -> None:
    """Known defect of CLDR's data for 'ht'; a language with the day names of another needs its own data."""
    assert get_day_names("wide", locale="ht") == get_day_names("wide", locale="fr")
    names = [tuple(get_day_names("wide", locale=language.locale).values()) for language in LANGUAGES.values()]
    french = tuple(get_day_names("wide", locale="fr").values())
    assert len({*names, french}) == len(names) + 1
