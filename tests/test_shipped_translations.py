"""Tests of the shipped translations: each is a valid PO file, up to date, and sound."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.language.extraction import messages_of, update_po
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.messages import Messages, read_messages
from aftercare.language.safety import unsafe
from aftercare.library.catalogue import Library
from aftercare.sheet.compose import arrange_all
from tests.translation_mutations import mutations

TAGS = [tag for tag in LANGUAGES if tag != SOURCE]


def text_of(checkout: Path, tag: str) -> str:
    return (checkout / "translations" / f"{tag}.po").read_text(encoding="utf-8")


def shipped(checkout: Path, tag: str) -> Messages:
    return read_messages(text_of(checkout, tag), f"translations/{tag}.po")


@pytest.mark.parametrize("tag", TAGS)
def test_the_file_is_as_update_po_writes_it(checkout: Path, library: Library, tag: str) -> None:
    """A changed English sentence fails here, not at the desk."""
    text = text_of(checkout, tag)
    assert update_po(text, messages_of(arrange_all(library)), LANGUAGES[tag]) == text


@pytest.mark.parametrize("tag", TAGS)
def test_every_message_has_a_sound_translation(checkout: Path, library: Library, tag: str) -> None:
    messages = shipped(checkout, tag)
    assert [str(problem) for text in messages_of(arrange_all(library)) for problem in messages.faults(text.message)] == []


@pytest.mark.parametrize("tag", TAGS)
def test_nearly_every_dangerous_mutation_of_a_shipped_sentence_is_caught(checkout: Path, tag: str) -> None:
    """The mutation test of published criteria: at least 99 in 100 must be flagged."""
    mutants = [
        (entry, mutant)
        for entry in shipped(checkout, tag).entries.values()
        for changed in mutations(tag, entry.translation).values()
        for mutant in changed
    ]
    passed = [mutant for entry, mutant in mutants if not unsafe(entry.message, mutant, tag, entry.reviewed)]
    assert len(mutants) > 100
    assert len(passed) <= len(mutants) / 100, passed
