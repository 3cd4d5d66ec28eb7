"""How well the sheets are understood, as far as a program can tell: each sheet on two published instruments, item by item."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from aftercare.errors import Refused
from aftercare.language.approval import Approvals
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.translate import translate
from aftercare.library.catalogue import Library
from aftercare.page.paper import Size, paper_page
from aftercare.page.phone import phone_page
from aftercare.sheet.address import address
from aftercare.sheet.choices import Choices, describe
from aftercare.sheet.compose import compose
from aftercare.sheet.example_dates import with_example_dates
from aftercare.sheet.validate import weights_for
from aftercare.understanding.clear_index import INDEX
from aftercare.understanding.instruments import Answer, Item, Scale, ScaleResult, Verdict, mark
from aftercare.understanding.pemat import SCALES
from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet

ALL_SCALES: tuple[Scale, ...] = (*SCALES, INDEX)


@dataclass(frozen=True, slots=True)
class Understood:
    """One sheet, by its choices in words, marked on every scale."""

    sheet: str
    marked: tuple[ScaleResult, ...]

    @property
    def lost(self) -> tuple[Answer, ...]:
        """Every item it loses."""
        return tuple(answer for marked in self.marked for answer in marked.lost)


def understanding(
    library: Library, templates: Path, progress: Callable[[int, int], None] | None = None
) -> tuple[Understood, ...]:
    """Each device in each of its materials under each weight order, in English and without options, on every scale.

    Raises Refused where the clinic's own file is not filled in yet, since its numbers stand on the sheets.
    """
    if library.clinic.unset:
        raise Refused(library.clinic.unset)
    choices = tuple(_choices(library))
    found = []
    for number, chosen in enumerate(choices, 1):
        read = read_sheet(library, templates, chosen)
        found.append(Understood(describe(chosen), tuple(mark(scale, read) for scale in ALL_SCALES)))
        if progress:
            progress(number, len(choices))
    return tuple(found)


def read_sheet(library: Library, templates: Path, choices: Choices) -> ReviewedSheet:
    """An English sheet with its dates, on paper with all its reasons, and on the phone as this patient sees it."""
    full = with_example_dates(choices, library.clinic.time_zone)
    translated = translate(compose(library, full), LANGUAGES[SOURCE], None, library.clinic, Approvals())
    code = address(library.clinic, full, SOURCE, translated.edition)
    paper = paper_page(translated, code, library.clinic.paper, Size.REGULAR, templates)
    return ReviewedSheet.of(translated, paper, phone_page(translated, library, templates))


def _choices(library: Library) -> Iterator[Choices]:
    for device in library.devices.values():
        for material in device.materials:
            for weight in weights_for(library, device) or (None,):
                yield Choices(device, library.materials[material], weight=weight)


# ---- the report, for people and for programs ----


def report_lines(sheets: tuple[Understood, ...]) -> Iterator[str]:
    """Each scale's lowest score; each item with how many sheets agree, and what was lost where; last what needs a person."""
    for number, scale in enumerate(ALL_SCALES):
        marked = [sheet.marked[number] for sheet in sheets]
        low = min((one.score.percent for one in marked), default=0.0)
        verdict = "passes" if low >= scale.passes_at else "fails"
        yield f"{scale.name}, items a program can score: {low:g} % on the lowest sheet; {verdict} at {scale.passes_at} %."
        for place, item in enumerate(scale.items):
            if item.judge:
                yield from _item_lines(item, [one.judged[place] for one in marked])
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


def report_data(sheets: tuple[Understood, ...]) -> dict[str, object]:
    """The same for programs: each sheet with its scores and each item's answer, and the items in words once."""
    return {
        "scales": [
            {"name": scale.name, "passes_at": scale.passes_at, "items": [_item_data(item) for item in scale.items]}
            for scale in ALL_SCALES
        ],
        "sheets": [{"sheet": sheet.sheet, "scales": [_marked_data(one) for one in sheet.marked]} for sheet in sheets],
    }


def _item_data(item: Item) -> dict[str, object]:
    return {"number": item.number, "asks": item.asks, "scored": item.judge is not None, "look": item.look}


def _marked_data(marked: ScaleResult) -> dict[str, object]:
    score = marked.score
    return {
        "name": marked.scale.name,
        "points": score.points,
        "applicable": score.applicable,
        "percent": score.percent,
        "answers": {str(answer.item.number): answer.verdict.value for answer in marked.judged},
        "lost": [
            {"item": answer.item.number, **_offence_data(offence)} for answer in marked.lost for offence in answer.offences
        ],
    }


def _offence_data(offence: Offence) -> dict[str, object]:
    return {"text": offence.text, "why": offence.why, "where": str(offence.where) if offence.where else ""}
