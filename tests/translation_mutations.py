"""Dangerous changes to a translation: a lost number, a lost negation, another unit."""

from __future__ import annotations

import itertools
import re

# What each mutation drops or changes, by language; the patterns are written apart from the tables they test.
NEGATIVES = {"es": r"\b[Nn]o |\bsin |Nunca |Nada ", "ar": r"(?<!\w)(?:لا|لم|دون) "}
HOURS_TO_DAYS = {
    "es": [("horas", "días"), ("hora", "día"), ("minutos", "horas"), ("días", "horas")],
    "ar": [("ساعة", "يوم"), ("دقيقتين", "ساعتين"), ("أيام", "ساعات")],
}


def mutations(tag: str, text: str) -> dict[str, set[str]]:
    """The mutations that published criteria ask a gate to catch, by kind."""
    digits, numbers = list(re.finditer(r"\d", text)), list(re.finditer(r"\d+", text))
    found = {
        "digit changed": {text[: m.start()] + str((int(m[0]) + 3) % 10) + text[m.end() :] for m in digits},
        "number dropped": {text[: m.start()] + text[m.end() :] for m in numbers},
        "numbers swapped": {
            text[: a.start()] + b[0] + text[a.end() : b.start()] + a[0] + text[b.end() :]
            for a, b in itertools.pairwise(numbers)
        },
        "negation dropped": {text[: m.start()] + text[m.end() :] for m in re.finditer(NEGATIVES[tag], text)},
        "unit replaced": {re.sub(rf"(?<!\w){old}(?!\w)", new, text) for old, new in HOURS_TO_DAYS[tag]},
        "value dropped": {text.replace(m[0], "", 1) for m in re.finditer(r"\{\w+\}", text)},
    }
    return {kind: mutants - {text} for kind, mutants in found.items()}
