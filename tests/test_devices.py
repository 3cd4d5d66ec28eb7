"""Tests that a device's data determine what to move, hold and check, and that codes never change their meaning."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import pytest

from aftercare.library.body import FINGERS, LEVEL, LOWER_LANDMARKS, UPPER_LANDMARKS, Extremity, Part
from aftercare.library.catalogue import Library
from aftercare.library.devices import Family, Kind, Removal
from aftercare.library.modules import Trait, traits

REGISTER = "tests/golden/codes.txt"

# A slab or a ready-made padded splint lies under an elastic bandage; nothing else has one to loosen.
UNDER_A_BANDAGE = {Family.PLASTER, Family.FIBERGLASS}


def registered(library: Library) -> list[str]:
    """Everything with a code on paper or in a QR code, as lines of the register."""
    return [
        *(f"device {device.code} {device.id}" for device in library.devices.values()),
        *(f"material {material.code} {material.id}" for material in library.materials.values()),
        *(f"option {option.bit} {option.id}" for option in library.options.values()),
        *(f"weight {weight.digit} {weight.id}" for weight in library.weights.values()),
    ]


def test_an_ulnar_gutter_leaves_thumb_index_and_middle_moving_and_holds_ring_and_little(library: Library) -> None:
    gutter = library.devices["ulnar-gutter-splint"]

    assert {Part.THUMB, Part.INDEX, Part.MIDDLE} <= set(gutter.moving)
    assert {Part.RING, Part.LITTLE, Part.WRIST} <= set(gutter.held)
    assert not {Part.RING, Part.LITTLE, Part.WRIST} & set(gutter.moving)


def test_a_short_arm_cast_leaves_every_digit_moving_and_every_tip_to_check(library: Library) -> None:
    cast = library.devices["short-arm-cast"]

    assert cast.moving == (Part.SHOULDER, Part.ELBOW, Part.THUMB, *FINGERS)
    assert cast.tips == (Part.THUMB, *FINGERS)


def test_a_cast_that_closes_over_the_toes_offers_no_tip_to_check(library: Library) -> None:
    cast = library.devices["total-contact-cast"]

    assert cast.tips == ()
    assert Trait.TIPS_VISIBLE not in traits(cast)


def test_a_mallet_splint_holds_the_tip_joint_only(library: Library) -> None:
    splint = library.devices["mallet-splint"]

    assert splint.held == (Part.TIP_JOINT,)
    assert {Part.BASE_JOINT, Part.MIDDLE_JOINT} <= set(splint.moving)


def test_lower_extremity_devices_have_weight_orders_and_no_others_do(library: Library) -> None:
    with_weights = {device.id for device in library.devices.values() if device.weights}

    assert with_weights == {device.id for device in library.devices.values() if device.extremity is Extremity.LOWER}


def test_a_walking_cast_excludes_the_order_of_no_weight_and_a_non_walking_one_all_others(library: Library) -> None:
    assert "none" not in library.devices["short-leg-walking-cast"].weights
    assert library.devices["short-leg-cast"].weights == ("none",)


def test_only_splints_under_an_elastic_bandage_may_be_loosened(library: Library) -> None:
    loosening = [device for device in library.devices.values() if device.loosens]

    assert loosening
    for device in loosening:
        assert device.kind is Kind.SPLINT, device.id
        assert UNDER_A_BANDAGE & {library.materials[id_].family for id_ in device.materials}, device.id


def test_no_cast_comes_off_at_home_by_its_own_data(library: Library) -> None:
    casts = [device for device in library.devices.values() if device.kind is Kind.CAST]

    assert {device.removal for device in casts} == {Removal.NEVER}


def test_every_material_is_used_and_semi_rigid_tape_only_for_casts(library: Library) -> None:
    used = {id_ for device in library.devices.values() for id_ in device.materials}
    soft_casts = {device.kind for device in library.devices.values() if "semi-rigid" in device.materials}

    assert used == set(library.materials)
    assert soft_casts == {Kind.CAST}


def test_the_landmarks_of_each_extremity_run_from_the_trunk_outward() -> None:
    for marks in (UPPER_LANDMARKS, LOWER_LANDMARKS):
        levels = [LEVEL[mark] for mark in marks]
        assert levels == sorted(levels)


def test_a_purpose_is_one_sentence_of_at_most_fifteen_words_without_a_diagnosis(library: Library) -> None:
    for device in library.devices.values():
        purpose = device.purpose.message
        assert len(purpose.split()) <= 15, device.id
        assert purpose.find(".") == len(purpose) - 1, device.id
        assert not re.search(r"\b(broken|fracture|sprain|rupture|torn)", purpose), device.id


def test_codes_are_two_and_one_characters_for_the_qr_alphanumeric_mode_and_not_misread(library: Library) -> None:
    # Capital I and O and the digits 1 and 0 look alike on a bad print.
    for device in library.devices.values():
        assert re.fullmatch(r"[A-HJ-NP-Z2-9]{2}", device.code), device.id
    for material in library.materials.values():
        assert re.fullmatch(r"[A-HJ-NP-Z2-9]", material.code), material.id


def test_no_code_bit_or_digit_is_used_twice(library: Library) -> None:
    given = Counter(tuple(line.split()[:2]) for line in registered(library))

    assert [key for key, times in given.items() if times > 1] == []


def test_the_register_of_codes_has_exactly_the_codes_of_the_content(library: Library, checkout: Path) -> None:
    # Something new is added at the end of the register by hand; nothing old may change, for it stands on paper at home.
    lines = (checkout / REGISTER).read_text(encoding="utf-8").splitlines()

    assert sorted(lines) == sorted(registered(library))


def test_no_line_of_the_register_was_ever_changed_or_removed(checkout: Path) -> None:
    if not (checkout / ".git").exists() or not shutil.which("git"):
        pytest.skip("no history to compare with: not a git checkout, or no git command")
    now = (checkout / REGISTER).read_text(encoding="utf-8").splitlines()
    editions = _git(checkout, "log", "--format=%H", "--", REGISTER).split()

    assert editions, "the register is not committed"
    for edition in editions:
        then = _git(checkout, "show", f"{edition}:{REGISTER}").splitlines()
        assert now[: len(then)] == then, f"changed since {edition}"


def _git(checkout: Path, *arguments: str) -> str:
    # The checkout may belong to another user, as it does in containers.
    command = ("git", "-c", "safe.directory=*", *arguments)
    return subprocess.run(command, cwd=checkout, check=True, capture_output=True, encoding="utf-8").stdout
