"""Lists the facts that every sheet must state, whatever the content files say; compose refuses a sheet without one."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from aftercare.errors import Fault, Problem
from aftercare.library.body import Extremity
from aftercare.library.modules import ExclusiveModules
from aftercare.sheet.choices import Choices
from aftercare.sheet.sheet import Passage, Section, Sign, SignGroup

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


def required(choices: Choices) -> frozenset[str]:
    """The facts that a sheet for these choices must state."""
    facts = set(EVERY_SHEET)
    if choices.device.extremity is Extremity.LOWER:
        facts |= LOWER_EXTREMITY
    for option in choices.options:
        facts |= BY_OPTION.get(option.id, frozenset())
    return frozenset(facts)


def contradicting(
    exclusive: Iterable[ExclusiveModules], groups: Iterable[SignGroup], sections: Iterable[Section]
) -> list[Problem]:
    """Find each two modules on the sheet that may not stand together."""
    ids = {sign.id for group in groups for sign in group.signs} | {p.id for section in sections for p in section.passages}
    return [
        Problem(
            Fault.CONTRADICTION,
            "{} and {} would stand on one sheet: {}.",
            subject=(first, second, rule.why),
            advice="Exclude one of them with an 'applies' or 'not' in its header.",
            where=rule.where,
        )
        for rule in exclusive
        for first, second in combinations([id_ for id_ in rule.modules if id_ in ids], 2)
    ]


def lacking(choices: Choices, groups: Iterable[SignGroup], sections: Iterable[Section]) -> list[Problem]:
    """Find each required fact that no passage covers.

    On the phone page a passage under a condition counts only where, together with others, it covers every weight order.
    """
    items: list[Passage | Sign] = [sign for group in groups for sign in group.signs]
    items += [passage for section in sections for passage in section.passages]
    covered: set[str] = set()
    by_weight: dict[str, set[str]] = {}
    for item in items:
        for fact in item.covers:
            if item.condition.weights and not item.condition.options:
                by_weight.setdefault(fact, set()).update(item.condition.weights)
            elif not item.condition.options:
                covered.add(fact)
    covered |= {fact for fact, weights in by_weight.items() if weights >= set(choices.device.weights)}
    return [
        Problem(
            Fault.REQUIRED_MISSING,
            "The sheet for {} in {} does not cover {}.",
            subject=(choices.device.id, choices.material.id, fact),
            advice="Write a module that applies to it and has this fact under 'covers'.",
            where=choices.device.where,
        )
        for fact in sorted(required(choices) - covered)
    ]
