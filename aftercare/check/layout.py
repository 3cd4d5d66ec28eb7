"""Checks that sheets can be printed and fit on their paper, by a sample with every pair of settings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from aftercare.check.draft import open_draft
from aftercare.check.languages import sound_languages
from aftercare.check.pairwise import Setting, covering
from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.processes import in_processes
from aftercare.sheet.choices import describe
from aftercare.sheet.example_dates import with_example_dates


def layout_problems(
    desk: Desk, *, jobs: int = 2, progress: Callable[[int, int], None] = lambda _done, _total: None
) -> tuple[int, tuple[Problem, ...]]:
    """Print the sample in `jobs` processes. Returns the number of sheets and their problems, each once.

    `progress` is called with the number of printed sheets and of all sheets.
    """
    settings = covering(desk.library, sound_languages(desk))
    problems: dict[Problem, None] = {}
    results = in_processes(partial(open_draft, desk.places, desk.home), setting_problems, settings, jobs)
    for number, result in enumerate(results, 1):
        problems |= dict.fromkeys(result)
        progress(number, len(settings))
    return len(settings), tuple(problems)


def setting_problems(desk: Desk, setting: Setting) -> tuple[Problem, ...]:
    """Print one sheet and return its problems, each with the settings of the sheet in its text."""
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
