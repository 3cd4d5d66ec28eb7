"""The HTML of a printed sheet: danger signs and phone numbers on the first side, advice on the second."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from markupsafe import Markup

from aftercare.language.translated import TranslatedSheet
from aftercare.library.modules import URGENT
from aftercare.page.body import Labels, SectionHtml, SignGroupHtml, passage_html, sign_html
from aftercare.page.html import SheetRenderer, calls, draft, interpreter, joined, value_text
from aftercare.page.qr import qr_svg
from aftercare.page.templates import Templates
from aftercare.pictures import device_picture
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import Schedule
from aftercare.sheet.sheet import Passage, PatientSheet, Section, Sign, SignGroup


class Size(StrEnum):
    """Text size: 12 pt, or large print of 18 pt (American Council of the Blind: at least 18 pt)."""

    REGULAR = "regular"
    LARGE = "large"


class Reasons(StrEnum):
    """Which reasons ("why") a sheet prints: all, those of the danger signs only, or none.

    A sheet that is too long is printed with the next value, and in part with tighter spacing (`compact` in templates/paper).
    """

    ALL = "all"
    SIGNS = "signs"
    NONE = "none"


# Sides of paper: one sheet has two; large print may take two sheets.
MOST_SIDES = {Size.REGULAR: 2, Size.LARGE: 4}


@dataclass(frozen=True, slots=True)
class DateCell:
    """One cell of the table of dates; an empty `value` is a blank to fill in by hand."""

    label: Markup
    value: Markup


def dates(renderer: SheetRenderer, schedule: Schedule) -> tuple[DateCell, ...]:
    """Return the cells of the sheet's dates; `applied` and `visit` are always there, blank where the nurse gave none."""
    values = renderer.translated.values
    applicable = {
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
        for name, applies in applicable.items()
        if applies
    )


def halves(sections: tuple[SectionHtml, ...]) -> tuple[tuple[SectionHtml, ...], tuple[SectionHtml, ...]]:
    """Split the sections, in order, into two columns with the smallest difference in estimated height."""
    heights = [_estimated_lines(section) for section in sections]
    best = min(range(len(sections) + 1), key=lambda cut: abs(sum(heights) - 2 * sum(heights[:cut])))
    return sections[:best], sections[best:]


# Characters in a line of a half-width column at 12 pt, counted on printed sheets.
_COLUMN_CHARACTERS = 42
# Height of a section's heading with the space below it, in lines.
_HEADING_LINES = 1.6


def _estimated_lines(section: SectionHtml) -> float:
    """Estimate the height of a section in a column, in lines, without its reasons."""
    lines = _HEADING_LINES
    for passage in section.passages:
        texts = [text for run in passage.runs for text in run.texts]
        lines += sum(ceil(len(text.striptags()) / _COLUMN_CHARACTERS) for text in texts) + bool(passage.title)
    return lines


def paper_page(
    translated: TranslatedSheet[PatientSheet],
    address: str,
    size: Size,
    templates: Templates,
    reasons: Reasons = Reasons.ALL,
) -> str:
    """Render the page as HTML without its stylesheet; `address` is that of the QR code.

    Raises Refused for an address too long for a QR code, and as `SheetRenderer.html` does.
    """
    renderer = SheetRenderer(translated, value_text)
    sheet, full = translated.sheet, translated.sheet.full
    side = renderer.label(f"side_{sheet.choices.side}") if sheet.choices.side else Markup("")
    groups = tuple(_group(renderer, group) for group in sheet.groups)
    sections = tuple(_section(renderer, section) for section in sheet.sections)
    return templates.render(
        "paper/page.html",
        sheet=full,
        title=renderer.html(full.title),
        purpose=renderer.html(full.purpose),
        labels=Labels(renderer),
        language=translated.language,
        size=size,
        reasons=reasons is Reasons.ALL,
        sign_reasons=reasons is not Reasons.NONE,
        compact=reasons is Reasons.NONE or (reasons is Reasons.SIGNS and size is Size.REGULAR),
        staff_first=reasons is Reasons.NONE and size is Size.REGULAR,
        identity=joined([renderer.html(full.device.name), renderer.html(full.material.name), side]),
        clinic_name=value_text(translated.values["clinic_name"]),
        urgent=tuple(group for group in groups if group.tier in URGENT),
        later=tuple(group for group in groups if group.tier not in URGENT),
        columns=(sections,) if size is Size.LARGE else halves(sections),
        calls=calls(renderer),
        interpreter=interpreter(renderer),
        dates=dates(renderer, sheet.schedule),
        address=address,
        qr=Markup(qr_svg(address, renderer.plain(full.labels["qr_title"]))),
        picture=Markup(_picture(renderer, sheet.choices)),
        teach_back=tuple(
            renderer.label(id_) for id_ in full.labels if id_.startswith("teach_back_") and id_ != "teach_back_title"
        ),
        draft=draft(renderer),
        edition=translated.edition,
    )


def _group(renderer: SheetRenderer, group: SignGroup[Sign]) -> SignGroupHtml:
    return SignGroupHtml(group.tier, renderer.html(group.title), tuple(sign_html(renderer, sign) for sign in group.signs))


def _section(renderer: SheetRenderer, section: Section[Passage]) -> SectionHtml:
    """Return a section without its pictogram: on paper that is a CSS background, which screen readers ignore."""
    passages = tuple(passage_html(renderer, passage) for passage in section.passages)
    return SectionHtml(section.picture, Markup(""), renderer.html(section.title), passages)


def _picture(renderer: SheetRenderer, choices: Choices) -> str:
    child = any(option.child for option in choices.options)
    name = renderer.plain(choices.device.name)
    return device_picture(choices.device, choices.material, choices.side, name, child=child)
