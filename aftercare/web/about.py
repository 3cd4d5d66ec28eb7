"""What stands behind the advice: approvals, figures, sources and notes for staff, read from an open desk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.values import measure
from aftercare.library.body import Limb
from aftercare.library.catalogue import Library
from aftercare.library.clinic import Clinic
from aftercare.library.devices import Device, Material
from aftercare.library.figures import Figure
from aftercare.library.modules import Advice, Option, Tier, WarningSign
from aftercare.library.source import Wording
from aftercare.web.about_rows import (
    COMMON_PRACTICE,
    AboutPage,
    Approval,
    DeviceGroup,
    DeviceRow,
    FigureRow,
    ModuleGroup,
    ModuleRow,
    NotesRow,
    Origin,
    SourceLine,
    State,
    UsualTime,
)
from aftercare.web.staff_text import staff_text

_NO_SOURCE = SourceLine("no source named: common practice", True)


def about(desk: Desk) -> AboutPage:
    """Everything the page shows, of the whole catalogue; nothing of it depends on what is chosen at the desk."""
    library, clinic = desk.library, desk.clinic
    wordings = {wording.id: wording for wording in clinic.wordings}
    values = _values(library)
    return AboutPage(
        clinic=clinic.name,
        approvals=(_wording_approval(desk), *_translation_approvals(desk)),
        figures=tuple(_figure(figure, clinic) for figure in library.figures.values()),
        advice=tuple(_topics(library, wordings, values)),
        warnings=tuple(_tiers(library, wordings, values)),
        left_out=tuple(wording.id for wording in clinic.wordings if not wording.blocks and not wording.title),
        devices=tuple(_limbs(library.devices.values())),
        options=tuple(_notes(option.label.message, option) for option in library.options.values()),
        materials=tuple(_notes(material.name.message, material) for material in library.materials.values()),
    )


def _values(library: Library) -> dict[str, str]:
    """The values that a title can name: figures, and what the clinic is called and calls."""
    clinic = library.clinic
    return {id_: measure(figure, LANGUAGES[SOURCE]).text for id_, figure in library.figures.items()} | {
        "clinic_name": clinic.name,
        "clinic_phone": clinic.phone.display,
        "after_hours_phone": clinic.after_hours.display,
        "emergency_number": clinic.emergency.display,
    }


def _wording_approval(desk: Desk) -> Approval:
    clinic, approvals = desk.clinic, desk.approvals
    approved = approvals.wording_approved(clinic)
    state = State.APPROVED if approved else State.CHANGED if clinic.approved_edition else State.DRAFT
    return Approval(
        "English wording and figures",
        state,
        clinic.approved_by,
        clinic.approved_on,
        approvals.wording or "",
        clinic.approved_edition,
    )


def _translation_approvals(desk: Desk) -> Iterator[Approval]:
    """One for each other language that the clinic offers or has an approval of."""
    for tag, language in LANGUAGES.items():
        approval = desk.approvals.languages.get(tag)
        if tag == SOURCE or (tag not in desk.languages and approval is None):
            continue
        name = f"{language.english_name} translation" + ("" if tag in desk.languages else " (not offered here)")
        if approval is None:
            yield Approval(name, State.DRAFT, "", "")
        else:
            approved = desk.approvals.language_approved(desk.messages[tag])
            yield Approval(name, State.APPROVED if approved else State.CHANGED, approval.role, approval.on)


def _figure(figure: Figure, clinic: Clinic) -> FigureRow:
    least, most = figure.published
    return FigureRow(
        id=figure.id,
        value=measure(figure, LANGUAGES[SOURCE]).text,
        published=measure(replace(figure, low=least, high=most), LANGUAGES[SOURCE]).text,
        source=figure.source,
        memory=figure.memory,
        own=figure.id in clinic.figures,
    )


def _topics(library: Library, wordings: Mapping[str, Wording], values: Mapping[str, str]) -> Iterator[ModuleGroup]:
    for topic in library.topics.values():
        modules = tuple(_module(advice, wordings, values) for advice in library.advice if advice.topic == topic.id)
        if modules:
            yield ModuleGroup(staff_text(topic.title, values), modules)


def _tiers(library: Library, wordings: Mapping[str, Wording], values: Mapping[str, str]) -> Iterator[ModuleGroup]:
    for tier in Tier:
        modules = tuple(_module(warning, wordings, values) for warning in library.warnings if warning.tier is tier)
        if modules:
            yield ModuleGroup(staff_text(library.labels[f"tier_{tier.replace('-', '_')}"], values), modules)


def _module(module: Advice | WarningSign, wordings: Mapping[str, Wording], values: Mapping[str, str]) -> ModuleRow:
    wording = wordings.get(module.id)
    origin = Origin.PROGRAM if wording is None else Origin.CLINIC if wording.blocks else Origin.TITLE
    sources = tuple(map(_source, module.sources)) or (_NO_SOURCE,)
    return ModuleRow(module.id, staff_text(module.title, values), origin, sources)


def _source(text: str) -> SourceLine:
    return SourceLine(text, text.endswith(COMMON_PRACTICE)) if text else _NO_SOURCE


def _limbs(devices: Iterable[Device]) -> Iterator[DeviceGroup]:
    known = sorted(devices, key=lambda device: device.name.message)
    for limb in Limb:
        rows = tuple(_device(device) for device in known if device.limb is limb)
        if rows:
            yield DeviceGroup(limb.value.capitalize(), rows)


def _device(device: Device) -> DeviceRow:
    return DeviceRow(
        name=device.name.message,
        also_called=device.also_called,
        first_visit=_usual(device.first_visit_days, "day", device.first_visit_source),
        time_in_device=_usual(device.weeks, "week", device.weeks_source),
        position=device.position,
    )


def _usual(numbers: tuple[int, int] | None, unit: str, source: str) -> UsualTime | None:
    if numbers is None:
        return None
    low, high = numbers
    span = f"{low}" if low == high else f"{low} to {high}"
    return UsualTime(f"{span} {unit}" if high == 1 else f"{span} {unit}s", _source(source))


def _notes(name: str, noted: Option | Material) -> NotesRow:
    return NotesRow(name, tuple(map(staff_text, noted.notes)))
