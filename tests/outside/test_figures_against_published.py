"""Tests of every clinical number against publications. Each row names its source.

Rows marked MEMORY were not read in a source; a figure that has no other ground says so in content/figures.yaml.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from aftercare.library.catalogue import Library

MEMORY = "from memory: common practice, no source"
BOAST = "British Orthopaedic Association, compartment syndrome of the limbs, 2014"


@dataclass(frozen=True, slots=True)
class Row:
    """One published figure: the least and greatest value a source gives, in the figure's own unit."""

    figure: str
    unit: str
    least: float
    most: float
    source: str

    def __str__(self) -> str:
        return f"{self.figure}: {self.source}"


# For each figure the sources it may lie between: at or above the least of all, at or below the most of all.
PUBLISHED = (
    Row("raise_hours", "hour", 24, 24, "Sydney Children's Hospitals; Rady Children's, San Diego: first 24 h"),
    Row("raise_hours", "hour", 48, 48, "Queensland Children's; Queen's University cast module: 48 h"),
    Row("raise_hours", "hour", 48, 72, "NHS Fife and Dorset County soft cast leaflets: 48 to 72 h"),
    Row("raise_hours", "hour", 168, 168, "Yeovil District Hospital: first week"),
    Row("ice_minutes", "minute", 15, 20, "Royal Cornwall ankle injury leaflet: 15 min, never more than 20 in any hour"),
    Row("ice_minutes", "minute", 20, 20, "US children's hospital leaflet: 20 min at a time"),
    Row("ice_gap_hours", "hour", 1, 6, "Royal Cornwall: every few hours; US practice leaflets: 3 to 4 times a day"),
    Row("ice_days", "day", 2, 3, "US children's hospital leaflet: 48 to 72 h; US practice leaflets: 48 h"),
    Row(
        "exercise_times", "count", 5, 10, "Northern Care Alliance below-elbow leaflet: arm and elbow 5 times, fingers 10 times"
    ),
    Row("thigh_times", "count", 4, 4, "Northern Care Alliance below-knee leaflet: 4 times a day"),
    Row("plaster_dry_hours", "hour", 24, 24, "Milton Keynes: 24 h"),
    Row("plaster_dry_hours", "hour", 48, 48, "Royal Children's Melbourne; Yeovil; Gloucestershire: 48 h"),
    Row("plaster_dry_hours", "hour", 72, 72, "Plymouth; Leeds: up to 72 h"),
    Row(
        "plaster_warm_minutes", "minute", 12, 20, "Conroy et al., Emerg Med Australas 2007;19:320-4: peak heat at 12 to 20 min"
    ),
    Row("plaster_warm_minutes", "minute", 20, 20, "Gloucestershire: about 20 min"),
    Row("plaster_walk_hours", "hour", 24, 24, "US orthopedic practice leaflet: 24 h"),
    Row("plaster_walk_hours", "hour", 48, 48, "Queen's University cast module: at least 2 days"),
    Row("plaster_walk_hours", "hour", 48, 72, "American Academy of Orthopaedic Surgeons, as reported: 2 to 3 days"),
    Row("fiberglass_dry_minutes", "minute", 20, 20, "Western Orthopaedic Clinic, Perth: 20 min"),
    Row("fiberglass_dry_minutes", "minute", 30, 30, "Gloucestershire: 30 min"),
    Row("fiberglass_dry_minutes", "minute", 60, 60, "Yeovil; Plymouth: 1 h"),
    Row("fiberglass_dry_minutes", "minute", 120, 120, "US hospital leaflet: up to 2 h"),
    Row("fiberglass_walk_minutes", "minute", 30, 30, "North Tees: 30 min"),
    Row("fiberglass_walk_minutes", "minute", 60, 60, "American Academy of Orthopaedic Surgeons, as reported: 1 h"),
    Row("fiberglass_walk_minutes", "minute", 120, 120, "US hospital leaflet: 2 h"),
    Row("semi_rigid_dry_minutes", "minute", 30, 30, "NHS Fife; Dorset County: full strength at 30 min"),
    Row("semi_rigid_dry_minutes", "minute", 60, 60, "Plymouth: 1 h"),
    Row("semi_rigid_walk_minutes", "minute", 30, 60, "NHS Fife; Dorset County: 30 min; Plymouth: 1 h"),
    Row("semi_rigid_soak_minutes", "minute", 5, 10, "North Cumbria; East Kent: soak 5 to 10 min, then unroll"),
    Row("liner_rinse_days", "day", 1, 2, "Sydney Children's: every 1 to 2 days; US children's hospital: daily"),
    Row("liner_dry_minutes", "minute", 90, 90, "Children's Wisconsin: about 90 min"),
    Row("loosen_minutes", "minute", 10, 15, "US urgent care leaflet: 10 min; US practice leaflet: 10 to 15 min"),
    Row("tight_minutes", "minute", 15, 60, "Sydney Children's: 15 min; RNOH leg cast guide: 30 min; Kent Community: 1 h"),
    Row("fever_c", "celsius", 38.0, 38.3, "US practice leaflets: 38.0 C (100.4 F); 38.3 C (101 F)"),
    Row("flight_limit_hours", "hour", 2, 2, "NHS advice and UK Civil Aviation Authority: under or over 2 h"),
    Row("flight_short_hours", "hour", 24, 24, "NHS advice and UK Civil Aviation Authority: 24 h"),
    Row("flight_long_hours", "hour", 48, 48, "NHS advice and UK Civil Aviation Authority: 48 h"),
    Row("mallet_weeks", "week", 6, 8, "South Tees; NHS Forth Valley; Yeovil: 6 to 8 weeks"),
    Row("spica_diaper_hours", "hour", 4, 4, "SickKids hip spica guide: change at least every 4 h"),
    Row("spica_turn_hours", "hour", 4, 6, "SickKids hip spica guide: turn every 4 to 6 h at night"),
    Row("recheck_hours", "hour", 1, 1, f"{BOAST}: hourly while at risk"),
    Row("recheck_hours", "hour", 6, 8, "SickKids hip spica guide: toes three or four times a day"),
    Row(
        "review_hours",
        "hour",
        72,
        72,
        "British Orthopaedic Association, distal radial fractures, 2017, as reported: within 72 h",
    ),
    Row("review_hours", "hour", 48, 48, "Royal Melbourne: 2 working days"),
    Row("early_visit_hours", "hour", 24, 72, MEMORY),
    Row("liner_dry_minutes", "minute", 60, 120, MEMORY),
    Row(
        "tight_minutes", "minute", 10, 15, "US urgent care leaflet on a tight splint: 10 min; US practice leaflet: 10 to 15 min"
    ),
    Row("spica_diaper_hours", "hour", 2, 2, MEMORY),
    Row("spica_turn_hours", "hour", 2, 2, MEMORY),
)


