"""The desk as it is checked: with nothing approved, so that the draft marks take their place on every sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from aftercare.desk import Desk
from aftercare.language.approval import Approvals
from aftercare.places import Places


def draft(desk: Desk) -> Desk:
    """The same desk with nothing approved: a sheet that fits with its draft marks still fits when they go."""
    return replace(desk, approvals=Approvals())


def open_draft(places: Places, home: Path) -> Desk:
    """The draft desk of a clinic, read anew: what a process of its own needs."""
    return draft(Desk.open(places, home))
