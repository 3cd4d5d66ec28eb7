"""Formats values as a language writes them: measures, temperatures, dates, opening hours, lists and phones, from CLDR's data.

The parts of a value are in the same order on a line of either direction (UAX #9): phones and temperatures run left to right
as a whole; a measure with a unit word runs with the language, and only its range is isolated.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, time
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, lru_cache, reduce

from babel import Locale
from babel.dates import format_date, format_time, get_day_names, match_skeleton
from babel.numbers import format_decimal

from aftercare.language.languages import Direction, Language
from aftercare.language.translated import Value
from aftercare.library.clinic import OpeningHours, Phone
from aftercare.library.figures import Figure

_NBSP = "\u00a0"
# CLDR puts a narrow or thin space before "PM" and around a dash; the shipped fonts have neither.
SPACES = str.maketrans({"\u202f": _NBSP, "\u2009": " "})
# Vowel marks are not part of ordinary spelling, and fonts draw them with glyphs that a PDF cannot map back to letters.
_VOWEL_SIGNS = re.compile("[\u064b-\u0652]")
_ISOLATED = "\u2066{}\u2069"  # left-to-right isolate


@lru_cache(maxsize=4096)
def measure(figure: Figure, language: Language) -> Value:
    """Format a figure with its unit: "72 hours", "15–20 minutes", "38 °C (100.4 °F)", or for a count the bare number."""
    number = _range(figure.low, figure.high, language.locale)
    if figure.unit == "celsius":
        return Value(_temperature(figure, language.locale), Direction.LTR)
    if figure.unit == "count":
        return Value(number, Direction.LTR)
    text = _with_unit(number, figure, language.locale)
    if language.direction is Direction.RTL and figure.low != figure.high:
        text = text.replace(number, _ISOLATED.format(number))
    return Value(_VOWEL_SIGNS.sub("", text), language.direction)


def _range(low: float | Decimal, high: float | Decimal, locale: str) -> str:
    """Format one number, or two with an en dash, in Latin digits in every language, as phones and clocks show them."""
    ends = dict.fromkeys((low, high))
    return "–".join(format_decimal(end, locale=locale, numbering_system="latn") for end in ends)


def _with_unit(number: str, figure: Figure, locale_name: str) -> str:
    """The number in the long form of its unit, in the plural form of the range's end.

    Babel's `format_unit` gives "7 duration-day" in Arabic: CLDR leaves out a long form that equals the short one (UTS 35,
    part 1, lateral inheritance) and Babel does not look there. Falling back to its short form would lose the plural forms that
    only the long one has ("11 weeks" with the form for 3 to 10). So the patterns are read from Babel's data, long before short.
    """
    locale = Locale.parse(locale_name)
    patterns = locale._data["unit_patterns"][f"duration-{figure.unit}"]
    category = locale.plural_form(figure.high)
    pattern = _long_or_short(patterns, category)
    if "{0}" not in pattern and figure.low != figure.high:  # Arabic says "two days" in one word; a range needs its digits
        pattern = _long_or_short(patterns, "other")
    if locale.language == "ar" and category == "two":
        # CLDR gives the nominative. On sheets a measure follows "every", "after", "wait", which require the oblique case.
        pattern = re.sub("ان$", "ين", pattern)
    return pattern.replace("{0}", number)


def _long_or_short(patterns: dict[str, dict[str, str]], category: str) -> str:
    """The pattern for a plural category, else for "other"; long before short."""
    candidates = (patterns.get(length, {}).get(form) for form in (category, "other") for length in ("long", "short"))
    return next(pattern for pattern in candidates if pattern)


def _temperature(figure: Figure, locale: str) -> str:
    """Both scales, since thermometers show either; Fahrenheit is computed and rounded to a tenth (1 °C is 9/5 °F)."""
    celsius = [Decimal(str(end)) for end in (figure.low, figure.high)]
    fahrenheit = [(end * 9 / 5 + 32).quantize(Decimal("0.1"), ROUND_HALF_UP) for end in celsius]
    low_c, high_c = _range(celsius[0], celsius[1], locale), _range(fahrenheit[0], fahrenheit[1], locale)
    return f"{low_c}{_NBSP}°C ({high_c}{_NBSP}°F)"


def day_in_words(day: date, locale_name: str) -> str:
    """Format a day with its weekday and month as words: "Wed, November 25". Numbers alone would read 3/4 as 4/3.

    CLDR's nearest pattern may hold other widths; UTS 35 (part 4, matching skeletons) says to adjust them. The weekday is
    the short one, so that a day with its time fits on one line of a table cell on paper.
    """
    locale = Locale.parse(locale_name)
    return format_date(day, day_pattern(locale), locale=locale).translate(SPACES)


@cache
def day_pattern(locale: Locale) -> str:
    """CLDR's pattern for a short weekday, a full month and a day: "EEE, MMMM d"."""
    skeleton = match_skeleton("MMMMEd", locale.datetime_skeletons)
    pattern: str = locale.datetime_skeletons[skeleton].pattern
    pattern = re.sub(r"E+|c+", lambda name: name[0][0] * 3, pattern)
    return re.sub(r"M{3,}|L{3,}", lambda name: name[0][0] * 4, pattern)


def _clock(at: time, locale: str) -> str:
    return format_time(at, "short", locale=locale).translate(SPACES)


def moment(when: datetime | date, language: Language) -> Value:
    """Format a day, with its wall-clock time where `when` is a datetime."""
    day = day_in_words(when, language.locale)
    if not isinstance(when, datetime):
        return Value(day, language.direction)
    # Babel would convert a time with a zone to another zone.
    clock = _clock(when.replace(tzinfo=None).time(), language.locale)
    return Value(date_time_pattern(language).replace("{1}", day).replace("{0}", clock).translate(SPACES), language.direction)


def date_time_pattern(language: Language) -> str:
    """CLDR's pattern that joins a day `{1}` and a time of day `{0}`: "{1}, {0}"."""
    pattern: str = Locale.parse(language.locale).datetime_formats["medium"]
    return pattern


@lru_cache
def opening_hours(hours: tuple[OpeningHours, ...], language: Language) -> Value:
    """Format days and times: "Monday – Friday, 8:00 AM – 4:30 PM; Saturday, 9:00 AM – 12:00 PM"."""
    days = get_day_names("wide", "stand-alone", language.locale)
    comma, semicolon = ("، ", "؛ ") if language.direction is Direction.RTL else (", ", "; ")
    parts = []
    for opening in hours:
        span = " – ".join(dict.fromkeys((days[opening.first], days[opening.last])))
        clocks = f"{_clock(opening.opens, language.locale)} – {_clock(opening.closes, language.locale)}"
        parts.append(f"{span}{comma}{clocks}")
    return Value(semicolon.join(parts), language.direction)


def listing(names: Sequence[str], language: Language) -> Value:
    """Join names: "thumb, index finger, middle finger".

    Uses the middle of CLDR's list pattern throughout. Its end would add "and", which Spanish must change to "e"
    before some words and CLDR does not.
    """
    middle = Locale.parse(language.locale).list_patterns["standard"]["middle"]
    return Value(
        reduce(lambda left, right: middle.replace("{0}", left).replace("{1}", right), names or ("",)), language.direction
    )


def phone(number: Phone) -> Value:
    """A phone number as the clinic writes it, in the order it is dialed."""
    return Value(number.display, Direction.LTR, number.tel)
