"""`demo`, `serve` and `publish`: the desk in a browser, and the phone site."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import click

from aftercare.cli.options import home_option, open_desk, port_type
from aftercare.cli.output import progress_bar
from aftercare.demo import run_demo
from aftercare.errors import Problem
from aftercare.language.languages import LANGUAGES
from aftercare.library.clinic import Clinic
from aftercare.places import find_places
from aftercare.site.verify import verify


@click.command()
@click.option("--home", type=click.Path(file_okay=False, path_type=Path), default=Path("demo"), show_default=True)
@click.option("--port", type=port_type, default=8000, show_default=True)
@click.option("--once", is_flag=True, help="Write everything, serve nothing.")
def demo(home: Path, port: int, once: bool) -> None:
    """Set up an invented clinic, print a sample sheet, publish its phone site and serve both."""
    run_demo(find_places(), home, port, datetime.now(UTC), once=once, print_line=click.echo)


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", type=port_type, default=8000, show_default=True)
@click.option("--everyone", is_flag=True, help="Let other machines of the network in; the desk asks for no password.")
@home_option
def serve(host: str, port: int, everyone: bool, home: Path | None) -> None:
    """Serve the desk, where a nurse makes and prints sheets."""
    from aftercare.web import create_app
    from aftercare.web.serving import serve as serve_app

    address = f"http://[{host}]:{port}/" if ":" in host else f"http://{host}:{port}/"
    app = create_app(find_places(), home)
    ready = partial(click.echo, f"The desk is at {address} until you press Ctrl-C.")
    serve_app(app, host, port, everyone=everyone, ready=ready)


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@click.option("--verify", "address", metavar="URL", help="Write nothing; compare what a host serves at URL with FOLDER.")
@home_option
def publish(folder: Path, address: str | None, home: Path | None) -> None:
    """Write the phone site to FOLDER, all or nothing, rewriting only what changed."""
    desk = open_desk(home)
    if address:
        verify_site(folder, address, desk.clinic)
        return
    with progress_bar("Pages") as progress:
        on_wait = partial(click.echo, f"Waiting for another publication into {folder} to end.", err=True)
        published = desk.publish(folder, progress=progress, on_wait=on_wait)
    click.echo(
        f"Wrote {len(published.written)} files, left {published.unchanged} unchanged, "
        f"archived {len(published.archived)} earlier editions, withdrew {len(published.withdrawn)} codes."
    )
    for tag, count in published.untranslated.items():
        what = f"{count} sheets have no {LANGUAGES[tag].english_name} page as they read now"
        click.echo(f"{what}: sentences wait for a translation. See 'translate status'.", err=True)
    if published.retained:
        click.echo(
            f"Left {len(published.retained)} earlier pages of these as they were. They still show the words, phone numbers and "
            "hours from before. Translate what waits, or take the language out of 'languages' in clinic.md: its pages then "
            "lead to the clinic's present number.",
            err=True,
        )
    for caution in desk.clinic.cautions:
        click.echo(f"Caution: {caution}", err=True)


def verify_site(folder: Path, address: str, clinic: Clinic) -> None:
    """Prints how the files that a host serves differ from those in the folder; exit code 1 if any does."""
    with progress_bar("Files") as progress:
        comparison = verify(address, folder, progress=progress)
    for line in grouped_lines(comparison.differences):
        click.echo(line, err=True)
    for problem in comparison.advice:
        click.echo(f"Advice: {problem}", err=True)
    if address != clinic.phone_site:
        click.echo(
            f"Advice: Sheets lead to {clinic.phone_site or 'no address yet'}, as 'phone-site' in clinic.md says.", err=True
        )
    click.echo(f"{comparison.equal} files are served as published, {len(comparison.differences)} are not.")
    if comparison.differences:
        sys.exit(1)


def grouped_lines(problems: Iterable[Problem]) -> Iterator[str]:
    """One line for all problems with the same sentence: the first of them, and how many more files have it."""
    by_sentence: dict[str, list[Problem]] = {}
    for problem in problems:
        by_sentence.setdefault(problem.sentence(), []).append(problem)
    for first, *more in by_sentence.values():
        yield f"{first} (So are {len(more)} more.)" if more else str(first)
