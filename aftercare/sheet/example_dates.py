"""Adds example dates to choices, so that checks cover every date that a sheet can show."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from aftercare.library.devices import Removal
from aftercare.sheet.choices import Choices, Side


def with_example_dates(choices: Choices, zone: ZoneInfo) -> Choices:
    """Set a side and every date that the choices can have, in the clinic's time zone."""
    applied = datetime(2026, 9, 23, 12, 30, tzinfo=zone)  # a Wednesday in September: the longest names in English
    side = Side.RIGHT if choices.device.sided else None
    removed_at_home = choices.device.removal is not Removal.NEVER or any(option.needs_removal for option in choices.options)
    removal = (applied + timedelta(weeks=4)).date() if removed_at_home else None
    return replace(choices, side=side, applied=applied, visit=applied + timedelta(weeks=1), removal=removal)
