"""The waits by which a phone works out a patient's own dates belong to just those patients whom the advice is for."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused
from aftercare.library.catalogue import load_library
from aftercare.page.times import Wait, waits
from aftercare.sheet.sheet import Condition
from tests.composed import full_sheet
from tests.dated_advice import advice_for_both
from tests.small_world import FILES, advice, small_world


def waits_of(device: str, folder: Path, changed: dict[str, str | None]) -> dict[str, Wait]:
    library = load_library(small_world(folder, changed))
    return {wait.name: wait for wait in waits(library, full_sheet(library, device, "plaster"))}


arm_waits, leg_waits = partial(waits_of, "arm-cast"), partial(waits_of, "leg-cast")


def test_a_date_is_for_those_whom_the_advice_that_names_it_is_for(tmp_path: Path) -> None:
    assert arm_waits(tmp_path, {})["ice_until"].condition == Condition(without=("numb",))


@pytest.mark.parametrize(("figure", "date"), [("ice_days", "ice_until"), ("raise_hours", "raise_until")])
def test_a_date_of_advice_under_an_option_and_a_weight_order_asks_for_both(tmp_path: Path, figure: str, date: str) -> None:
    dates = leg_waits(tmp_path, advice_for_both(figure))

    assert dates[date].condition == Condition(options=("cold",), weights=("full",))


def test_advice_that_no_page_gives_has_no_date(tmp_path: Path) -> None:
    assert "ice_until" not in arm_waits(tmp_path, {"advice/ice-days.md": None})


def test_a_figure_named_for_different_patients_is_refused_at_its_line(tmp_path: Path) -> None:
    also = FILES["advice/care.md"] + "- Ice it for: {ice_days}.\n"
    with pytest.raises(Refused) as refused:
        arm_waits(tmp_path, {"advice/care.md": also})

    (problem,) = refused.value.problems
    assert problem.where
    assert (problem.fault, problem.where.path.rsplit("/", 1)[1]) == (Fault.CONTRADICTION, "ice-days.md")


def test_every_figure_named_for_different_patients_is_refused_at_once(tmp_path: Path) -> None:
    lines = "- Ice it for: {ice_days}.\n- Raise it for: {raise_hours}.\n"
    elsewhere = advice("elsewhere", more="applies: {options: [swelling]}", text=lines)
    with pytest.raises(Refused) as refused:
        arm_waits(tmp_path, elsewhere)

    places = [(problem.where.path.rsplit("/", 1)[1], problem.subject) for problem in refused.value.problems if problem.where]
    assert places == [("elsewhere.md", ("{raise_hours}",)), ("ice-days.md", ("{ice_days}",))]


def test_a_date_to_walk_from_is_for_those_who_may_walk(tmp_path: Path) -> None:
    assert leg_waits(tmp_path, {})["walk_from"].condition == Condition(weights=("full",))


def test_an_early_look_is_for_those_whose_option_asks_for_one(tmp_path: Path) -> None:
    assert arm_waits(tmp_path, {})["early_until"].condition == Condition(options=("swelling",))


def test_what_must_dry_must_dry_for_everyone(tmp_path: Path) -> None:
    assert arm_waits(tmp_path, {})["dry_by"].condition == Condition()
