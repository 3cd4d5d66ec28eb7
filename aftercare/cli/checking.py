"""`check`: everything that can be proven before a patient reads it."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from pathlib import Path

import click

from aftercare.check import check as run_check
from aftercare.cli import tell
from aftercare.cli.home import bars, home_option, json_option, open_desk


@click.command()
@click.option("--jobs", default=2, show_default=True, help="Processes to check with.")
@click.option("--layout/--no-layout", default=True, show_default=True, help="Lay sheets out on paper as well.")
@home_option
@json_option
def check(home: Path | None, jobs: int, layout: bool, as_json: bool) -> None:
    """Check every device, material, option, weight order and language of this clinic. Exit code 2 when anything is wrong."""
    desk = open_desk(home)
    with bars() as progress:
        report = run_check(desk.library, desk.messages, desk.places, desk.home, jobs=jobs, layout=layout, progress=progress)
    if as_json:
        found = asdict(report) | {"problems": [str(problem) for problem in report.problems]}
        click.echo(json.dumps(found, ensure_ascii=False, indent=1))
    else:
        tell(report.problems)
        for skipped in report.skipped:
            click.echo(f"Not checked: {skipped}")
        for part, seconds in report.seconds.items():
            click.echo(f"Time for {part}: {seconds:.0f} s.")
        click.echo(f"Composed {report.composed} sheets, laid out {report.laid_out}; {len(report.problems)} problems.")
    if report.problems:
        sys.exit(2)


COMMANDS = (check,)
