"""Checks the translations of all messages of the full sheets."""

from __future__ import annotations

from aftercare.desk import Desk
from aftercare.errors import Problem
from aftercare.language.approval import Approvals
from aftercare.language.extraction import messages_of
from aftercare.language.languages import SOURCE
from aftercare.language.translation_files import status


def language_problems(desk: Desk) -> dict[str, tuple[Problem, ...]]:
    """Return, for each language of the clinic, the problems that prevent sheets in it. English has none."""
    extracted = messages_of(desk.sheets.values())
    return {
        tag: () if tag == SOURCE else status(extracted, desk.messages[tag], Approvals()).problems
        for tag in desk.clinic.languages
    }


def sound_languages(desk: Desk) -> tuple[str, ...]:
    """Return the clinic's languages in which every sheet can be printed."""
    return tuple(tag for tag, problems in language_problems(desk).items() if not problems)
