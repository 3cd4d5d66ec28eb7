"""Sheets laid out on paper: a sample in which every two settings meet, each within its sides of paper."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from aftercare.check.draft import open_draft
from aftercare.check.pairwise import Setting, covering
from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.language.approval import Approvals
from aftercare.language.extraction import messages_of
from aftercare.language.languages import SOURCE
from aftercare.language.translation_files import status
from aftercare.processes import in_processes
from aftercare.sheet.choices import describe
from aftercare.sheet.example_dates import with_example_dates


def sound_languages(desk: Desk) -> tuple[str, ...]:
    """The clinic's languages in which every sheet can be had."""
    extracted = messages_of(desk.sheets.values())
    return tuple(
        tag for tag in desk.clinic.languages if tag == SOURCE or not status(extracted, desk.messages[tag], Approvals()).problems
    )


def layout_problems(
    desk: Desk, *, jobs: int = 2, progress: Callable[[int, int], None] = lambda _done, _total: None
) -> tuple[int, tuple[Problem, ...]]:
    """How many sheets were laid out, and what is wrong with them; `progress` is called with how many of how many are done."""
    settings = covering(desk.library, sound_languages(desk))
    problems: dict[Problem, None] = {}
    work = in_processes(partial(open_draft, desk.places, desk.home), setting_problems, settings, jobs)
    for number, of_setting in enumerate(work, 1):
        problems |= dict.fromkeys(of_setting)
        progress(number, len(settings))
    return len(settings), tuple(problems)


def setting_problems(desk: Desk, setting: Setting) -> tuple[Problem, ...]:
    """What is wrong with one sheet on paper, each problem saying which sheet."""
    choices = with_example_dates(setting.choices, desk.clinic.time_zone)
    sheet = f"{describe(choices)}, in '{setting.language}' on {setting.paper}, {setting.size} print"
    try:
        desk.print_sheet(choices, setting.language, setting.paper, setting.size)
    except Refused as refused:
        return tuple(
            replace(problem, what=f"{sheet}: {problem.what}", where=problem.where or choices.device.where)
            for problem in refused.problems
        )
    return ()
