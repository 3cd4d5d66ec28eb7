"""Tests of the dates that are computed from the time of application.

Clock changes are those of the IANA tz database: New York goes from UTC-5 to UTC-4 on 8 March 2026 at 2:00 and back on
1 November at 2:00; London from UTC+0 to UTC+1 on 29 March 2026 at 1:00 and back on 25 October at 2:00.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from aftercare.errors import Fault, Refused
from aftercare.library.catalogue import Library
from aftercare.library.figures import Figure
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import Schedule, schedule
from aftercare.sheet.validate import Picked, choose
from tests.composed import sheet_of
from tests.small_world import FILES, small_library

NEW_YORK, LONDON = ZoneInfo("America/New_York"), ZoneInfo("Europe/London")
PUT_ON = "2026-11-25T14:30"
AT = datetime(2026, 11, 25, 14, 30, tzinfo=NEW_YORK)
MENTIONED = frozenset({"ice_days", "raise_hours"})


def chosen(library: Library, device: str, material: str, *options: str, weight: str = "", visit: str = "") -> Choices:
    return choose(library, Picked(device, material, options=options, weight=weight, applied=PUT_ON, visit=visit))


def dates(library: Library, device: str, material: str, *options: str, weight: str = "", visit: str = "") -> Schedule:
    return sheet_of(library, chosen(library, device, material, *options, weight=weight, visit=visit)).schedule


@pytest.mark.parametrize(
    ("zone", "applied", "fold", "dry_by"),
    [
        # Three days of plaster drying are 72 hours that pass: an hour later on the clock in spring, an hour earlier in fall.
        (NEW_YORK, "2026-03-07T10:00", 0, "2026-03-10T11:00"),
        (NEW_YORK, "2026-10-30T10:00", 0, "2026-11-02T09:00"),
        (LONDON, "2026-03-28T10:00", 0, "2026-03-31T11:00"),
        (LONDON, "2026-10-24T10:00", 0, "2026-10-27T09:00"),
        # Put on in the hour that comes twice: the first time and the second are an hour apart.
        (NEW_YORK, "2026-11-01T01:30", 0, "2026-11-04T00:30"),
        (NEW_YORK, "2026-11-01T01:30", 1, "2026-11-04T01:30"),
        # No change in between.
        (NEW_YORK, "2026-06-01T10:00", 0, "2026-06-04T10:00"),
    ],
)
def test_elapsed_hours_are_counted_across_a_clock_change(
    library: Library, zone: ZoneInfo, applied: str, fold: int, dry_by: str
) -> None:
    put_on = datetime.fromisoformat(applied).replace(tzinfo=zone, fold=fold)
    choices = Choices(library.devices["short-arm-cast"], library.materials["plaster-rolled"], applied=put_on)
    computed = schedule(choices, library.figures, MENTIONED)
    assert computed.dry_by == datetime.fromisoformat(dry_by).replace(tzinfo=zone)
    assert computed.dry_by.astimezone(UTC) - put_on.astimezone(UTC) == timedelta(hours=72)


def test_a_date_is_in_the_clinics_time_zone(library: Library) -> None:
    choices = Choices(
        library.devices["short-arm-cast"], library.materials["fiberglass"], applied=datetime(2026, 3, 28, 23, 30, tzinfo=LONDON)
    )
    computed = schedule(choices, library.figures, MENTIONED)
    assert computed.dry_by == datetime(2026, 3, 29, 0, 30, tzinfo=LONDON)
    assert computed.dry_by.tzinfo is LONDON


# Plymouth and Leeds leaflets: plaster is dry after up to 72 hours, the longest in print and so the safe end.
def test_plaster_is_dry_after_three_days(library: Library) -> None:
    assert dates(library, "short-arm-cast", "plaster-rolled").dry_by == AT + timedelta(days=3)


# Yeovil and Plymouth leaflets: fiberglass is at full strength after an hour.
def test_fiberglass_is_hard_after_an_hour(library: Library) -> None:
    assert dates(library, "short-arm-cast", "fiberglass").dry_by == AT + timedelta(minutes=60)


def test_a_material_without_drying_has_no_date_for_it(library: Library) -> None:
    assert dates(library, "tall-walker-boot", "walker-boot", weight="full").dry_by is None


@pytest.mark.parametrize("weight", ["touch", "partial", "as-comfortable", "full"])
def test_weight_on_plaster_waits_three_days_once_it_is_ordered(library: Library, weight: str) -> None:
    """Leaflets give 24 to 72 hours; the sheet takes the longest."""
    assert dates(library, "short-leg-walking-cast", "plaster-rolled", weight=weight).walk_from == AT + timedelta(days=3)


def test_weight_on_fiberglass_waits_an_hour_once_it_is_ordered(library: Library) -> None:
    """Orthopedic academy advice: one hour; North Tees: 30 minutes; a hospital leaflet: 2 hours."""
    assert dates(library, "short-leg-walking-cast", "fiberglass", weight="full").walk_from == AT + timedelta(hours=1)


def test_walking_may_wait_longer_than_drying(tmp_path: Path) -> None:
    figures = FILES["figures.yaml"] + "walk_hours: {value: 96, unit: hour, published: [24, 96], source: a leaflet}\n"
    plaster = FILES["materials/plaster.md"].replace("walk-after: plaster_dry_hours", "walk-after: walk_hours")
    world = small_library(tmp_path, {"figures.yaml": figures, "materials/plaster.md": plaster})
    computed = dates(world, "leg-cast", "plaster", weight="full")
    assert (computed.dry_by, computed.walk_from) == (AT + timedelta(hours=72), AT + timedelta(hours=96))


def test_without_an_order_to_walk_there_is_no_date_to_walk_from(library: Library) -> None:
    assert dates(library, "short-leg-cast", "plaster-rolled", weight="none").walk_from is None


def test_an_arm_has_no_date_to_walk_from(library: Library) -> None:
    assert dates(library, "short-arm-cast", "plaster-rolled").walk_from is None


# Leaflets give ice for 48 to 72 hours, raising for 24 hours to a week; the sheet ends both at three days.
def test_ice_and_raising_end_after_three_days(library: Library) -> None:
    computed = dates(library, "short-arm-cast", "fiberglass")
    assert computed.ice_until == AT + timedelta(days=3)
    assert computed.raise_until == AT + timedelta(hours=72)


@pytest.mark.parametrize("option", ["less-feeling", "poor-circulation"])
def test_a_sheet_with_no_ice_has_no_date_for_ice(library: Library, option: str) -> None:
    """Skin that cannot feel the cold, or has little blood: no ice (common practice, from memory)."""
    assert dates(library, "short-arm-cast", "fiberglass", option).ice_until is None


def test_no_date_for_ice_or_raising_without_advice_on_it(library: Library) -> None:
    computed = schedule(chosen(library, "short-arm-cast", "fiberglass"), library.figures, frozenset())
    assert (computed.ice_until, computed.raise_until) == (None, None)


def test_each_wait_takes_the_longer_end_of_its_figure(tmp_path: Path) -> None:
    figures = FILES["figures.yaml"].replace("ice_days: {value: 2,", "ice_days: {value: [2, 3],")
    world = small_library(tmp_path, {"figures.yaml": figures})
    assert dates(world, "arm-cast", "plaster").ice_until == AT + timedelta(days=3)


def test_without_the_time_of_application_there_are_no_dates(library: Library) -> None:
    choices = choose(library, Picked("short-leg-walking-cast", "fiberglass", weight="full"))
    assert sheet_of(library, choices).schedule == Schedule()


def test_the_visit_and_the_day_of_removal_are_unchanged(library: Library) -> None:
    choices = replace(chosen(library, "short-arm-cast", "fiberglass", visit="2026-12-02T09:00"), removal=date(2026, 12, 23))
    computed = schedule(choices, library.figures, MENTIONED)
    assert computed.visit == datetime(2026, 12, 2, 9, 0, tzinfo=NEW_YORK)
    assert computed.removal == date(2026, 12, 23)


# A look within 24 to 48 hours of a risk of swelling: next-day plaster checks were routine (common practice, from memory).
def test_a_risk_of_swelling_requires_a_visit_within_24_to_48_hours(library: Library) -> None:
    computed = dates(library, "short-arm-cast", "fiberglass", "swelling-risk")
    assert (computed.early_from, computed.early_until) == (AT + timedelta(hours=24), AT + timedelta(hours=48))
    assert computed.visit_early


@pytest.mark.parametrize(
    ("visit", "early"),
    [
        ("2026-11-26T09:00", False),
        ("2026-11-27T14:30", False),
        ("2026-11-27T14:31", True),
        ("2026-12-02T09:00", True),
        ("", True),
    ],
    ids=["next morning", "after 48 hours", "a minute later", "after a week", "none"],
)
def test_a_visit_too_late_for_a_risk_of_swelling_is_flagged(library: Library, visit: str, early: bool) -> None:
    assert dates(library, "short-arm-cast", "fiberglass", "swelling-risk", visit=visit).visit_early is early


def test_the_48_hours_are_elapsed_hours(library: Library) -> None:
    """Across the change of 8 March 2026 in New York, 48 hours after 10:00 are at 11:00."""
    picked = Picked("short-arm-cast", "fiberglass", options=("swelling-risk",), applied="2026-03-07T10:00")
    on_time = choose(library, replace(picked, visit="2026-03-09T11:00"))
    late = choose(library, replace(picked, visit="2026-03-09T11:01"))
    assert not sheet_of(library, on_time).schedule.visit_early
    assert sheet_of(library, late).schedule.visit_early


def test_a_visit_in_the_repeated_hour_is_compared_in_elapsed_time(library: Library) -> None:
    """48 hours after 02:10 on 30 October 2026 in New York are 01:10 on 1 November for the second time; 01:40 for the first
    time is half an hour before.
    """
    picked = Picked("short-arm-cast", "fiberglass", options=("swelling-risk",), applied="2026-10-30T02:10")
    computed = sheet_of(library, choose(library, replace(picked, visit="2026-11-01T01:40"))).schedule
    assert computed.early_until == datetime(2026, 11, 1, 1, 10, tzinfo=NEW_YORK, fold=1)
    assert not computed.visit_early


def test_without_a_risk_the_visit_may_be_at_any_time(library: Library) -> None:
    computed = dates(library, "short-arm-cast", "fiberglass", visit="2026-12-09T09:00")
    assert (computed.visit_early, computed.early_from, computed.early_until) == (False, None, None)


@pytest.mark.parametrize(
    ("device", "material", "option", "figure"),
    [
        ("short-arm-cast", "plaster-rolled", "swelling-risk", "early_visit_hours"),
        ("short-arm-cast", "plaster-rolled", "sling", "plaster_dry_hours"),
        ("short-arm-cast", "plaster-rolled", "sling", "raise_hours"),
    ],
)
def test_a_missing_figure_that_a_date_needs_is_refused_by_name(
    library: Library, device: str, material: str, option: str, figure: str
) -> None:
    figures = {name: value for name, value in library.figures.items() if name != figure}
    with pytest.raises(Refused, match=f"'{figure}'") as refused:
        schedule(chosen(library, device, material, option), figures, MENTIONED)
    assert refused.value.problems[0].fault is Fault.MISSING_KEY


def test_a_figure_without_a_unit_of_time_is_refused_for_a_date(library: Library) -> None:
    wrong: Figure = replace(library.figures["raise_hours"], unit="count")
    with pytest.raises(Refused, match="'raise_hours' in minutes, hours, days or weeks"):
        schedule(chosen(library, "short-arm-cast", "fiberglass"), {**library.figures, "raise_hours": wrong}, MENTIONED)
