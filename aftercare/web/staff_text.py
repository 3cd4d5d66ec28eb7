"""Texts of content files as staff read them at the desk, where no device and no language is chosen."""

from __future__ import annotations

from collections.abc import Mapping

from aftercare.library.text import Text
from aftercare.library.words import PLACEHOLDER

_NO_VALUES: Mapping[str, str] = {}


def staff_text(text: Text, values: Mapping[str, str] = _NO_VALUES) -> str:
    """The message in plain words: values in place of their names, other names without their braces, no marks for bold."""
    message = PLACEHOLDER.sub(lambda match: values.get(match[1], match[1].replace("_", " ")), text.message)
    return message.replace("**", "")
