"""Runs all checks of a clinic's sheets and reports their problems."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from time import perf_counter

from aftercare.check.combinations import cases
from aftercare.check.draft import open_draft
from aftercare.check.grades import grade_problems
from aftercare.check.languages import language_problems
from aftercare.check.layout import layout_problems
from aftercare.check.page_size import page_size_problems
from aftercare.check.rules import passage_problems, sheet_problems
from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.processes import in_processes

# The parts of a check, by the names that people read.
COMPOSING, WEIGHING, LAYING_OUT = "composing", "weighing phone pages", "laying out"
# Called with the part and with the numbers of its finished steps and of all its steps.
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Report:
    """The numbers of sheets that were composed and laid out, and every problem once.

    `skipped` are sentences on what was not checked, `seconds` the duration of each part.
    """

    composed: int
    problems: tuple[Problem, ...]
    skipped: tuple[str, ...] = ()
    laid_out: int = 0
    seconds: Mapping[str, float] = field(default_factory=dict, compare=False)


def check(desk: Desk, *, jobs: int = 2, layout: bool = True, progress: Progress = lambda _part, _done, _total: None) -> Report:
    """Check all sheets of a clinic in `jobs` processes; without `layout`, not their pages, which take the longest.

    Raises RuntimeError where a process was killed.
    """
    skipped, laid_out, seconds = [], 0, {}
    problems = [*desk.clinic.unset]
    composed, started = 0, perf_counter()
    devices = tuple(desk.library.devices)
    reports = in_processes(partial(open_draft, desk.places, desk.home), device_report, devices, jobs)
    for number, report in enumerate(reports, 1):
        composed += report.composed
        problems += report.problems
        progress(COMPOSING, number, len(devices))
    seconds[COMPOSING] = perf_counter() - started
    problems += chain.from_iterable(language_problems(desk).values())
    if desk.clinic.unset:
        skipped.append("Reading grade, paper and phone pages: they need the clinic's own phone numbers and hours.")
    elif not layout:
        skipped.append("Paper and phone pages.")
    elif any(problem.fault is Fault.REQUIRED_MISSING for problem in problems):
        # Their pages would have the same problems again.
        skipped.append("Paper and phone pages: some sheets cannot be composed.")
    else:
        started = perf_counter()
        problems += page_size_problems(desk.as_draft())
        seconds[WEIGHING] = perf_counter() - started
        started = perf_counter()
        laid_out, of_layout = layout_problems(desk, jobs=jobs, progress=partial(progress, LAYING_OUT))
        problems += of_layout
        seconds[LAYING_OUT] = perf_counter() - started
    return Report(composed, tuple(dict.fromkeys(problems)), tuple(skipped), laid_out, seconds)


def device_report(desk: Desk, device_id: str) -> Report:
    """Check one device in each of its materials: its passages, the sheets of all `cases`, and their reading grades."""
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
