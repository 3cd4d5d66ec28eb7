"""Opens the desk for a check: with nothing approved, so that every sheet has its draft marks and takes the most space."""

from __future__ import annotations

from pathlib import Path

from aftercare.desk import Desk
from aftercare.places import Places


def open_draft(places: Places, home: Path) -> Desk:
    """Open the draft desk of a clinic, once in each process of a check. Raises Refused as `Desk.open` does."""
    return Desk.open(places, home).as_draft()
