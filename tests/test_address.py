"""Tests of the address in the QR code: it can be parsed, typing errors are detected, and it identifies nobody."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from urllib.parse import urlsplit

import pytest

from aftercare.errors import Fault, Refused
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Clinic
from aftercare.sheet.address import BASE32, LONGEST, address, code, fragment
from aftercare.sheet.choices import Choices, Side
from aftercare.sheet.validate import Picked, choose, options_for, weights_for
from tests.composed import all_choices
from tests.fragment_reader import read_fragment

# ISO/IEC 18004, table 5: the 45 characters of the alphanumeric mode, the smallest that an address fits.
EDITION = "K7Q3MX"  # any six characters of the kind a sheet has
ALPHANUMERIC = set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
# The devices on which every possible fragment is tried: one of the hand, one with weight orders.
TRIED = (("ulnar-gutter-splint", "plaster-fast"), ("tall-walker-boot", "walker-boot"))


@pytest.fixture
def clinic(library: Library) -> Clinic:
    return replace(library.clinic, phone_site="https://care.ternharbour.example/")


def all_sided(library: Library, device: str, material: str) -> Iterator[Choices]:
    """Every choice an address can have: each side, weight order and set of compatible options."""
    return (replace(choices, side=side) for choices in all_choices(library, device, material) for side in (None, *Side))


def is_sheet(library: Library, choices: Choices, written: str) -> bool:
    """Whether the text is accepted as a fragment for this device and material."""
    try:
        read_fragment(library, choices.device, choices.material, written)
    except ValueError:
        return False
    return True


# ---- parsing ----


@pytest.mark.parametrize(("device", "material"), TRIED)
def test_every_fragment_is_parsed_as_it_was_built(library: Library, device: str, material: str) -> None:
    for choices in all_sided(library, device, material):
        read = read_fragment(library, choices.device, choices.material, fragment(choices))
        assert read == (choices.side, choices.weight, choices.options), fragment(choices)


@pytest.mark.parametrize(("device", "material"), TRIED)
def test_no_two_sheets_share_a_fragment(library: Library, device: str, material: str) -> None:
    written = [fragment(choices) for choices in all_sided(library, device, material)]
    assert len(set(written)) == len(written) > 1000


def test_fragments_with_every_option_of_every_device_and_material_are_parsed(library: Library) -> None:
    for device in library.devices.values():
        for material_id in device.materials:
            options = options_for(library, device, library.materials[material_id])
            for weight in weights_for(library, device) or (None,):
                choices = Choices(device, library.materials[material_id], Side.LEFT, options, weight)
                assert read_fragment(library, device, choices.material, fragment(choices)) == (Side.LEFT, weight, options)


# ---- typing errors ----


@pytest.mark.parametrize(
    "picked",
    [
        Picked("short-arm-cast", "fiberglass"),
        Picked("short-arm-cast", "fiberglass", "left", ("wires", "sling", "small-child")),
        Picked("short-leg-walking-cast", "fiberglass", "right", ("swelling-risk", "clot-medicine"), "partial"),
    ],
    ids=["plain", "arm", "leg"],
)
def test_a_wrong_character_or_two_swapped_neighbors_are_detected(library: Library, picked: Picked) -> None:
    choices = choose(library, picked)
    right = fragment(choices)
    wrong = {right[:i] + letter + right[i + 1 :] for i in range(len(right)) for letter in sorted(ALPHANUMERIC)}
    wrong |= {right[:i] + right[i + 1] + right[i] + right[i + 2 :] for i in range(len(right) - 1)}
    assert [written for written in sorted(wrong - {right}) if is_sheet(library, choices, written)] == []


@pytest.mark.parametrize("written", ["", "N", "N0", "N00", "n000", "N0000000000000", "?", "N0O0"])
def test_text_that_is_no_fragment_is_refused(library: Library, written: str) -> None:
    assert not is_sheet(library, choose(library, Picked("short-arm-cast", "fiberglass")), written)


@pytest.mark.parametrize("body", ["N", "N0", "R5", "N0G00000000", "XN0", "N60"], ids=lambda body: f"{body}.")
def test_an_impossible_body_is_refused_with_any_check_character(library: Library, body: str) -> None:
    """Too short, an unknown option or weight order, or no side; one of the 32 endings is the right check character."""
    choices = choose(library, Picked("short-leg-walking-cast", "fiberglass", weight="full"))
    assert [letter for letter in BASE32 if is_sheet(library, choices, body + letter)] == []


def test_a_weight_order_that_cannot_apply_to_the_device_is_refused(library: Library) -> None:
    standing = fragment(choose(library, Picked("short-leg-cast", "fiberglass", weight="none")))
    assert not is_sheet(library, choose(library, Picked("short-leg-walking-cast", "fiberglass", weight="full")), standing)


# ---- the whole address ----


def test_scheme_host_and_codes_are_in_capitals(library: Library, clinic: Clinic) -> None:
    choices = choose(library, Picked("short-arm-cast", "fiberglass", "left"))
    expected = code(choices.device.code, choices.material.code)
    assert (
        address(clinic, choices, "es", EDITION)
        == f"HTTPS://CARE.TERNHARBOUR.EXAMPLE/ES/{expected}/#{fragment(choices)}-{EDITION}"
    )


def test_the_clinics_own_path_is_unchanged(library: Library, clinic: Clinic) -> None:
    """The path is case-sensitive, scheme and host are not (RFC 3986, section 6.2.2.1)."""
    own = replace(clinic, phone_site="https://Hospital.example/Fracture/care/")
    url = address(own, choose(library, Picked("short-arm-cast", "fiberglass")), "en", EDITION)
    assert url.startswith("HTTPS://HOSPITAL.EXAMPLE/Fracture/care/EN/")


def test_an_address_too_long_to_print_is_refused_with_the_limit(library: Library, clinic: Clinic) -> None:
    choices = choose(library, Picked("short-arm-cast", "fiberglass"))
    room = LONGEST - len(address(replace(clinic, phone_site="https://a.example/"), choices, "en", EDITION))
    fits = replace(clinic, phone_site=f"https://{'a' * (room + 1)}.example/")
    assert len(address(fits, choices, "en", EDITION)) == LONGEST
    with pytest.raises(Refused, match=f"Allowed: at most {LONGEST}") as refused:
        address(replace(clinic, phone_site=f"https://{'a' * (room + 2)}.example/"), choices, "en", EDITION)
    assert refused.value.problems[0].fault is Fault.ADDRESS_TOO_LONG


def test_a_clinic_without_a_phone_site_is_refused(library: Library) -> None:
    assert library.clinic.phone_site == ""
    with pytest.raises(Refused, match="phone-site"):
        address(library.clinic, choose(library, Picked("short-arm-cast", "fiberglass")), "en", EDITION)


@pytest.mark.parametrize(("device", "material"), TRIED)
def test_all_characters_but_the_hash_are_of_the_qr_alphanumeric_mode(
    library: Library, clinic: Clinic, device: str, material: str
) -> None:
    for choices in all_sided(library, device, material):
        assert set(address(clinic, choices, "es", EDITION)) - {"#"} <= ALPHANUMERIC


# ---- nothing about a person ----


def test_two_patients_with_the_same_sheet_have_the_same_address(library: Library, clinic: Clinic) -> None:
    """A link unique to one patient is an identifier itself (45 CFR 164.514(b)(2)(i), classes N and R)."""
    first = Picked("short-arm-cast", "fiberglass", "left", ("wires",), "", "2026-11-25T14:30", "2026-12-02T09:00")
    second = replace(first, applied="2025-01-03T08:05", visit="2025-01-10T10:00")
    assert address(clinic, choose(library, first), "en", EDITION) == address(clinic, choose(library, second), "en", EDITION)


def test_a_request_to_the_server_has_the_device_and_no_choices(library: Library, clinic: Clinic) -> None:
    """The part after the hash is never sent (RFC 9110, section 7.1)."""
    plain = urlsplit(address(clinic, choose(library, Picked("short-arm-cast", "fiberglass")), "en", EDITION))
    ticked = Picked("short-arm-cast", "fiberglass", "left", ("wires", "small-child", "blood-thinner"))
    full = urlsplit(address(clinic, choose(library, ticked), "en", EDITION))
    assert (plain.path, plain.query) == (full.path, full.query) == (full.path, "")


@pytest.mark.parametrize(("device", "material"), TRIED)
def test_no_address_has_a_date_a_phone_number_or_a_long_run_of_digits(
    library: Library, clinic: Clinic, device: str, material: str
) -> None:
    """The identifiers of 45 CFR 164.514(b)(2)(i) that can be seen by their form: dates, phones, record numbers, mail.

    A fragment has at most six digits in a row, one fewer than the shortest phone number of a region.
    """
    identifying = re.compile(r"\d{7,}|\d[-. :/]\d|@|\?")
    for choices in all_sided(library, device, material):
        url = address(clinic, choices, "en", EDITION)
        assert not identifying.search(url), url
