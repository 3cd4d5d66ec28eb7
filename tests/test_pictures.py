"""Tests that the drawing of a device agrees with its data: where it lies, which digits are free, which tips to check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from aftercare.library.body import EXTREMITY, FINGERS, LEVEL, Extremity, Landmark, Limb, Part
from aftercare.library.catalogue import Library
from aftercare.library.devices import Device, Family, Kind, Shape
from aftercare.pictures import device_picture, device_thumbnail
from aftercare.pictures.device import scene_for
from aftercare.pictures.scene import Scene
from aftercare.pictures.shapes import COVERED_WIDTH, layers
from aftercare.pictures.style import POINTER, WIDTH
from aftercare.sheet.choices import Side
from tests.outlines import inside, paths, polygon

# Our own budget: every picture of a phone page together stays under 6 kB gzipped.
MOST_BYTES, MOST_THUMBNAIL_BYTES = 2200, 1000
HAND = (Part.THUMB, *FINGERS)


def every_picture(library: Library) -> Iterator[tuple[Device, str]]:
    """Each device in each of its materials, on either side, grown up and as a child."""
    for device in library.devices.values():
        for material in device.materials:
            for side in (None, Side.LEFT, Side.RIGHT):
                for child in (False, True):
                    yield device, device_picture(device, library.materials[material], side, "A <b> & c", child=child)


def covered(device: Device, scene: Scene, level: float, across: float = 0.5) -> bool:
    """Whether the device lies over a place on the limb."""
    point = scene.limb.at(level, across)
    return any(inside(point, polygon(layer.line)) for layer in layers(device, scene) if not layer.behind and layer.textured)


def test_every_device_draws_its_title_first_and_stays_small(library: Library) -> None:
    for device, svg in every_picture(library):
        first = ElementTree.fromstring(svg)[0]

        assert first.tag.endswith("title"), device.id
        assert first.text == "A <b> & c", device.id
        assert len(svg.encode()) <= MOST_BYTES, device.id


def test_a_picture_holds_nothing_that_clashes_loads_or_needs_a_style(library: Library) -> None:
    allowed = {"viewBox", "role", "color", "fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "d"}

    for device, svg in every_picture(library):
        root = ElementTree.fromstring(svg)
        assert {element.tag.partition("}")[2] for element in root.iter()} == {"svg", "title", "path"}, device.id
        assert {key for element in root.iter() for key in element.keys()} <= allowed | {"stroke-dasharray"}, device.id


def test_a_thumbnail_is_decoration_and_smaller_still(library: Library) -> None:
    for device in library.devices.values():
        root = ElementTree.fromstring(device_thumbnail(device))

        assert root.get("aria-hidden") == "true", device.id
        assert not [element for element in root if element.tag.endswith("title")], device.id
        assert len(device_thumbnail(device)) <= MOST_THUMBNAIL_BYTES, device.id


def test_left_is_the_mirror_of_right(library: Library) -> None:
    for device in library.devices.values():
        material = library.materials[device.materials[0]]
        left, right = (list(paths(device_picture(device, material, side, "x"))) for side in (Side.LEFT, Side.RIGHT))

        assert len(left) == len(right), device.id
        for (_, one), (_, other) in zip(left, right, strict=True):
            # both are rounded to whole units at worst, so they may differ by one
            assert one == [pytest.approx((WIDTH - x, y), abs=1.01) for x, y in other], device.id


def test_an_unknown_side_is_drawn_as_the_right_one(library: Library) -> None:
    cast, material = library.devices["short-arm-cast"], library.materials["fiberglass"]

    assert device_picture(cast, material, None, "x") == device_picture(cast, material, Side.RIGHT, "x")
    assert device_picture(cast, material, Side.LEFT, "x") != device_picture(cast, material, Side.RIGHT, "x")


def test_a_cast_covers_the_limb_between_its_landmarks_and_nothing_beyond(library: Library) -> None:
    casts = [device for device in library.devices.values() if device.kind is Kind.CAST and device.limb is not Limb.TRUNK]
    assert casts
    for cast in casts:
        scene, start, end = scene_for(cast), LEVEL[cast.start], min(LEVEL[cast.end], 83)

        for across, round_edge in ((0.05, 1.5), (0.5, 3), (0.95, 1.5)):  # the edge is drawn round, so the middle begins later
            assert covered(cast, scene, start + round_edge, across), cast.id
        assert covered(cast, scene, (start + end) / 2), cast.id
        assert covered(cast, scene, end - 3), cast.id
        assert not covered(cast, scene, start - 3), cast.id
        if LEVEL[cast.end] < LEVEL[Landmark.PALM_CREASE]:
            assert not covered(cast, scene, LEVEL[cast.end] + 4), cast.id


@pytest.mark.parametrize("start", [Landmark.BELOW_ELBOW, Landmark.MID_FOREARM, Landmark.LOWER_FOREARM])
@pytest.mark.parametrize("end", [Landmark.WRIST, Landmark.PALM_CREASE])
def test_a_longer_or_shorter_sleeve_is_drawn_longer_or_shorter(library: Library, start: Landmark, end: Landmark) -> None:
    cast = replace(library.devices["short-arm-cast"], start=start, end=end)
    scene = scene_for(cast)

    assert covered(cast, scene, LEVEL[start] + 2)
    assert not covered(cast, scene, LEVEL[start] - 2)
    assert covered(cast, scene, LEVEL[end] - 2)
    assert not covered(cast, scene, LEVEL[end] + 3)


def test_an_open_splint_leaves_the_other_side_of_the_limb_open(library: Library) -> None:
    open_sides = {Shape.ULNAR: 0.9, Shape.RADIAL: 0.1, Shape.POSTERIOR: 0.9, Shape.ANTERIOR: 0.1, Shape.THUMB: 0.1}
    splints = [device for device in library.devices.values() if device.kind is Kind.SPLINT and device.shape in open_sides]
    assert {splint.shape for splint in splints} == set(open_sides)
    for splint in splints:
        scene, level = scene_for(splint), LEVEL[splint.start] + 3

        assert covered(splint, scene, level, sum(COVERED_WIDTH[splint.shape]) / 2), splint.id
        assert not covered(splint, scene, level, open_sides[splint.shape]), splint.id


def test_free_digits_lie_outside_the_device_and_enclosed_ones_inside(library: Library) -> None:
    seen = 0
    for device in library.devices.values():
        scene = scene_for(device)
        shells = [polygon(layer.line) for layer in layers(device, scene) if not layer.behind and layer.textured]
        for part in HAND:
            if part not in scene.digits or not shells:
                continue
            seen += 1
            joint, tip = (any(inside(scene.digits[part].at(level, 0.5), shell) for shell in shells) for level in (93, 99))
            assert joint is (part in device.enclosed), (device.id, part)
            assert tip is (part in device.enclosed and device.end is Landmark.FINGERTIPS), (device.id, part)
    assert seen > 50


def test_every_tip_to_check_has_an_arrow_close_to_it(library: Library) -> None:
    cast = library.devices["short-arm-cast"]
    svg = device_picture(cast, library.materials["plaster-fast"], Side.RIGHT, "x")
    digits = scene_for(cast).digits

    arrows = [points for element, points in paths(svg) if element.get("fill") == POINTER]

    assert len(arrows) == 1
    for part in cast.tips:
        x, y = digits[part].at(100, 0.5)
        assert min(abs(complex(x - px, y - py)) for px, py in arrows[0]) < 8, part


def test_only_devices_with_tips_to_check_have_arrows(library: Library) -> None:
    for device in library.devices.values():
        svg = device_picture(device, library.materials[device.materials[0]], None, "x")

        assert (POINTER in svg) is bool(device.tips), device.id


def test_a_child_has_shorter_and_plumper_fingers(library: Library) -> None:
    cast = library.devices["short-arm-cast"]
    adult, child = (scene_for(cast, child=child).digits[Part.MIDDLE] for child in (False, True))

    child_width, adult_width = (abs(complex(*digit.at(92, 0)) - complex(*digit.at(92, 1))) for digit in (child, adult))

    assert child.length(87, 100) < 0.9 * adult.length(87, 100)
    assert child_width > 1.05 * adult_width


def test_each_family_of_material_looks_different(library: Library) -> None:
    cast, any_material = library.devices["short-arm-cast"], library.materials["plaster-fast"]

    drawn = {device_picture(cast, replace(any_material, family=family), None, "x") for family in Family}

    assert len(drawn) == len(Family)


def test_every_limb_is_shown_with_its_own_kind_of_digits(library: Library) -> None:
    for device in library.devices.values():
        marked = set(scene_for(device).pointers)

        assert set(device.tips) <= marked, device.id
        assert not marked & ({Part.TOES} if EXTREMITY[device.limb] is Extremity.UPPER else set(HAND)), device.id


def test_a_cast_always_walked_on_has_a_walking_sole(library: Library) -> None:
    walking, resting = library.devices["short-leg-walking-cast"], library.devices["short-leg-cast"]
    under_the_sole = scene_for(walking).limb.at(88, 0, 6)

    drawn = [
        any(inside(under_the_sole, polygon(layer.line)) for layer in layers(cast, scene_for(cast)))
        for cast in (walking, resting)
    ]

    assert drawn == [True, False]
