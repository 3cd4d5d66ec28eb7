"""`check`: everything that can be proven before a patient reads it."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from aftercare.check import check as run_check
from aftercare.cli import tell
from aftercare.cli.home import bar, home_option, json_option, open_desk


@click.command()
@click.option("--jobs", default=2, show_default=True, help="Processes to check with.")
@home_option
@json_option
def check(home: Path | None, jobs: int, as_json: bool) -> None:
    """Check every device, material, option, weight order and language of this clinic. Exit code 2 when anything is wrong."""
    desk = open_desk(home)
    with bar("Devices") as progress:
        report = run_check(desk.library, desk.messages, desk.places, desk.home, jobs=jobs, progress=progress)
    if as_json:
        problems = [str(problem) for problem in report.problems]
        found = {"composed": report.composed, "problems": problems, "skipped": report.skipped}
        click.echo(json.dumps(found, ensure_ascii=False, indent=1))
    else:
        tell(report.problems)
        for skipped in report.skipped:
            click.echo(f"Not checked: {skipped}")
        click.echo(f"Composed {report.composed} sheets; {len(report.problems)} problems.")
    if report.problems:
        sys.exit(2)


COMMANDS = (check,)
