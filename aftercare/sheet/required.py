"""Lists the facts that every sheet must give; compose refuses a sheet without one of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from aftercare.errors import Fault, Problem
from aftercare.library.body import Extremity
from aftercare.library.devices import Device, Material
from aftercare.library.modules import ExclusiveModules
from aftercare.sheet.choices import Choices
from aftercare.sheet.sheet import FullSheet, Passage, Section, Sign, SignGroup

# Agreed among the published leaflets and the trauma standard on compartment syndrome (BOA standard, 2014).
EVERY_SHEET = frozenset(
    {
        "pain_out_of_proportion",
        "stretch_pain",
        "tightness",
        "numbness",
        "cannot_move",
        "color_or_cold",
        "swelling",
        "burning",
        "infection",
        "wet_or_broken",
        "nothing_inside",
        "no_self_removal",
        "keep_dry",
        "raise",
        "ice",
        "move",
        "who_to_call",
    }
)
# Immobilizing a leg causes clots (Emerg Med J 2011;28:718 and 2023;40:67), so every lower-extremity sheet names their signs.
LOWER_EXTREMITY = frozenset({"calf_signs", "chest_signs", "weight_order"})
BY_OPTION = {
    "wires": frozenset({"pin_infection"}),
    "small-child": frozenset({"child_signs"}),
    "cannot-tell-pain": frozenset({"child_signs"}),
}


def required(device: Device, options: Iterable[str] = ()) -> frozenset[str]:
    """The facts that a sheet for this device must give when the options with these ids are true of the patient."""
    facts = set(EVERY_SHEET)
    if device.extremity is Extremity.LOWER:
        facts |= LOWER_EXTREMITY
    for option in options:
        facts |= BY_OPTION.get(option, frozenset())
    return frozenset(facts)


def contradicting(
    exclusive: Iterable[ExclusiveModules], groups: Iterable[SignGroup[Sign]], sections: Iterable[Section[Passage]]
) -> list[Problem]:
    """One problem for each two modules of a patient's sheet that exclude each other."""
    ids = {item.id for item in _items(groups, sections)}
    return [
        Problem(
            Fault.CONTRADICTION,
            "{} and {} would stand on one sheet: {}.",
            subject=(first, second, rule.why),
            advice="Give one of them an 'applies' or 'not' that excludes the other.",
            where=rule.where,
        )
        for rule in exclusive
        for first, second in combinations([id_ for id_ in rule.modules if id_ in ids], 2)
    ]


def lacking_in_patient(
    choices: Choices, groups: Iterable[SignGroup[Sign]], sections: Iterable[Section[Passage]]
) -> list[Problem]:
    """One problem for each fact required for these choices that no sign or passage of the patient's sheet covers."""
    covered = {fact for item in _items(groups, sections) for fact in item.covers}
    options = (option.id for option in choices.options)
    return _lacking(choices.device, choices.material, required(choices.device, options) - covered)


def lacking_in_full(sheet: FullSheet) -> list[Problem]:
    """One problem for each required fact that the full sheet does not cover for every patient.

    Entries that depend on an option do not count; those that depend on a weight order count where they cover every order.
    """
    covered: set[str] = set()
    weights: dict[str, set[str]] = {}
    for entry in sheet.entries():
        for fact in entry.item.covers:
            if entry.condition.options:
                continue
            if entry.condition.weights:
                weights.setdefault(fact, set()).update(entry.condition.weights)
            else:
                covered.add(fact)
    covered |= {fact for fact, orders in weights.items() if orders >= set(sheet.device.weights)}
    return _lacking(sheet.device, sheet.material, required(sheet.device) - covered)


def _lacking(device: Device, material: Material, facts: Iterable[str]) -> list[Problem]:
    """One problem for each of these facts, by name."""
    return [
        Problem(
            Fault.REQUIRED_MISSING,
            "The sheet for {} in {} would say nothing of {}.",
            subject=(device.id, material.id, fact),
            advice=f"Write a module with 'covers: [{fact}]' that applies to it.",
            where=device.where,
        )
        for fact in sorted(facts)
    ]


def _items(groups: Iterable[SignGroup[Sign]], sections: Iterable[Section[Passage]]) -> Iterator[Sign | Passage]:
    """Every sign, then every passage."""
    yield from (sign for group in groups for sign in group.signs)
    yield from (passage for section in sections for passage in section.passages)
