"""Scores of all English sheets on two published instruments, and the report of them, for people and for programs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from aftercare.desk import Desk
from aftercare.language.languages import SOURCE
from aftercare.library.catalogue import Library
from aftercare.page.phone import phone_page
from aftercare.sheet.choices import Choices, describe
from aftercare.sheet.example_dates import with_example_dates
from aftercare.sheet.sheet import Condition, Conditional, FullSheet, ItemT, PatientSheet, Section, SignGroup
from aftercare.sheet.validate import weights_for
from aftercare.understanding.clear_index import INDEX
from aftercare.understanding.instruments import Answer, Item, Scale, ScaleResult, Verdict, score_sheet
from aftercare.understanding.pemat import SCALES
from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet

ALL_SCALES: tuple[Scale, ...] = (*SCALES, INDEX)


@dataclass(frozen=True, slots=True)
class SheetResult:
    """The results of one sheet on every scale, in the order of `ALL_SCALES`; `sheet` describes its choices in words."""

    sheet: str
    results: tuple[ScaleResult, ...]

    @property
    def lost(self) -> tuple[Answer, ...]:
        """The answers that disagree, of all scales."""
        return tuple(answer for result in self.results for answer in result.lost)


def understanding(desk: Desk, progress: Callable[[int, int], None] = lambda _done, _total: None) -> tuple[SheetResult, ...]:
    """Score each device in each of its materials under each weight order, in English and without options, on every scale.

    `progress` is called after each sheet with the number of sheets scored and their total.
    Raises Refused if the clinic's own file is not filled in yet, since its numbers stand on the sheets.
    """
    choices = tuple(_choices(desk.library))
    sheets = []
    for number, chosen in enumerate(choices, 1):
        reviewed = review(desk, chosen)
        sheets.append(SheetResult(describe(chosen), tuple(score_sheet(scale, reviewed) for scale in ALL_SCALES)))
        progress(number, len(choices))
    return tuple(sheets)


def review(desk: Desk, choices: Choices) -> ReviewedSheet:
    """An English sheet with its dates, on paper with all its reasons, and on the phone as this patient sees it."""
    draft = desk.as_draft()
    translated = draft.translate(with_example_dates(choices, desk.clinic.time_zone), SOURCE)
    phone = draft.translate_sheet(unconditional(translated.sheet), SOURCE)
    return ReviewedSheet.of(translated, draft.paper_html(translated), phone_page(phone, desk.frame))


def unconditional(sheet: PatientSheet) -> FullSheet:
    """A full sheet of nothing but what applies to one patient: the phone's script leaves as much of the patient's page."""
    groups = tuple(SignGroup(group.tier, group.title, tuple(map(_always, group.signs))) for group in sheet.groups)
    sections = tuple(
        Section(section.topic, section.title, section.picture, tuple(map(_always, section.passages)))
        for section in sheet.sections
    )
    return replace(sheet.full, groups=groups, sections=sections)


def _always(item: ItemT) -> Conditional[ItemT]:
    return Conditional(item, Condition(), ())


def _choices(library: Library) -> Iterator[Choices]:
    for device in library.devices.values():
        for material in device.materials:
            for weight in weights_for(library, device) or (None,):
                yield Choices(device, library.materials[material], weight=weight)


# ---- the report, for people and for programs ----


def report_lines(sheets: tuple[SheetResult, ...]) -> Iterator[str]:
    """For each scale its lowest score, for each item the verdicts and the passages that fail it; last, what needs a person."""
    for scale_index, scale in enumerate(ALL_SCALES):
        results = [sheet.results[scale_index] for sheet in sheets]
        lowest = min((result.score.percent for result in results), default=0.0)
        verdict = "passes" if lowest >= scale.passes_at else "fails"
        yield f"{scale.name}, items a program can score: {lowest:g} % on the lowest sheet; {verdict} at {scale.passes_at} %."
        for item_index, item in enumerate(scale.items):
            if item.check:
                yield from _item_lines(item, [result.answers[item_index] for result in results])
    yield "For a person to look at; not counted:"
    for scale in ALL_SCALES:
        yield from (f"  {scale.name} {item.number}. {item.asks} Look at: {item.look}" for item in scale.items if item.look)
    lost = sum(bool(sheet.lost) for sheet in sheets)
    yield f"Scored {len(sheets)} sheets; {lost} lose an item."


def _item_lines(item: Item, answers: list[Answer]) -> Iterator[str]:
    counts = ((verdict, sum(answer.verdict is verdict for answer in answers)) for verdict in Verdict)
    yield f"  {item.number}. {item.asks} " + ", ".join(f"{verdict} {count}" for verdict, count in counts if count) + "."
    for offence in dict.fromkeys(offence for answer in answers for offence in answer.offences):
        yield f"     {offence}"


def report_data(sheets: tuple[SheetResult, ...]) -> dict[str, object]:
    """The report as JSON values: `scales` with their items, and `sheets` with the scores, answers and offences of each."""
    return {
        "scales": [
            {"name": scale.name, "passes_at": scale.passes_at, "items": [_item_data(item) for item in scale.items]}
            for scale in ALL_SCALES
        ],
        "sheets": [{"sheet": sheet.sheet, "scales": [_result_data(result) for result in sheet.results]} for sheet in sheets],
    }


def _item_data(item: Item) -> dict[str, object]:
    return {"number": item.number, "asks": item.asks, "scored": item.check is not None, "look": item.look}


def _result_data(result: ScaleResult) -> dict[str, object]:
    return {
        "name": result.scale.name,
        "points": result.score.points,
        "applicable": result.score.applicable,
        "percent": result.score.percent,
        "answers": {str(answer.item.number): answer.verdict.value for answer in result.answers},
        "lost": [
            {"item": answer.item.number, **_offence_data(offence)} for answer in result.lost for offence in answer.offences
        ],
    }


def _offence_data(offence: Offence) -> dict[str, object]:
    file = offence.where.path if offence.where else None
    line = (offence.where.line or None) if offence.where else None
    return {"text": offence.text, "why": offence.why, "file": file, "line": line}
