"""Tests of HCPCS Level II cast and splint supplies: the 51 codes as CMS lists them (file of April 2020), and their sheets.

Which device a code means is our own reading: no such table is published.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.library.catalogue import Library
from aftercare.library.devices import Family, Kind
from aftercare.library.header import parse_yaml
from aftercare.library.supply import ADULT_FROM_YEARS, Age, Supply, find_supply, read_supplies, sheet_for, sheets_for

# Families of the CMS list in its order; each has four codes from Q4005 on.
FAMILIES = (
    "long-arm-cast",
    "short-arm-cast",
    "gauntlet-cast",
    "long-arm-splint",
    "short-arm-splint",
    "hip-spica",
    "long-leg-cast",
    "cylinder-cast",
    "short-leg-cast",
    "long-leg-splint",
    "short-leg-splint",
)
# Inside a family: the offset from its first code.
OFFSETS = (
    (Age.ADULT, Family.PLASTER),
    (Age.ADULT, Family.FIBERGLASS),
    (Age.CHILD, Family.PLASTER),
    (Age.CHILD, Family.FIBERGLASS),
)


@pytest.fixture
def supplies(library: Library) -> Mapping[str, Supply]:
    return library.supplies


def test_there_are_the_51_codes_and_no_others(supplies: Mapping[str, Supply]) -> None:
    assert sorted(supplies) == [f"Q{number}" for number in range(4001, 4052)]


def test_the_offset_in_a_family_of_four_gives_age_group_and_material(supplies: Mapping[str, Supply]) -> None:
    for place in range(len(FAMILIES) * len(OFFSETS)):
        supply = supplies[f"Q{4005 + place}"]
        age, family = OFFSETS[place % 4]
        assert (supply.kind, supply.age, supply.families) == (FAMILIES[place // 4], age, (family,)), supply.code


def test_body_and_shoulder_casts_are_for_adults_only(supplies: Mapping[str, Supply]) -> None:
    for place, kind in enumerate(("body-cast", "body-cast", "shoulder-cast", "shoulder-cast")):
        supply = supplies[f"Q{4001 + place}"]
        assert (supply.kind, supply.age, supply.families) == (kind, *OFFSETS[place % 2][:1], OFFSETS[place % 2][1:])


def test_the_three_single_codes_have_no_age_group(supplies: Mapping[str, Supply]) -> None:
    assert [supplies[code].kind for code in ("Q4049", "Q4050", "Q4051")] == ["finger-splint", "other-cast", "other-splint"]
    assert {supply.code for supply in supplies.values() if supply.age is None} == {"Q4049", "Q4050", "Q4051"}


def test_adults_begin_at_eleven_years() -> None:
    # The code descriptions say "adult (11 years +)" and "pediatric (0-10 years)".
    assert ADULT_FROM_YEARS == 11


def test_a_code_gives_the_plain_device_first_and_only_materials_of_its_family(
    library: Library, supplies: Mapping[str, Supply]
) -> None:
    matches = sheets_for(find_supply(supplies, " q4010 "), library.devices, library.materials)

    device, material = matches[0]
    assert (device.id, material.id) == ("short-arm-cast", "fiberglass")
    assert {material.family for _, material in matches} == {Family.FIBERGLASS}


def test_every_code_with_devices_gives_at_least_one_sheet(library: Library, supplies: Mapping[str, Supply]) -> None:
    for supply in supplies.values():
        if supply.devices:
            assert sheets_for(supply, library.devices, library.materials), supply.code


def test_a_cast_code_gives_casts_and_a_splint_code_none(library: Library, supplies: Mapping[str, Supply]) -> None:
    for supply in supplies.values():
        for id_ in supply.devices:
            is_cast = library.devices[id_].kind is Kind.CAST
            assert is_cast == ("splint" not in supply.kind), (supply.code, id_)


@pytest.mark.parametrize("typed", ["Q4052", "A4570", "", "4010", "Q4010; Q4009"])
def test_an_unknown_code_is_refused_with_the_known_ones(supplies: Mapping[str, Supply], typed: str) -> None:
    with pytest.raises(Refused) as refused:
        find_supply(supplies, typed)

    (problem,) = refused.value.problems
    assert problem.fault is Fault.BAD_CODE
    assert "Q4010" in problem.allowed
    assert "Q4001" not in problem.allowed


def test_a_code_for_a_device_without_a_sheet_is_refused_by_name(supplies: Mapping[str, Supply]) -> None:
    with pytest.raises(Refused) as refused:
        find_supply(supplies, "Q4002")

    (problem,) = refused.value.problems
    assert problem.fault is Fault.UNKNOWN_DEVICE
    assert problem.subject[0] == "Q4002"
    assert problem.subject[1].startswith("Body cast")


@pytest.mark.parametrize(
    ("code", "device", "material", "sheet"),
    [
        ("Q4006", "", "", ("long-arm-cast", "fiberglass")),
        ("Q4010", "thumb-spica-cast", "", ("thumb-spica-cast", "fiberglass")),
        ("Q4009", "short-arm-cast", "plaster-rolled", ("short-arm-cast", "plaster-rolled")),
    ],
)
def test_a_code_gives_device_and_material_when_one_fits(
    library: Library, code: str, device: str, material: str, sheet: tuple[str, str]
) -> None:
    picked = sheet_for(library.supplies[code], library.devices, library.materials, device, material)

    assert (picked[0].id, picked[1].id) == sheet


@pytest.mark.parametrize(
    ("code", "device", "material", "fault", "field", "names"),
    [
        ("Q4010", "", "", Fault.NEEDED, "device", "short-arm-cast, thumb-spica-cast, ulnar-gutter-cast"),
        ("Q4009", "short-arm-cast", "", Fault.NEEDED, "material", "plaster-rolled"),
        ("Q4010", "short-leg-cast", "", Fault.CONTRADICTION, "device", "short-arm-cast"),
        ("Q4010", "short-arm-cast", "plaster-rolled", Fault.CONTRADICTION, "material", "fiberglass"),
    ],
)
def test_a_code_that_does_not_mean_one_sheet_is_refused_with_those_it_can_mean(
    library: Library, code: str, device: str, material: str, fault: Fault, field: str, names: str
) -> None:
    with pytest.raises(Refused) as refused:
        sheet_for(library.supplies[code], library.devices, library.materials, device, material)

    (problem,) = refused.value.problems
    assert (problem.fault, problem.field) == (fault, field)
    assert names in ", ".join(problem.allowed)


def test_a_mistyped_device_a_wrong_group_and_a_code_given_twice_are_each_reported() -> None:
    problems: list[Problem] = []
    text = (
        "one: {words: One, codes: {adult-plaster: Q1}, devices: [arm-cats]}\n"
        "two: {words: Two, codes: {adult-plaster: Q1, adlt-plaster: Q2}, devices: []}\n"
    )

    read_supplies(parse_yaml(text, Where("codes.yaml", 1), problems), ("arm-cast",))

    assert [(problem.fault, problem.where) for problem in problems] == [
        (Fault.UNKNOWN_NAME, Where("codes.yaml", 1)),
        (Fault.DUPLICATE, Where("codes.yaml", 2)),
        (Fault.UNKNOWN_KEY, Where("codes.yaml", 2)),
    ]
