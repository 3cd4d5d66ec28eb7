"""The desk as it is checked: with nothing approved, so that the draft marks take their place on every sheet."""

from __future__ import annotations

from pathlib import Path

from aftercare.desk import Desk
from aftercare.places import Places


def open_draft(places: Places, home: Path) -> Desk:
    """The draft desk of a clinic, read anew: what each process that shares a check needs."""
    return Desk.open(places, home).as_draft()
