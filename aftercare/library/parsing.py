"""Converts parsed content files into frozen types, with one function for each kind; device_parsing.py has two more."""

from __future__ import annotations

import dataclasses

from aftercare.errors import Fault, Problem
from aftercare.library.body import Extremity, Limb
from aftercare.library.devices import Family, Kind
from aftercare.library.figures import UNITS, Figure
from aftercare.library.header import Fields
from aftercare.library.modules import Advice, Applies, ExclusiveModules, Option, Tier, Topic, Trait, WarningSign, Weight
from aftercare.library.source import Source
from aftercare.library.text import Text


def _applies(header: Fields, key: str) -> Applies:
    """Convert the mapping `applies` or `not`; names in other files are checked when all are read (names.name_problems)."""
    mapping = header.inside(key)
    vocabularies = {
        "kinds": tuple(Kind),
        "limbs": tuple(Limb),
        "extremities": tuple(Extremity),
        "families": tuple(Family),
        "traits": tuple(Trait),
    }
    applies = Applies(
        **{field.name: mapping.words(field.name, vocabularies.get(field.name)) for field in dataclasses.fields(Applies)}
    )
    mapping.done()
    return applies


def read_advice(source: Source, topics: tuple[str, ...]) -> Advice:
    """Convert an advice module."""
    header = source.header
    why = header.text("why", "")
    advice = Advice(
        id=header.text("id"),
        topic=header.word("topic", topics),
        order=header.whole("order"),
        title=source.title,
        blocks=source.blocks,
        why=Text(why, header.place("why")) if why else None,
        applies=_applies(header, "applies"),
        unless=_applies(header, "not"),
        covers=header.words("covers"),
        meanwhile=header.flag("meanwhile", False),
        sources=header.words("sources"),
        where=source.where,
    )
    if not source.blocks:
        header.blame(Fault.BAD_MARKDOWN, "This advice has no text.", advice="Write a paragraph or a list below the title.")
    header.done()
    return advice


def read_warning(source: Source) -> WarningSign:
    """Convert a warning sign: its name for staff, and one paragraph for the patient."""
    header = source.header
    warning = WarningSign(
        id=header.text("id"),
        tier=Tier(header.word("tier", tuple(Tier))),
        order=header.whole("order"),
        title=source.title,
        sign=source.paragraph("A warning has exactly one paragraph: the sign in the patient's words."),
        why=Text(header.text("why"), header.place("why")),
        picture=header.text("picture", ""),
        applies=_applies(header, "applies"),
        unless=_applies(header, "not"),
        covers=header.words("covers"),
        sources=header.words("sources"),
        where=source.where,
    )
    header.done()
    return warning


def read_option(source: Source) -> Option:
    """Convert an option that the nurse can tick: its name, and below it notes for staff."""
    header = source.header
    option = Option(
        id=header.text("id"),
        bit=header.whole("bit"),
        label=source.title,
        condition=Text(header.text("condition"), header.place("condition")),
        applies=_applies(header, "applies"),
        unless=_applies(header, "not"),
        conflicts=header.words("conflicts"),
        early_visit=header.flag("early-visit", False),
        child=header.flag("child", False),
        needs_removal=header.flag("needs-removal", False),
        notes=tuple(block.text for block in source.blocks),
        where=source.where,
    )
    header.done()
    return option


def read_figures(fields: Fields) -> dict[str, Figure]:
    """Convert the figures; `range_problem` compares a figure with its published range."""
    figures: dict[str, Figure] = {}
    for key in fields.keys():
        inner = fields.inside(key)
        value, published = inner.numbers("value"), inner.numbers("published")
        if not 1 <= len(value) <= 2 or len(published) != 2:
            what = "The figure {} needs 'value: number' or 'value: [low, high]', and 'published: [least, most]'."
            inner.blame(Fault.BAD_VALUE, what, subject=(key,))
            continue
        figures[key] = Figure(
            key,
            value[0],
            value[-1],
            inner.word("unit", UNITS),
            (published[0], published[1]),
            inner.text("source"),
            inner.flag("memory", False),
            fields.place(key),
        )
        inner.done()
    return figures


def range_problem(figure: Figure) -> Problem | None:
    """The problem of a figure outside its published range; None for one inside."""
    least, most = figure.published
    if least <= figure.low <= figure.high <= most:
        return None
    return Problem(
        Fault.OUTSIDE_PUBLISHED_RANGE,
        f"The figure {{}} is {figure.low:g} to {figure.high:g} {figure.unit}, outside the range published in {{}}.",
        subject=(figure.id, figure.source),
        allowed=(f"{least:g} to {most:g}",),
        advice="Choose a value inside that range.",
        where=figure.where,
    )


def read_topics(fields: Fields) -> dict[str, Topic]:
    """Convert the sections of a sheet, in file order."""
    topics = {}
    for key in fields.keys():
        inner = fields.inside(key)
        topics[key] = Topic(key, Text(inner.text("title"), fields.place(key)), inner.text("picture"))
        inner.done()
    return topics


def read_weights(fields: Fields) -> dict[str, Weight]:
    """Convert the weight orders, in file order."""
    weights = {}
    for key in fields.keys():
        inner = fields.inside(key)
        weights[key] = Weight(
            key,
            inner.whole("digit"),
            Text(inner.text("label"), fields.place(key)),
            Text(inner.text("condition"), fields.place(key)),
            inner.flag("walks", False),
            fields.place(key),
        )
        inner.done()
    return weights


def read_exclusive(fields: Fields) -> tuple[ExclusiveModules, ...]:
    """Convert the groups of modules that exclude each other."""
    groups = []
    for key in fields.keys():
        inner = fields.inside(key)
        groups.append(ExclusiveModules(inner.words("modules", needed=True), inner.text("why"), fields.place(key)))
        inner.done()
    return tuple(groups)
