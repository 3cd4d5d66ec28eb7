"""Replaces words in braces before translation, so that translators get whole sentences about one device."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from aftercare.library.body import EXTREMITY, Part
from aftercare.library.devices import Device
from aftercare.library.text import Text

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")

# Names of the values that are inserted after translation (language/translate.py), besides those of the figures.
OTHER_VALUES = (
    "clinic_name",
    "clinic_phone",
    "after_hours_phone",
    "emergency_number",
    "clinic_hours",
    "language_in_english",
    "moving_parts",
    "held_parts",
    "tips",
)


@dataclass(frozen=True, slots=True)
class Words:
    """The replacements by the device's noun, its limb and its extremity, and the names of the parts of the body."""

    nouns: Mapping[str, Mapping[str, str]]
    limbs: Mapping[str, Mapping[str, str]]
    extremities: Mapping[str, Mapping[str, str]]
    parts: Mapping[Part, Text]

    def names(self) -> frozenset[str]:
        """Every word that is allowed in braces, with a lower-case first letter."""
        tables = (*self.nouns.values(), *self.limbs.values(), *self.extremities.values())
        return frozenset(name for table in tables for name in table)

    def fill(self, text: Text, device: Device) -> Text:
        """Insert this device's words; values stay in their braces. A capital first letter in braces gives a capital."""
        if "{" not in text.message:
            return text
        tables = (
            self.nouns.get(device.noun, {}),
            self.limbs.get(device.limb, {}),
            self.extremities.get(EXTREMITY[device.limb], {}),
        )

        def word(match: re.Match[str]) -> str:
            name = match[1]
            lowered = name[:1].lower() + name[1:]
            replacement = next((words[lowered] for words in tables if lowered in words), None)
            if replacement is None:
                return match[0]
            return replacement[:1].upper() + replacement[1:] if name[:1].isupper() else replacement

        return Text(PLACEHOLDER.sub(word, text.message), text.where)


@lru_cache(maxsize=16384)  # more than the messages of all languages; every sheet has mostly the same ones
def placeholders(message: str) -> tuple[str, ...]:
    """The names in braces, in order."""
    return tuple(PLACEHOLDER.findall(message))
