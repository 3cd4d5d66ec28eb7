"""What several commands share: the `--home` and `--json` options, the desk of a home, a bar for long work."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import click

from aftercare.desk import Desk
from aftercare.places import find_places

home_option = click.option(
    "--home",
    type=click.Path(file_okay=False, path_type=Path),
    envvar="AFTERCARE_HOME",
    help="The clinic's folder, with its clinic.md.  [env: AFTERCARE_HOME; else content/ of the program]",
)
jobs_type = click.IntRange(min=1)
port_type = click.IntRange(1, 65535)
json_option = click.option("--json", "as_json", is_flag=True, help="For programs to read.")


def open_desk(home: Path | None) -> Desk:
    """The desk of this home."""
    return Desk.open(find_places(), home)


@contextmanager
def bar(label: str) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on standard error; what it yields hears how many of how many are done."""
    with click.progressbar(length=1, label=label, file=sys.stderr) as drawn:

        def progress(done: int, of: int) -> None:
            drawn.length = of
            drawn.update(done - drawn.pos)

        yield progress


@contextmanager
def bars() -> Iterator[Callable[[str, int, int], None]]:
    """A progress bar for each part of a work of several, one after the other; what it yields hears also which part."""
    with ExitStack() as stack:
        drawn: dict[str, Callable[[int, int], None]] = {}

        def progress(part: str, done: int, of: int) -> None:
            if part not in drawn:
                stack.close()  # the bar before this one is full
                drawn[part] = stack.enter_context(bar(part.capitalize()))
            drawn[part](done, of)

        yield progress
