"""The whole check of a clinic's sheets, and what it found."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from time import perf_counter

from aftercare.check.combinations import cases
from aftercare.check.draft import open_draft
from aftercare.check.grades import grade_problems
from aftercare.check.layout import layout_problems
from aftercare.check.rules import passage_problems, sheet_problems
from aftercare.check.weight import weight_problems
from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.language.approval import Approvals
from aftercare.language.extraction import messages_of
from aftercare.language.languages import SOURCE
from aftercare.language.translation_files import status
from aftercare.processes import in_processes

# The parts of a check, by name; called with the part and how many of how many steps of it are done.
COMPOSING, WEIGHING, LAYING_OUT = "composing", "weighing phone pages", "laying out"
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Report:
    """How many sheets were composed and how many laid out, and every problem found, each once.

    `skipped` says in words what could not be checked, `seconds` how long each part took.
    """

    composed: int
    problems: tuple[Problem, ...]
    skipped: tuple[str, ...] = ()
    laid_out: int = 0
    seconds: Mapping[str, float] = field(default_factory=dict, compare=False)


def check(desk: Desk, *, jobs: int = 2, layout: bool = True, progress: Progress = lambda _part, _done, _total: None) -> Report:
    """Everything that can be proven about this clinic's sheets before a patient reads one.

    `jobs` processes share the work. Without `layout` no page is made for paper or phone, which takes the longest.
    """
    skipped, laid_out, seconds = [], 0, {}
    problems = [*desk.clinic.unset]
    composed, started = 0, perf_counter()
    devices = tuple(desk.library.devices)
    for number, part in enumerate(in_processes(partial(open_draft, desk.places, desk.home), device_report, devices, jobs), 1):
        composed += part.composed
        problems += part.problems
        progress(COMPOSING, number, len(devices))
    seconds[COMPOSING] = perf_counter() - started
    problems += language_problems(desk)
    if desk.clinic.unset:
        skipped.append("Reading grade, paper and phone pages: they need the clinic's own phone numbers and hours.")
    elif not layout:
        skipped.append("Paper and phone pages.")
    elif any(problem.fault is Fault.REQUIRED_MISSING for problem in problems):
        # Laying them out would repeat the same problems for each sheet in each form.
        skipped.append("Paper and phone pages: some sheets cannot be composed.")
    else:
        started = perf_counter()
        problems += weight_problems(desk.as_draft())
        seconds[WEIGHING] = perf_counter() - started
        started = perf_counter()
        laid_out, on_paper = layout_problems(desk, jobs=jobs, progress=partial(progress, LAYING_OUT))
        problems += on_paper
        seconds[LAYING_OUT] = perf_counter() - started
    return Report(composed, tuple(dict.fromkeys(problems)), tuple(skipped), laid_out, seconds)


def device_report(desk: Desk, device_id: str) -> Report:
    """One device in each of its materials: its full sheet, every set of options that can matter, and how all read."""
    composed, problems = 0, dict[Problem, None]()
    for material in desk.library.devices[device_id].materials:
        full = desk.sheets[device_id, material]
        passages = (entry.item for section in full.sections for entry in section.passages)
        problems |= dict.fromkeys(chain.from_iterable(map(passage_problems, passages)))
        for choices in cases(desk.library, full):
            composed += 1
            try:
                problems |= dict.fromkeys(sheet_problems(desk.settle(choices)))
            except Refused as refused:
                problems |= dict.fromkeys(refused.problems)
        if not desk.clinic.unset and not problems:
            problems |= dict.fromkeys(grade_problems(desk, full))
    return Report(composed, tuple(problems))


def language_problems(desk: Desk) -> Iterator[Problem]:
    """Every sentence that keeps a sheet from being printed in a language the clinic offers."""
    extracted = messages_of(desk.sheets.values())
    for tag in desk.clinic.languages:
        if tag != SOURCE:
            yield from status(extracted, desk.messages[tag], Approvals()).problems
