"""The paper face: one sheet of paper, danger signs and who to call on its first side, what to do on its second."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from pathlib import Path

from markupsafe import Markup

from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.library.modules import URGENT
from aftercare.page.html import SheetRenderer, calls, environment, interpreter, joined, runs, value_text
from aftercare.page.qr import qr_svg
from aftercare.pictures import device_picture
from aftercare.sheet.sheet import Condition, Section


class Size(StrEnum):
    """Text size: 12 pt, or large print of 18 pt (American Council of the Blind: at least 18 pt)."""

    REGULAR = "regular"
    LARGE = "large"


class Reasons(StrEnum):
    """How many of the reasons a sheet gives: a full sheet gives up the advice's first, the danger signs' last.

    With fewer reasons the first side is set closer as well: see `compact` in templates/paper.
    """

    ALL = "all"
    SIGNS = "signs"
    NONE = "none"


# One sheet of paper has two sides; large print may take two sheets.
MOST_SIDES = {Size.REGULAR: 2, Size.LARGE: 4}


@dataclass(frozen=True, slots=True)
class DateCell:
    """One cell of the table of dates; empty `value` is a blank to fill in by hand."""

    label: Markup
    value: Markup


def dates(renderer: SheetRenderer) -> tuple[DateCell, ...]:
    """The dates that this sheet has, each in a cell of its own; the two a nurse writes by hand stay as blanks."""
    values, schedule = renderer.translated.values, renderer.translated.sheet.schedule
    asked = {
        "applied": True,
        "ice_until": schedule.ice_until,
        "raise_until": schedule.raise_until,
        "dry_by": schedule.dry_by,
        "walk_from": schedule.walk_from,
        "early_until": schedule.early_until if schedule.visit_early else None,
        "visit": True,
        "removal": schedule.removal,
    }
    return tuple(
        DateCell(renderer.label(f"date_{name}"), value_text(values[name]) if name in values else Markup(""))
        for name, wanted in asked.items()
        if wanted
    )


def halves(renderer: SheetRenderer, sections: tuple[Section, ...]) -> tuple[tuple[Section, ...], tuple[Section, ...]]:
    """The sections in two columns of about the same length, in order: the cut with the smallest difference."""
    lengths = [_lines(renderer, section) for section in sections]
    best = min(range(len(sections) + 1), key=lambda cut: abs(sum(lengths) - 2 * sum(lengths[:cut])))
    return sections[:best], sections[best:]


# Characters that fit into a line of a half-width column at 12 pt, counted on printed sheets.
_COLUMN = 42


def _lines(renderer: SheetRenderer, section: Section) -> float:
    """Lines this section takes in a column, roughly; headings are a little taller than lines."""
    lines = 1.6
    for passage in section.passages:
        texts = [block.text for block in passage.blocks]
        lines += sum(ceil(len(renderer.plain(text)) / _COLUMN) for text in texts) + bool(passage.title)
    return lines


def paper_page(
    translated: TranslatedSheet, address: str, paper: Paper, size: Size, templates: Path, reasons: Reasons = Reasons.ALL
) -> str:
    """The whole page as HTML, without its stylesheet."""
    renderer = SheetRenderer(translated, value_text)
    sheet, choices = translated.sheet, translated.sheet.choices
    side = renderer.label(f"side_{choices.side}") if choices.side else Markup("")
    columns = (sheet.sections,) if size is Size.LARGE else halves(renderer, sheet.sections)
    return (
        environment(templates)
        .get_template("paper/page.html")
        .render(
            sheet=sheet,
            language=translated.language,
            paper=paper,
            size=size,
            reasons=reasons is Reasons.ALL,
            sign_reasons=reasons is not Reasons.NONE,
            compact=reasons is Reasons.NONE or (reasons is Reasons.SIGNS and size is Size.REGULAR),
            staff_first=reasons is Reasons.NONE and size is Size.REGULAR,
            html=renderer.html,
            label=renderer.label,
            plain=renderer.plain,
            runs=runs,
            when=_settled,
            pictogram=_as_background,
            identity=joined([renderer.html(sheet.name), renderer.html(sheet.material), side]),
            clinic_name=value_text(translated.values["clinic_name"]),
            urgent=tuple(group for group in sheet.groups if group.tier in URGENT),
            later=tuple(group for group in sheet.groups if group.tier not in URGENT),
            columns=columns,
            calls=calls(renderer),
            interpreter=interpreter(renderer),
            dates=dates(renderer),
            address=address,
            qr=Markup(qr_svg(address, renderer.plain(sheet.labels["qr_title"]))),
            picture=Markup(_picture(renderer)),
            teach_back=tuple(
                renderer.label(id_) for id_ in sheet.labels if id_.startswith("teach_back_") and id_ != "teach_back_title"
            ),
            draft=draft(renderer),
            edition=translated.edition,
        )
    )


def _picture(renderer: SheetRenderer) -> str:
    choices = renderer.translated.sheet.choices
    child = any(option.child for option in choices.options)
    name = renderer.plain(renderer.translated.sheet.name)
    return device_picture(choices.device, choices.material, choices.side, name, child=child)


def draft(renderer: SheetRenderer) -> Markup:
    """The sentence that says what still waits for approval; empty when nothing does."""
    translated = renderer.translated
    waiting = {(True, True): "draft_both", (True, False): "draft_wording", (False, True): "draft_language"}
    id_ = waiting.get((translated.draft_wording, translated.draft_language))
    return renderer.label(id_) if id_ else Markup("")


def _settled(condition: Condition) -> str:
    """On paper nothing is conditional: raises ValueError for a condition that composing left open."""
    if condition:
        raise ValueError(f"A passage on paper still has a condition: {condition}.")
    return ""


def _as_background(_name: str) -> str:
    """Pictograms stand in the stylesheet on paper: decoration for the eye, nothing for a screen reader."""
    return ""
