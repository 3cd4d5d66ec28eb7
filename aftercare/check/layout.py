"""Sheets laid out on paper: a sample in which every two settings meet, each within its sides of paper."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from aftercare.check.pairwise import Setting, covering
from aftercare.errors import Problem, Refused
from aftercare.language.approval import Approvals
from aftercare.language.extraction import messages_of
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.messages import Messages
from aftercare.language.translate import translate
from aftercare.language.translation_files import status
from aftercare.library.catalogue import Library, load_library
from aftercare.page.press import Press
from aftercare.places import Places
from aftercare.sheet.address import address
from aftercare.sheet.choices import describe
from aftercare.sheet.compose import compose
from aftercare.sheet.example_dates import with_example_dates


@dataclass(frozen=True, slots=True)
class Bench:
    """What laying out needs; each process has its own."""

    library: Library
    messages: Mapping[str, Messages]
    press: Press


def sound_languages(library: Library, messages: Mapping[str, Messages]) -> tuple[str, ...]:
    """The clinic's languages in which every sheet can be had."""
    extracted = messages_of(library)
    return tuple(
        tag for tag in library.clinic.languages if tag == SOURCE or not status(extracted, messages[tag], Approvals()).problems
    )


def layout_problems(
    library: Library,
    messages: Mapping[str, Messages],
    places: Places,
    home: Path,
    *,
    jobs: int = 2,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[int, tuple[Problem, ...]]:
    """How many sheets were laid out, and what is wrong with them; `progress` hears how many of how many are done."""
    settings = covering(library, sound_languages(library, messages))
    problems: list[Problem] = []
    bench = Bench(library, messages, Press(places.templates))
    for number, found in enumerate(_laid_out(bench, settings, places, home, jobs), 1):
        problems += found
        if progress:
            progress(number, len(settings))
    return len(settings), tuple(dict.fromkeys(problems))


def setting_problems(bench: Bench, setting: Setting) -> tuple[Problem, ...]:
    """What is wrong with one sheet on paper, each problem saying which sheet."""
    choices = with_example_dates(setting.choices, bench.library.clinic.time_zone)
    sheet = f"{describe(choices)}, in '{setting.language}' on {setting.paper}, {setting.size} print"
    try:
        translated = translate(
            compose(bench.library, choices),
            LANGUAGES[setting.language],
            bench.messages.get(setting.language),
            bench.library.clinic,
            Approvals(),  # nothing approved: the draft marks take their lines too
        )
        code = address(bench.library.clinic, choices, setting.language, translated.edition)
        bench.press.sheet(translated, code, setting.paper, setting.size)
    except Refused as refused:
        return tuple(
            replace(problem, what=f"{sheet}: {problem.what}", where=problem.where or choices.device.where)
            for problem in refused.problems
        )
    return ()


def _laid_out(
    bench: Bench, settings: tuple[Setting, ...], places: Places, home: Path, jobs: int
) -> Iterator[tuple[Problem, ...]]:
    if jobs == 1:
        yield from (setting_problems(bench, setting) for setting in settings)
        return
    with ProcessPoolExecutor(jobs, initializer=_open, initargs=(places, home, bench.messages)) as pool:
        yield from pool.map(_problems, settings)


_bench: Bench


def _open(places: Places, home: Path, messages: Mapping[str, Messages]) -> None:
    global _bench
    _bench = Bench(load_library(places, home), messages, Press(places.templates))


def _problems(setting: Setting) -> tuple[Problem, ...]:
    return setting_problems(_bench, setting)