def rows_of(figure: str, *, read: bool = False) -> list[Row]:
    """The rows for a figure, or only those read in a source."""
    return [row for row in PUBLISHED if row.figure == figure and not (read and row.source == MEMORY)]


def bounds(rows: list[Row]) -> tuple[float, float]:
    return min(row.least for row in rows), max(row.most for row in rows)


# ---- figures ----


def test_every_figure_has_its_published_rows_here_and_no_other_is_here(library: Library) -> None:
    assert {row.figure for row in PUBLISHED} == set(library.figures)


@pytest.mark.parametrize("row", PUBLISHED, ids=str)
def test_a_figure_is_in_the_unit_of_its_sources(library: Library, row: Row) -> None:
    assert library.figures[row.figure].unit == row.unit


@pytest.mark.parametrize("name", sorted({row.figure for row in PUBLISHED}))
def test_a_figure_lies_inside_what_was_read_in_print(library: Library, name: str) -> None:
    figure, read = library.figures[name], rows_of(name, read=True)
    assert read or figure.memory, "rests on memory alone and does not say so"
    least, most = bounds(read or rows_of(name))
    assert least <= figure.low <= figure.high <= most


@pytest.mark.parametrize("name", sorted({row.figure for row in PUBLISHED}))
def test_the_range_a_clinic_may_choose_from_is_no_wider_than_the_sources(library: Library, name: str) -> None:
    least, most = bounds(rows_of(name))
    low, high = library.figures[name].published
    assert least <= low <= high <= most


def test_only_the_early_visit_is_from_memory_alone(library: Library) -> None:
    assert [name for name in library.figures if not rows_of(name, read=True)] == ["early_visit_hours"]


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("ice_minutes", 15, 20),  # Royal Cornwall: aim for 15, never more than 20 in an hour
        ("fever_c", 38.0, 38.0),  # the lower of the two published, which is the safer
        ("flight_short_hours", 24, 24),  # NHS, UK Civil Aviation Authority
        ("flight_long_hours", 48, 48),
        ("early_visit_hours", 24, 48),  # MEMORY: the next-day plaster check
        ("plaster_dry_hours", 72, 72),  # Plymouth, Leeds: the longest in print
        ("plaster_walk_hours", 72, 72),  # the strictest common figure; wet plaster cracks
        ("mallet_weeks", 6, 8),  # South Tees, Yeovil
    ],
)
def test_where_sources_differ_the_sheet_has_the_careful_value(library: Library, name: str, low: float, high: float) -> None:
    assert (library.figures[name].low, library.figures[name].high) == (low, high)


def test_no_clinic_can_choose_more_than_twenty_minutes_of_ice(library: Library) -> None:
    """The cap of the strictest leaflet read (Royal Cornwall); no source that was read gives 30 minutes."""
    assert library.figures["ice_minutes"].published[1] == 20


def test_weight_on_fiberglass_never_comes_before_an_hour(library: Library) -> None:
    """American Academy of Orthopaedic Surgeons, as reported."""
    assert library.figures["fiberglass_walk_minutes"].low >= 60
