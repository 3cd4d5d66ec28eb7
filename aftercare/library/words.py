"""Words in braces, put in place before translation, so that translators meet whole sentences about one device."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from aftercare.library.body import EXTREMITY, Part
from aftercare.library.devices import Device
from aftercare.library.text import Text

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")

# Values put in after translation besides the figures: see language/speak.
CLINIC_VALUES = ("clinic_name", "clinic_phone", "after_hours_phone", "emergency_number", "clinic_hours")
LANGUAGE_VALUES = ("language_in_english",)
PART_VALUES = ("moving_parts", "held_parts", "tips")


@dataclass(frozen=True, slots=True)
class Words:
    """The replacements by the device's noun, its limb and its extremity, and the names of the parts of the body."""

    nouns: Mapping[str, Mapping[str, str]]
    limbs: Mapping[str, Mapping[str, str]]
    extremities: Mapping[str, Mapping[str, str]]
    parts: Mapping[Part, Text]

    def names(self) -> frozenset[str]:
        """Every word that may stand in braces, in lower case at its start."""
        tables = (*self.nouns.values(), *self.limbs.values(), *self.extremities.values())
        return frozenset(name for table in tables for name in table)

    def fill(self, text: Text, device: Device) -> Text:
        """The text with this device's words; values stay in their braces. A capital in braces gives a capital."""
        if "{" not in text.message:
            return text
        table = (
            self.nouns.get(device.noun, {}),
            self.limbs.get(device.limb, {}),
            self.extremities.get(EXTREMITY[device.limb], {}),
        )

        def word(match: re.Match[str]) -> str:
            name = match[1]
            lowered = name[:1].lower() + name[1:]
            found = next((words[lowered] for words in table if lowered in words), None)
            if found is None:
                return match[0]
            return found[:1].upper() + found[1:] if name[:1].isupper() else found

        return Text(PLACEHOLDER.sub(word, text.message), text.where)


@lru_cache(maxsize=16384)  # every message of every language; the same are asked for with each sheet
def placeholders(message: str) -> tuple[str, ...]:
    """The names in braces, in order."""
    return tuple(PLACEHOLDER.findall(message))
