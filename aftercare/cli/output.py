"""What several commands print: problems, JSON and progress bars."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager

import click

from aftercare.errors import Problem


def print_problems(problems: Iterable[Problem]) -> None:
    """Prints each problem on a line of standard error."""
    for problem in problems:
        click.echo(str(problem), err=True)


def print_json(data: object) -> None:
    """Prints data on standard output as JSON."""
    click.echo(json.dumps(data, ensure_ascii=False, indent=1))


def problems_data(problems: Iterable[Problem]) -> list[dict[str, object]]:
    """The problems in types that JSON has; see `Problem.as_data`."""
    return [problem.as_data() for problem in problems]


@contextmanager
def progress_bar(label: str) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on standard error. Yields a function to call with the steps done and the steps in all."""
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def progress(done: int, total: int) -> None:
            bar.length = total
            bar.update(done - bar.pos)

        yield progress


@contextmanager
def progress_bars() -> Iterator[Callable[[str, int, int], None]]:
    """A progress bar for each of several parts, one after the other.

    Yields a function to call with the name of a part, its steps done and its steps in all. A part begins when the one
    before it is complete.
    """
    with ExitStack() as open_bar:
        bars: dict[str, Callable[[int, int], None]] = {}

        def progress(part: str, done: int, total: int) -> None:
            if part not in bars:
                open_bar.close()
                bars[part] = open_bar.enter_context(progress_bar(part.capitalize()))
            bars[part](done, total)

        yield progress
