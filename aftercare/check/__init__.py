"""Every check over every combination: all devices, materials, option sets, weight orders and languages to problems."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from pathlib import Path
from time import perf_counter

from aftercare.check.combinations import cases
from aftercare.check.grades import reading_problems
from aftercare.check.layout import layout_problems
from aftercare.check.rules import passage_problems, sheet_problems
from aftercare.check.weight import weight_problems
from aftercare.errors import Fault, Problem, Refused
from aftercare.language.approval import Approvals
from aftercare.language.extraction import messages_of
from aftercare.language.languages import SOURCE
from aftercare.language.messages import Messages
from aftercare.language.translation_files import status
from aftercare.library.catalogue import Library, load_library
from aftercare.places import Places
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose

# The parts of a check, by name; and who hears of which part how many of how many are done.
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


def check(
    library: Library,
    messages: Mapping[str, Messages],
    places: Places,
    home: Path,
    *,
    jobs: int = 2,
    layout: bool = True,
    progress: Progress | None = None,
) -> Report:
    """Everything that can be proven about this clinic's sheets before a patient reads one.

    `jobs` processes share the work; `progress` hears of which part how many of how many are done.
    Without `layout` no page is made for paper or phone, which takes the longest.
    """
    skipped, laid_out, seconds = [], 0, {}
    begun = perf_counter()
    done = Report(0, library.clinic.unset)
    devices = tuple(library.devices)
    for number, part in enumerate(_parts(library, places, home, devices, jobs), 1):
        done = Report(done.composed + part.composed, done.problems + part.problems)
        if progress:
            progress(COMPOSING, number, len(devices))
    seconds[COMPOSING] = perf_counter() - begun
    problems = [*done.problems, *language_problems(library, messages)]
    if library.clinic.unset:
        skipped.append("Reading grade, paper and phone pages: they need the clinic's own phone numbers and hours.")
    elif not layout:
        skipped.append("Paper and phone pages.")
    elif any(problem.fault is Fault.REQUIRED_MISSING for problem in problems):
        skipped.append("Paper and phone pages: some sheets cannot be composed.")
    else:
        begun = perf_counter()
        problems += weight_problems(library, messages, places.templates)
        seconds[WEIGHING] = perf_counter() - begun
        begun = perf_counter()
        told = partial(progress, LAYING_OUT) if progress else None
        laid_out, found = layout_problems(library, messages, places, home, jobs=jobs, progress=told)
        problems += found
        seconds[LAYING_OUT] = perf_counter() - begun
    return Report(done.composed, tuple(dict.fromkeys(problems)), tuple(skipped), laid_out, seconds)


def device_report(library: Library, device_id: str) -> Report:
    """One device in each of its materials: the sheet for everyone, every set of options that can matter, and how all read."""
    device = library.devices[device_id]
    composed, problems = 0, dict[Problem, None]()
    for material in device.materials:
        try:
            whole = compose(library, Choices(device, library.materials[material], everyone=True))
        except Refused as refused:
            problems |= dict.fromkeys(refused.problems)
            continue
        passages = chain.from_iterable(section.passages for section in whole.sections)
        problems |= dict.fromkeys(chain.from_iterable(map(passage_problems, passages)))
        for choices in cases(library, whole):
            composed += 1
            try:
                problems |= dict.fromkeys(sheet_problems(compose(library, choices)))
            except Refused as refused:
                problems |= dict.fromkeys(refused.problems)
        if not library.clinic.unset and not problems:
            problems |= dict.fromkeys(reading_problems(library, device, whole.choices.material))
    return Report(composed, tuple(problems))


def language_problems(library: Library, messages: Mapping[str, Messages]) -> Iterator[Problem]:
    """Every sentence that keeps a sheet from being printed in a language the clinic offers."""
    try:
        extracted = messages_of(library)
    except Refused as refused:
        yield from refused.problems
        return
    for tag in library.clinic.languages:
        if tag != SOURCE:
            yield from status(extracted, messages[tag], Approvals()).problems


def _parts(library: Library, places: Places, home: Path, devices: Iterable[str], jobs: int) -> Iterator[Report]:
    if jobs == 1:
        yield from (device_report(library, device) for device in devices)
        return
    with ProcessPoolExecutor(jobs, initializer=_open, initargs=(places, home)) as pool:
        yield from pool.map(_report, devices)


# The library of a checking process; it is read once there instead of being sent with every device.
_library: Library


def _open(places: Places, home: Path) -> None:
    global _library
    _library = load_library(places, home)


def _report(device_id: str) -> Report:
    return device_report(_library, device_id)
