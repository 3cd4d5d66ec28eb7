"""Tests of the order of values on a right-to-left line, by the Unicode Bidirectional Algorithm (UAX #9) of python-bidi."""

from __future__ import annotations

import re
from datetime import datetime, time

import pytest
from bidi import get_display

from aftercare.errors import Where
from aftercare.language.languages import LANGUAGES, Direction
from aftercare.language.translated import Value
from aftercare.language.values import measure, moment, opening_hours, phone
from aftercare.library.clinic import OpeningHours, Phone
from aftercare.library.figures import Figure

ARABIC = LANGUAGES["ar"]
LRI, RLI, FSI, PDI = "\u2066", "\u2067", "\u2068", "\u2069"
_INVISIBLE = re.compile("[\u2066-\u2069]")


def shown(line: str) -> str:
    """The characters on paper from left to right."""
    return _INVISIBLE.sub("", get_display(line, base_dir="R"))


def isolated(value: Value) -> str:
    """The value isolated as by `<bdi>`: with its direction, or by its first strong letter."""
    start = {Direction.LTR: LRI, Direction.RTL: RLI, None: FSI}[value.direction]
    return f"اتصل: {start}{value.text}{PDI} الآن."


def from_the_right(visual: str) -> list[str]:
    """The words of a line from right to left, as an Arabic reader reads them, with the letters of each in logical order."""
    return [word if re.search(r"[\d°A-Z]", word) else word[::-1] for word in reversed(visual.split())]


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        # The published table of what goes wrong without isolation.
        ("ضع 24-48", "48-24"),
        ("ضع 24–48", "48–24"),
        ("ضع ٢٤-٤٨", "٤٨-٢٤"),
        ("اتصل 555-010-1234", "1234-010-555"),
        ("اتصل +1 555 010 1234", "1234 010 555 1+"),
        ("ضع -5", "5-"),
        ("ضع 10:30", "10:30"),
        ("ضع 03/04/2026", "03/04/2026"),
        ("ضع 2.5", "2.5"),
    ],
)
def test_the_reference_reverses_what_the_published_table_says_it_reverses(raw: str, expected: str) -> None:
    assert expected in shown(raw)


@pytest.mark.parametrize("display", ["(202) 555-0143", "202-555-0143", "+44 20 7946 0018", "911"])
def test_a_phone_number_reads_as_it_is_dialed(display: str) -> None:
    assert display in shown(isolated(phone(Phone(display, "tel:+12025550143"))))


def figure(low: float, high: float, unit: str) -> Figure:
    return Figure("f", low, high, unit, (low, high), "", False, Where(""))


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (15, 20, "minute", ["15–20", "دقيقة"]),
        (2, 3, "day", ["2–3", "أيام"]),
        (1, 2, "day", ["1–2", "يوم"]),
        (24, 48, "hour", ["24–48", "ساعة"]),
        (6, 8, "week", ["6–8", "أسابيع"]),
        (72, 72, "hour", ["72", "ساعة"]),
        (3.5, 7, "minute", ["3.5–7", "دقائق"]),
        (5, 10, "count", ["5–10"]),
    ],
)
def test_a_measure_reads_range_first_then_unit_from_the_right(low: float, high: float, unit: str, words: list[str]) -> None:
    visual = shown(isolated(measure(figure(low, high, unit), ARABIC)))
    assert from_the_right(visual)[1:-1] == words


def test_a_measure_reads_right_even_where_the_page_sets_no_direction() -> None:
    value = measure(figure(15, 20, "minute"), ARABIC)
    assert from_the_right(shown(isolated(Value(value.text, None))))[1:-1] == ["15–20", "دقيقة"]


def test_a_measure_forced_left_to_right_as_a_whole_would_read_unit_first() -> None:
    """Why a measure runs with its language: the control for the tests above."""
    value = measure(figure(15, 20, "minute"), ARABIC)
    assert from_the_right(shown(isolated(Value(value.text, Direction.LTR))))[1:-1] == ["دقيقة", "15–20"]


def test_a_temperature_reads_left_to_right_as_a_thermometer_shows_it() -> None:
    assert "38\u00a0°C (100.4\u00a0°F)" in shown(isolated(measure(figure(38, 38, "celsius"), ARABIC)))


def test_a_date_reads_weekday_day_month_time_from_the_right() -> None:
    visual = shown(isolated(moment(datetime(2026, 11, 25, 14, 30), ARABIC)))  # noqa: DTZ001 - the wall clock
    assert [word.strip("،") for word in from_the_right(visual)[1:-1]] == ["الأربعاء", "25", "نوفمبر", "2:30", "م"]


def test_opening_hours_read_days_then_times_from_the_right() -> None:
    visual = shown(isolated(opening_hours((OpeningHours(0, 4, time(8), time(16, 30)),), ARABIC)))
    assert [word.strip("،") for word in from_the_right(visual)[1:-1]] == [
        "الاثنين", "–", "الجمعة", "8:00", "ص", "–", "4:30", "م"]  # fmt: skip
