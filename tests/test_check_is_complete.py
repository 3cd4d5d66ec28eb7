"""Tests that the cases of `check` suffice, by brute force over every set of options."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from aftercare.check.combinations import cases, compatible
from aftercare.errors import Problem, Refused
from aftercare.library.catalogue import Library
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import settle
from aftercare.sheet.sheet import FullSheet, Passage, Sign
from aftercare.sheet.validate import options_for, weights_for
from tests.composed import all_choices, full_sheet
from tests.small_world import FILES, advice, option, small_library, without_fact


def states(library: Library, full: FullSheet, tried: Iterable[Choices]) -> set[tuple[str, frozenset[str]]]:
    """What every problem depends on: the modules that cover each fact, each list, and the modules of each rule on one sheet."""
    reached = set()
    for choices in tried:
        sheet = settle(library, full, choices)
        signs = {group.tier: frozenset(sign.id for sign in group.signs) for group in sheet.groups}
        passages = [passage for section in sheet.sections for passage in section.passages]
        items: list[Passage | Sign] = [*passages, *(sign for group in sheet.groups for sign in group.signs)]
        reached |= {(f"tier {tier}", ids) for tier, ids in signs.items()}
        reached |= {("passage", frozenset({passage.id})) for passage in passages}
        for fact in {fact for item in items for fact in item.covers}:
            reached.add((f"fact {fact}", frozenset(item.id for item in items if fact in item.covers)))
        for rule in library.exclusive:
            reached.add((f"exclusive {rule.where}", frozenset(item.id for item in items if item.id in rule.modules)))
    return reached


def refusals(library: Library, full: FullSheet, tried: Iterable[Choices]) -> set[Problem]:
    """Every problem for which one of these choices is refused."""
    problems: set[Problem] = set()
    for choices in tried:
        try:
            settle(library, full, choices)
        except Refused as refused:
            problems |= set(refused.problems)
    return problems


def fewest_options(library: Library) -> list[tuple[str, str]]:
    """The three devices to which the fewest options apply, each in its first material."""
    pairs = [(device, library.materials[device.materials[0]]) for device in library.devices.values()]
    counted = sorted((len(options_for(library, device, material)), device.id, material.id) for device, material in pairs)
    return [(device, material) for _, device, material in counted[:3]]


@pytest.mark.parametrize("place", range(3))
def test_check_reaches_every_state_that_brute_force_reaches_on_real_devices(library: Library, place: int) -> None:
    device, material = fewest_options(library)[place]
    full = full_sheet(library, device, material)
    every = list(all_choices(library, device, material))
    tried = list(cases(library, full))
    assert len(every) > len(tried) or {case.options for case in every} == {case.options for case in tried}
    assert states(library, full, every) == states(library, full, tried)


def test_check_reports_every_problem_that_brute_force_finds(tmp_path: Path) -> None:
    changed: dict[str, str | None] = {
        **without_fact("raise"),
        **{key: text for bit, id_ in enumerate("cdefg", 2) for key, text in option(id_, bit).items()},
        **option("h", 7, "conflicts: [c]"),
        **option("wires", 8),
        **advice("up", "covers: [raise]\nnot: {options: [c, d]}"),
        **advice("up-c", "covers: [raise]\napplies: {options: [c]}\nnot: {options: [d]}"),
        **advice("pins", "covers: [pin_infection]\nnot: {options: [e]}"),
        **advice("one", "applies: {options: [f]}"),
        **advice("two", "applies: {options: [g]}\nnot: {options: [h]}"),
        "exclusive.yaml": FILES["exclusive.yaml"] + "pair: {why: they disagree, modules: [one, two]}\n",
    }
    library = small_library(tmp_path, changed)
    full = full_sheet(library, "arm-cast", "plaster")
    every = list(all_choices(library, "arm-cast", "plaster"))
    tried = list(cases(library, full))
    assert len(tried) < len(every) / 4
    assert refusals(library, full, tried) == refusals(library, full, every)
    assert len(refusals(library, full, every)) == 3


def test_every_case_can_be_chosen_and_comes_once(library: Library) -> None:
    tried = list(cases(library, full_sheet(library, "short-leg-cast", "fiberglass")))
    assert all(compatible(case.options, case.weight) for case in tried)
    assert len({(case.options, case.weight) for case in tried}) == len(tried)


def test_every_option_is_tried_under_every_weight_order_it_agrees_with(library: Library) -> None:
    tried = list(cases(library, full_sheet(library, "short-leg-walking-cast", "fiberglass")))
    device, material = library.devices["short-leg-walking-cast"], library.materials["fiberglass"]
    for weight in weights_for(library, device):
        options = {option for option in options_for(library, device, material) if compatible((option,), weight)}
        assert {option for case in tried if case.weight == weight for option in case.options} == options
