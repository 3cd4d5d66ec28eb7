"""Tests of the words of a sheet for its device: the parts to move, the parts held, the device's nouns."""

from __future__ import annotations

from pathlib import Path

from aftercare.library.body import Part
from aftercare.library.catalogue import Library
from tests.composed import full_sheet, sheet
from tests.small_world import FILES, small_library

CARE = FILES["advice/care.md"]
LINE = "Move {your digits} often"


# ---- what moves, what is held, which tips to check ----


def test_an_ulnar_gutter_leaves_thumb_index_and_middle_to_move_and_holds_ring_and_little(library: Library) -> None:
    """Am Fam Physician 2009;80(5):491-9, table of splints: an ulnar gutter goes round the ring and little fingers."""
    full = full_sheet(library, "ulnar-gutter-splint", "plaster-fast")
    assert [part for part in full.moving if part not in (Part.SHOULDER, Part.ELBOW)] == [Part.THUMB, Part.INDEX, Part.MIDDLE]
    assert set(full.held) == {Part.WRIST, Part.RING, Part.LITTLE}


def test_a_radial_gutter_holds_index_and_middle_and_leaves_the_others_to_move(library: Library) -> None:
    """The same table: a radial gutter goes round the index and middle fingers."""
    full = full_sheet(library, "radial-gutter-splint", "plaster-fast")
    assert {Part.RING, Part.LITTLE} <= set(full.moving)
    assert {Part.INDEX, Part.MIDDLE} <= set(full.held)


def test_four_free_fingers_are_one_part_fingers(library: Library) -> None:
    full = full_sheet(library, "short-arm-cast", "fiberglass")
    assert full.moving == (Part.SHOULDER, Part.ELBOW, Part.THUMB, Part.FINGERS)
    assert full.tips == (Part.THUMB, Part.FINGERS)


def test_three_free_fingers_are_named_one_by_one(tmp_path: Path) -> None:
    device = FILES["devices/arm-cast.md"].replace("holds: [wrist]", "holds: [wrist, little]")
    full = full_sheet(small_library(tmp_path, {"devices/arm-cast.md": device}), "arm-cast", "plaster")
    assert full.moving[-3:] == (Part.INDEX, Part.MIDDLE, Part.RING)
    assert full.held == (Part.WRIST, Part.LITTLE)


def test_nothing_is_both_held_and_to_be_moved_on_any_sheet(library: Library) -> None:
    for device in library.devices.values():
        full = full_sheet(library, device.id, device.materials[0])
        assert not set(full.moving) & set(full.held), device.id


def test_every_part_named_on_a_sheet_has_its_message(library: Library) -> None:
    for device in library.devices.values():
        full = full_sheet(library, device.id, device.materials[0])
        assert set(full.names) == {*full.moving, *full.held, *full.tips}, device.id


# ---- words ----


def second_line(library: Library, device: str) -> str:
    """The second line of the first advice, which names the digits."""
    care = sheet(library, device).sections[0].passages[0]
    return care.blocks[1].text.message


def test_words_are_those_of_the_device(tmp_path: Path) -> None:
    cast = FILES["devices/arm-cast.md"]
    splint = cast.replace("arm-cast", "arm-splint").replace("code: AC", "code: AS").replace("noun: cast", "noun: splint")
    care = CARE.replace(LINE, "Look after {the device}, {The device} and {your digits}")
    splint = splint.replace("# Arm cast", "# Arm splint")
    library = small_library(tmp_path, {"devices/arm-splint.md": splint, "advice/care.md": care})
    assert second_line(library, "arm-cast").startswith("Look after the cast, The cast and your fingers")
    assert second_line(library, "arm-splint").startswith("Look after the splint, The splint and your fingers")


def test_arms_and_legs_have_their_own_words(tmp_path: Path) -> None:
    patient = sheet(small_library(tmp_path), "leg-cast", weight="none")
    assert patient.full.purpose.message == "It holds your leg still."
    assert patient.sections[0].passages[0].blocks[1].text.message.startswith("Move your toes often")


def test_values_stay_in_their_braces_until_after_translation(tmp_path: Path) -> None:
    assert second_line(small_library(tmp_path), "arm-cast") == "Move your fingers often: {moving_parts}."


def test_the_title_and_the_labels_are_in_the_devices_words(tmp_path: Path) -> None:
    full = full_sheet(small_library(tmp_path), "arm-cast", "plaster")
    assert full.title.message == "Caring for the cast"
    assert full.labels["sheet_title"] == full.title
