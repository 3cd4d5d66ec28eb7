"""Converts parsed content files, but for those of devices, into frozen types, with one function for each kind of file."""

from __future__ import annotations

from aftercare.errors import Fault, Problem
from aftercare.library.body import Extremity, Limb
from aftercare.library.devices import Family, Kind
from aftercare.library.figures import UNITS, Figure
from aftercare.library.header import Fields
from aftercare.library.modules import Advice, Applies, ExclusiveModules, Option, Tier, Topic, Trait, WarningSign, Weight
from aftercare.library.source import Source
from aftercare.library.text import BlockKind, Text

APPLIES_KEYS = ("devices", "kinds", "nouns", "limbs", "extremities", "materials", "families", "traits", "options", "weights")


def read_applies(fields: Fields) -> Applies:
    """Read an `applies:` or `not:` mapping; names of other files are checked when all are read (names.name_problems)."""
    vocabularies = {
        "kinds": tuple(Kind),
        "limbs": tuple(Limb),
        "extremities": tuple(Extremity),
        "families": tuple(Family),
        "traits": tuple(Trait),
    }
    applies = Applies(**{key: fields.words(key, vocabularies.get(key)) for key in APPLIES_KEYS})
    fields.done()
    return applies


def read_advice(source: Source, topics: tuple[str, ...]) -> Advice:
    """Read an advice module."""
    header = source.header
    why = header.text("why", "")
    advice = Advice(
        id=header.text("id"),
        topic=header.word("topic", topics),
        order=header.whole("order"),
        title=source.title,
        blocks=source.blocks,
        why=Text(why, header.place("why")) if why else None,
        applies=read_applies(header.inside("applies")),
        unless=read_applies(header.inside("not")),
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
    """Read a warning sign: its name for staff, and one paragraph for the patient."""
    header = source.header
    if len(source.blocks) != 1 or source.blocks[0].kind is not BlockKind.PARAGRAPH:
        header.blame(Fault.BAD_MARKDOWN, "A warning has exactly one paragraph: the sign in the patient's words.")
    warning = WarningSign(
        id=header.text("id"),
        tier=Tier(header.word("tier", tuple(Tier))),
        order=header.whole("order"),
        title=source.title,
        sign=source.blocks[0].text if source.blocks else Text("", source.where),
        why=Text(header.text("why"), header.place("why")),
        picture=header.text("picture", ""),
        applies=read_applies(header.inside("applies")),
        unless=read_applies(header.inside("not")),
        covers=header.words("covers"),
        sources=header.words("sources"),
        where=source.where,
    )
    header.done()
    return warning


def read_option(source: Source) -> Option:
    """Read an option that the nurse can tick: its name, and below it notes for staff."""
    header = source.header
    option = Option(
        id=header.text("id"),
        bit=header.whole("bit"),
        label=source.title,
        condition=Text(header.text("condition"), header.place("condition")),
        applies=read_applies(header.inside("applies")),
        unless=read_applies(header.inside("not")),
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
    """Read the figures; `range_problem` compares a figure with its published range."""
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
    """Read the sections of a sheet, in file order."""
    topics = {}
    for key in fields.keys():
        inner = fields.inside(key)
        topics[key] = Topic(key, Text(inner.text("title"), fields.place(key)), inner.text("picture"))
        inner.done()
    return topics


def read_weights(fields: Fields) -> dict[str, Weight]:
    """Read the weight orders."""
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
    """Read the groups of modules that may not stand together."""
    groups = []
    for key in fields.keys():
        inner = fields.inside(key)
        groups.append(ExclusiveModules(inner.words("modules", needed=True), inner.text("why"), fields.place(key)))
        inner.done()
    return tuple(groups)
