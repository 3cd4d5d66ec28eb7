"""The waits by which a phone works out a patient's own dates belong to just those patients whom the advice is for."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused
from aftercare.library.catalogue import load_library
from aftercare.page.times import Wait, waits
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from tests.small_world import FILES, small_world


def arm_waits(folder: Path, changed: dict[str, str | None]) -> dict[str, Wait]:
    library = load_library(small_world(folder, changed))
    choices = Choices(library.devices["arm-cast"], library.materials["plaster"], everyone=True)
    return {wait.name: wait for wait in waits(library, compose(library, choices))}


def test_a_date_is_for_those_whom_the_advice_that_names_it_is_for(tmp_path: Path) -> None:
    assert arm_waits(tmp_path, {})["ice_until"].without == ("numb",)


def test_advice_that_no_page_gives_has_no_date(tmp_path: Path) -> None:
    assert "ice_until" not in arm_waits(tmp_path, {"advice/ice-days.md": None})


def test_a_figure_named_for_different_patients_is_refused_at_its_line(tmp_path: Path) -> None:
    also = FILES["advice/care.md"] + "- Ice it for: {ice_days}.\n"
    with pytest.raises(Refused) as refused:
        arm_waits(tmp_path, {"advice/care.md": also})

    (problem,) = refused.value.problems
    assert (problem.fault, problem.where.path.rsplit("/", 1)[1]) == (Fault.CONTRADICTION, "ice-days.md")


def test_a_date_to_walk_from_is_for_those_who_may_walk(tmp_path: Path) -> None:
    library = load_library(small_world(tmp_path))
    choices = Choices(library.devices["leg-cast"], library.materials["plaster"], everyone=True)
    found = {wait.name: wait for wait in waits(library, compose(library, choices))}
    assert found["walk_from"].only == ("full",)


def test_an_early_look_is_for_those_whose_option_asks_for_one(tmp_path: Path) -> None:
    assert arm_waits(tmp_path, {})["early_until"].only == ("swelling",)


def test_what_must_dry_must_dry_for_everyone(tmp_path: Path) -> None:
    dry = arm_waits(tmp_path, {})["dry_by"]
    assert (dry.only, dry.without) == ((), ())
