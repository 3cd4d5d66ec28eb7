"""Tests of devices against published tables: extent, parts held, first visit, time in it. Each row names its source."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from aftercare.library.body import FINGERS, Part
from aftercare.library.catalogue import Library
from aftercare.library.devices import Removal

# Boyd, Benjamin, Asplund. Splints and casts: indications and methods. Am Fam Physician 2009;80(5):491-9. Tables read for the
# hand and fingers and for the lower limb; the rows from wrist to elbow were not read.
AFP = "Am Fam Physician 2009;80(5):491-9"
# NSW Agency for Clinical Innovation, Emergency Care Institute: procedure pages on casts and slabs.
ACI = "NSW Agency for Clinical Innovation, procedure page"
WIKEM = "WikEM (2023)"  # pages on posterior ankle, ankle stirrup and double sugar-tong splints
AO = "AO Surgery Reference, tibial shaft, long leg cast"
MEMORY = "from memory: common practice, no source"

FOUR_FINGERS = frozenset(FINGERS)


@dataclass(frozen=True, slots=True)
class Row:
    """One cell of a published table: the device, the words of the table, the value they mean, and the source."""

    device: str
    statement: str
    value: object
    source: str

    def __str__(self) -> str:
        return f"{self.device}-{self.statement}"


FIRST_VISIT_DAYS = (
    Row("buddy-strapping-finger", "two weeks", (14, 14), AFP),
    Row("fingertip-guard", "two weeks", (14, 14), AFP),
    Row("straight-finger-splint", "two weeks", (14, 14), AFP),
    Row("ulnar-gutter-splint", "one to two weeks", (7, 14), AFP),
    Row("radial-gutter-splint", "one to two weeks", (7, 14), AFP),
    Row("thumb-spica-splint", "one to two weeks", (7, 14), AFP),
    Row("thumb-spica-cast", "one to two weeks", (7, 14), AFP),
    Row("posterior-ankle-splint", "less than a week", (1, 7), AFP),
    Row("ankle-stirrup-splint", "less than a week", (1, 7), AFP),
    Row("posterior-stirrup-splint", "less than a week", (1, 7), WIKEM),
    Row("posterior-knee-splint", "days, no number", None, AFP),
    Row("short-leg-cast", "two to four weeks", (14, 28), AFP),
    Row("short-leg-walking-cast", "two to four weeks", (14, 28), AFP),
    Row("toe-plate-cast", "two weeks", (14, 14), AFP),
    Row("long-leg-cast", "slackness at three to seven days", (3, 7), AO),
    Row("total-contact-cast", "first change at three to four days", (3, 4), "Foot Ankle Int 2004;25:556"),
    Row("prefabricated-wrist-splint", "none for a buckle fracture", None, "NICE NG38 (2016)"),
    Row("volar-short-arm-splint", "within a week", (1, 7), MEMORY),
    Row("long-arm-posterior-splint", "within a week", (1, 7), MEMORY),
    Row("double-sugar-tong-splint", "within a week", (1, 7), MEMORY),
)

WEEKS = (
    Row("buddy-strapping-finger", "two to four", (2, 4), "Northern Care Alliance leaflet"),
    Row("buddy-strapping-toe", "two to four", (2, 4), "Northern Care Alliance leaflet"),
    Row("mallet-splint", "six to eight, day and night", (6, 8), "South Tees and Yeovil leaflets"),
    Row("long-leg-cast", "six, then knee-bearing", (6, 6), AO),
    Row("achilles-boot", "eight to ten", (8, 10), "NHS fracture clinic, partial Achilles plan"),
    Row("tall-walker-boot", "four at least, six", (4, 6), "Leeds (metatarsal) and Portsmouth (ankle) leaflets"),
    Row("short-arm-cast", "three to six", (3, 6), MEMORY),
    Row("thumb-spica-splint", "two to six", (2, 6), MEMORY),
)

HOLDS = (
    Row("buddy-strapping-finger", "no joint", frozenset(), AFP),
    Row("fingertip-guard", "the tip joint; middle and base joints move", frozenset({Part.TIP_JOINT}), AFP),
    Row("mallet-splint", "the tip joint only", frozenset({Part.TIP_JOINT}), "South Tees and Yeovil leaflets"),
    Row("ulnar-gutter-splint", "wrist, ring, little", frozenset({Part.WRIST, Part.RING, Part.LITTLE}), AFP),
    Row("radial-gutter-splint", "wrist, index, middle", frozenset({Part.WRIST, Part.INDEX, Part.MIDDLE}), AFP),
    Row("safe-position-splint", "wrist and four fingers", frozenset({Part.WRIST, *FOUR_FINGERS}), ACI),
    Row("volar-short-arm-splint", "the wrist", frozenset({Part.WRIST}), ACI),
    Row("long-arm-posterior-splint", "elbow and wrist", frozenset({Part.ELBOW, Part.WRIST}), ACI),
    Row("double-sugar-tong-splint", "wrist and elbow", frozenset({Part.ELBOW, Part.WRIST}), WIKEM),
    Row("posterior-ankle-splint", "the ankle", frozenset({Part.ANKLE}), WIKEM),
    Row("ankle-stirrup-splint", "the ankle", frozenset({Part.ANKLE}), WIKEM),
    Row("long-leg-posterior-splint", "knee and ankle", frozenset({Part.KNEE, Part.ANKLE}), ACI),
    Row("long-leg-cast", "knee and ankle", frozenset({Part.KNEE, Part.ANKLE}), AO),
    Row("hip-spica-cast", "hip and knee", frozenset({Part.HIP, Part.KNEE}), "AO Surgery Reference, pediatric hip spica"),
)

EXTENTS = (
    Row("safe-position-splint", "two fingerbreadths below the elbow to past the tips", ("below-elbow", "fingertips"), ACI),
    Row("volar-short-arm-splint", "3 cm below the elbow to the palm crease", ("below-elbow", "palm-crease"), ACI),
    Row("long-arm-posterior-splint", "5 cm below the armpit to the palm crease", ("armpit", "palm-crease"), ACI),
    Row("double-sugar-tong-splint", "3 in below the armpit to the palm crease", ("mid-upper-arm", "palm-crease"), WIKEM),
    Row("posterior-ankle-splint", "2 in below the knee to the metatarsal heads", ("below-knee", "toe-roots"), WIKEM),
    Row("ankle-stirrup-splint", "3 to 4 cm below the knee to under the heel", ("below-knee", "ankle"), WIKEM),
    Row("long-leg-posterior-splint", "upper third of the thigh to the toe knuckles", ("upper-thigh", "toe-roots"), ACI),
    Row("gauntlet-cast", "lower forearm and hand", ("lower-forearm", "knuckles"), "HCPCS Level II, Q4013 (CMS)"),
    Row("short-arm-cast", "upper third of the forearm to the palm crease", ("below-elbow", "palm-crease"), "WikiSM"),
    Row("hip-spica-cast", "nipple line to above the ankle", ("chest", "above-ankle"), "AO Surgery Reference, hip spica"),
)

REMOVAL = (
    Row("buddy-strapping-finger", "may be taped again", Removal.YES, "Northern Care Alliance leaflet"),
    Row("mallet-splint", "only to wash, as told", Removal.TOLD, "South Tees and Yeovil leaflets"),
    Row("achilles-boot", "once a day to wash, as told", Removal.TOLD, "NHS fracture clinic, partial Achilles plan"),
    Row("tall-walker-boot", "often for washing, as told", Removal.TOLD, "Portsmouth and Leeds leaflets"),
    Row("short-leg-cast", "needs a saw", Removal.NEVER, "Milton Keynes leaflet"),
)

ALL_ROWS = (*FIRST_VISIT_DAYS, *WEEKS, *HOLDS, *EXTENTS, *REMOVAL)


@pytest.mark.parametrize("row", FIRST_VISIT_DAYS, ids=str)
def test_the_first_visit_is_that_of_the_table(library: Library, row: Row) -> None:
    assert library.devices[row.device].first_visit_days == row.value, row.source


@pytest.mark.parametrize("row", WEEKS, ids=str)
def test_the_time_in_the_device_is_that_of_the_table(library: Library, row: Row) -> None:
    assert library.devices[row.device].weeks == row.value, row.source


@pytest.mark.parametrize("row", HOLDS, ids=str)
def test_it_holds_the_parts_of_the_table_and_no_held_part_is_to_be_moved(library: Library, row: Row) -> None:
    device = library.devices[row.device]

    assert frozenset(device.held) == row.value, row.source
    assert not set(device.held) & set(device.moving)


@pytest.mark.parametrize("row", EXTENTS, ids=str)
def test_it_begins_and_ends_at_the_landmarks_nearest_to_the_table(library: Library, row: Row) -> None:
    device = library.devices[row.device]

    assert (device.start, device.end) == row.value, row.source


@pytest.mark.parametrize("row", REMOVAL, ids=str)
def test_it_comes_off_at_home_only_as_the_source_allows(library: Library, row: Row) -> None:
    assert library.devices[row.device].removal is row.value, row.source


def test_a_row_from_memory_is_never_the_only_source_for_a_device() -> None:
    sourced = {row.device for row in ALL_ROWS if row.source != MEMORY}

    assert {row.device for row in ALL_ROWS} == sourced
