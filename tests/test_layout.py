"""Tests of the layout of a sample of sheets: it has every pair of compatible settings, and long sheets are reported."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import combinations, product
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from aftercare.check.combinations import compatible
from aftercare.check.languages import sound_languages
from aftercare.check.layout import layout_problems, setting_problems
from aftercare.check.pairwise import MOST_TOGETHER, Setting, covering
from aftercare.errors import Fault
from aftercare.language.extraction import messages_of
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.sheet.choices import Choices
from aftercare.sheet.example_dates import with_example_dates
from aftercare.sheet.validate import Picked, choose, options_for, weights_for
from tests.phone_world import demo_desk
from tests.small_world import small_library

LANGUAGES = ("en", "es", "ar")
Pair = frozenset[tuple[str, str]]


def every_setting(library: Library) -> Iterator[Setting]:
    """Every possible sheet, by brute force; only a small world is small enough."""
    for device in library.devices.values():
        for material in (library.materials[id_] for id_ in device.materials):
            options = options_for(library, device, material)
            for weight in weights_for(library, device) or (None,):
                for size in range(len(options) + 1):
                    for picked in combinations(options, size):
                        if compatible(picked, weight):
                            for tag, paper, print_ in product(LANGUAGES, Paper, Size):
                                yield Setting(Choices(device, material, None, picked, weight), tag, paper, print_)


def pairs_on(settings: tuple[Setting, ...], library: Library) -> set[Pair]:
    return {frozenset(two) for setting in settings for two in combinations(setting.items(library).items(), 2)}


def test_the_sample_has_every_pair_of_settings_that_any_sheet_has(tmp_path: Path) -> None:
    library = small_library(tmp_path)
    every = tuple(every_setting(library))
    sample = covering(library, LANGUAGES)
    assert pairs_on(sample, library) == pairs_on(every, library)
    assert len(sample) < len(every) / 5


def test_the_sample_of_all_shipped_devices_is_some_hundreds_of_sheets_that_can_be_chosen(library: Library) -> None:
    sample = covering(library, LANGUAGES)
    assert len(set(sample)) == len(sample) < 400
    for setting in sample:
        choices = setting.choices
        assert len(choices.options) <= MOST_TOGETHER
        removal = "2026-12-23" if any(option.needs_removal for option in choices.options) else ""
        ids = tuple(option.id for option in choices.options)
        weight = choices.weight.id if choices.weight else ""
        picked = Picked(choices.device.id, choices.material.id, "", ids, weight, removal=removal)
        assert choose(library, picked).options == choices.options


def test_each_device_is_laid_out_in_each_material_each_language_each_paper_and_each_size(library: Library) -> None:
    pairs = pairs_on(covering(library, LANGUAGES), library)
    for device in library.devices.values():
        others = [("material", id_) for id_ in device.materials] + [("weight", id_) for id_ in device.weights]
        others += [("language", tag) for tag in LANGUAGES] + [("paper", paper) for paper in Paper]
        others += [("size", size) for size in Size]
        assert all(frozenset({("device", device.id), other}) in pairs for other in others), device.id


def test_each_option_is_laid_out_on_each_device_it_can_apply_to_in_some_material(library: Library) -> None:
    pairs = pairs_on(covering(library, LANGUAGES), library)
    for device in library.devices.values():
        for material in device.materials:
            for option in options_for(library, device, library.materials[material]):
                if any(compatible((option,), weight) for weight in weights_for(library, device) or (None,)):
                    assert frozenset({("device", device.id), (f"option {option.id}", "on")}) in pairs, (device.id, option.id)


def test_a_sheet_is_laid_out_as_full_as_it_can_be(library: Library) -> None:
    zone = ZoneInfo("America/New_York")
    boot = with_example_dates(choose(library, Picked("tall-walker-boot", "walker-boot", weight="full")), zone)
    assert boot.side
    assert boot.applied
    assert boot.visit
    assert boot.removal == date(2026, 10, 21)
    cast = with_example_dates(choose(library, Picked("short-arm-cast", "fiberglass")), zone)
    assert cast.removal is None  # staff alone take it off


def test_a_language_with_an_unsound_sentence_is_not_laid_out() -> None:
    desk = demo_desk()
    assert sound_languages(desk) == desk.clinic.languages
    spanish = desk.messages["es"]
    removed = messages_of(desk.sheets.values())[0].message
    fewer = {message: entry for message, entry in spanish.entries.items() if message != removed}
    broken = replace(desk, messages={**desk.messages, "es": replace(spanish, entries=fewer)})
    assert sound_languages(broken) == ("en", "ar")


def plain(language: str = "en") -> Setting:
    """A sheet without options, on letter in regular print."""
    choices = demo_desk().choose(Picked("short-arm-cast", "fiberglass"))
    return Setting(choices, language, Paper.LETTER, Size.REGULAR)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sheet_that_fits_has_no_problem(language: str) -> None:
    assert setting_problems(demo_desk(), plain(language)) == ()


def test_a_sheet_that_is_too_long_is_reported_with_all_its_choices(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("aftercare.page.printer.MOST_SIDES", {Size.REGULAR: 1})
    (problem,) = setting_problems(demo_desk(), plain())
    assert problem.fault is Fault.TOO_MANY_PAGES
    assert "'short-arm-cast' in 'fiberglass' with no options, in 'en' on letter, regular print" in problem.sentence()
    assert problem.where == demo_desk().device("short-arm-cast").where


@pytest.mark.parametrize("jobs", [1, 2])
def test_progress_is_reported_for_every_sheet(monkeypatch: pytest.MonkeyPatch, jobs: int) -> None:
    steps: list[tuple[int, int]] = []
    settings = covering(demo_desk().library, ("en",))[:2]
    monkeypatch.setattr("aftercare.check.layout.covering", lambda *_: settings)
    laid_out, problems = layout_problems(demo_desk(), jobs=jobs, progress=lambda *step: steps.append(step))
    assert (laid_out, problems) == (2, ())
    assert steps == [(1, 2), (2, 2)]
