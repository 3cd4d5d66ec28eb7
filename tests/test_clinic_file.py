"""Tests of the file that a clinic edits: what it must have, what it may change, and what it may not remove."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.catalogue import Library
from aftercare.library.modules import Advice, WarningSign
from aftercare.library.text import Text
from tests.small_world import FILES, small_library


def clinic(tmp_path: Path, old: str = "", new: str = "", body: str = "") -> Library:
    """The small world read with its clinic file changed."""
    assert old in FILES["clinic.md"]
    return small_library(tmp_path, {"clinic.md": FILES["clinic.md"].replace(old, new) + body})


def refused(tmp_path: Path, old: str = "", new: str = "", body: str = "") -> Problem:
    """The only problem of a changed clinic file."""
    with pytest.raises(Refused) as raised:
        clinic(tmp_path, old, new, body)
    (problem,) = raised.value.problems
    return problem


def line(problem: Problem) -> int:
    """The line of the clinic file that a problem is about."""
    assert problem.where
    return problem.where.line


def test_phones_become_dialable_addresses_of_rfc_3966(tmp_path: Path) -> None:
    """RFC 3966, section 5.1.4: a global number begins with + and its country code; by the phonenumbers library."""
    read = clinic(tmp_path).clinic

    assert (read.phone.display, read.phone.tel) == ("(202) 555-0143", "tel:+1-202-555-0143")
    assert read.emergency.tel == "tel:911"


def test_a_number_that_cannot_be_called_is_refused_at_its_line(tmp_path: Path) -> None:
    problem = refused(tmp_path, "(202) 555-0143", "555-01")

    assert (problem.fault, line(problem)) == (Fault.BAD_PHONE, 3)
    assert problem.subject == ("555-01", "US")


def test_missing_phones_are_unset_so_that_staff_can_open_the_desk_but_not_print(tmp_path: Path) -> None:
    unset = clinic(tmp_path, "(202) 555-0143", '""').clinic.unset

    assert [(problem.fault, line(problem)) for problem in unset] == [(Fault.NOT_SET, 3)]


def test_opening_hours_are_days_and_times(tmp_path: Path) -> None:
    opening = clinic(tmp_path).clinic.hours[0]

    assert (opening.first, opening.last, opening.opens.hour, opening.closes.minute) == (0, 4, 8, 30)


@pytest.mark.parametrize("hours", ["Fri-Mon 08:00-16:30", "Mon-Fri 16:30-08:00", "Mon-Fri 25:00-26:00", "weekdays"])
def test_invalid_opening_hours_are_refused(tmp_path: Path, hours: str) -> None:
    assert refused(tmp_path, "Mon-Fri 08:00-16:30", hours).fault is Fault.BAD_VALUE


@pytest.mark.parametrize(
    "site", ["http://localhost:8000/", "http://192.168.1.4/", "http://10.0.0.1/x/", "https://intranet/", "https://desk.local/"]
)
def test_a_local_address_has_a_caution(tmp_path: Path, site: str) -> None:
    """Private and loopback ranges: RFC 1918, RFC 6761, RFC 6762."""
    (caution,) = clinic(tmp_path, "https://care.ternharbour.example/", site).clinic.cautions

    assert caution.fault is Fault.LOCAL_ADDRESS


def test_a_public_address_has_no_caution(tmp_path: Path) -> None:
    assert clinic(tmp_path).clinic.cautions == ()


def test_a_reworded_module_is_on_the_sheet_in_the_clinics_words(tmp_path: Path) -> None:
    library = clinic(tmp_path, body="## ice\nCool {the device} for {ice_minutes}.\n")

    (ice,) = (advice for advice in library.advice if advice.id == "ice")
    assert [block.text.message for block in ice.blocks] == ["Cool {the device} for {ice_minutes}."]


def test_a_rewording_without_a_figure_of_the_module_is_refused(tmp_path: Path) -> None:
    problem = refused(tmp_path, body="## ice\nCool {the device} a while.\n")

    assert (problem.fault, line(problem)) == (Fault.OVERRIDE_LOSES_SAFETY, 12)
    assert problem.subject == ("ice", "{ice_minutes}")


def test_a_sign_that_gives_a_phone_number_cannot_be_reworded_without_it(tmp_path: Path) -> None:
    assert refused(tmp_path, body="## pain\nIt hurts.\n").fault is Fault.OVERRIDE_LOSES_SAFETY


def test_a_module_that_every_sheet_needs_cannot_be_left_out(tmp_path: Path) -> None:
    problem = refused(tmp_path, body="## care\n\n## no-ice\nNo ice for you.\n")

    assert problem.fault is Fault.OVERRIDE_LOSES_SAFETY


def test_a_clinics_title_of_a_warning_replaces_the_shipped_one(tmp_path: Path) -> None:
    library = clinic(tmp_path, body="## pain\n# Pain that grows\nIt hurts. Call {clinic_phone}.\n")

    (pain,) = library.warnings
    assert (pain.title.message, pain.sign.message) == ("Pain that grows", "It hurts. Call {clinic_phone}.")
    assert pain.title.where.line == 13


def module_of(library: Library, id_: str) -> Advice | WarningSign:
    """The advice or warning sign with this id."""
    modules: list[Advice | WarningSign] = [*library.advice, *library.warnings]
    (module,) = [module for module in modules if module.id == id_]
    return module


@pytest.mark.parametrize("module", ["pain", "ice", "ice-days"])
def test_a_section_with_only_a_title_keeps_the_text_of_its_module(tmp_path: Path, module: str) -> None:
    """An empty section leaves its module out; one with a title is not empty."""
    shipped, own = clinic(tmp_path), clinic(tmp_path, body=f"## {module}\n# In our words\n")

    before, after = module_of(shipped, module), module_of(own, module)
    assert after == replace(before, title=Text("In our words"))


def test_a_title_of_a_warning_with_a_placeholder_is_refused_since_nothing_fills_it_in(tmp_path: Path) -> None:
    problem = refused(tmp_path, body="## pain\n# Call {clinic_phone}\nIt hurts. Call {clinic_phone}.\n")

    assert (problem.fault, line(problem)) == (Fault.UNKNOWN_PLACEHOLDER, 13)
    assert problem.subject == ("{clinic_phone}",)


@pytest.mark.parametrize("words", ["# A title\n", "A paragraph.\n"])
def test_text_before_the_first_module_is_refused_since_no_sheet_shows_it(tmp_path: Path, words: str) -> None:
    problem = refused(tmp_path, body=words)

    assert (problem.fault, line(problem)) == (Fault.BAD_MARKDOWN, 12)


@pytest.mark.parametrize("numbers", ["[15, 16, 20]", "[]"])
def test_a_figure_of_the_clinic_is_one_number_or_two(tmp_path: Path, numbers: str) -> None:
    problem = refused(tmp_path, "languages: [en]", f"languages: [en]\nfigures: {{ice_minutes: {numbers}}}")

    assert (problem.fault, line(problem), problem.subject) == (Fault.BAD_VALUE, 11, ("ice_minutes",))


def test_an_unknown_module_is_refused_with_a_suggestion(tmp_path: Path) -> None:
    problem = refused(tmp_path, body="## icee\nCool it.\n")

    assert (problem.fault, problem.suggestion) == (Fault.UNKNOWN_NAME, "ice")


def test_a_clinics_own_wording_is_checked_against_the_house_rules(tmp_path: Path) -> None:
    assert refused(tmp_path, body="## ice\nCool it for 90 minutes, then {ice_minutes}.\n").fault is Fault.DIGITS_IN_TEXT


def test_a_clinics_own_figure_is_used_and_must_be_inside_the_published_range(tmp_path: Path) -> None:
    library = clinic(tmp_path, "languages: [en]", "languages: [en]\nfigures: {raise_hours: 48}")
    problem = refused(tmp_path, "languages: [en]", "languages: [en]\nfigures: {raise_hours: 12}")

    assert library.figures["raise_hours"].high == 48
    assert (problem.fault, line(problem)) == (Fault.OUTSIDE_PUBLISHED_RANGE, 11)
