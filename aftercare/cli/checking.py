"""`check`: everything that can be proven before a patient reads it."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from pathlib import Path

import click

from aftercare.check import check as run_check
from aftercare.cli import tell
from aftercare.cli.home import bar, bars, home_option, jobs_type, json_option, open_desk
from aftercare.desk import Desk
from aftercare.understanding.report import report_data, report_lines, understanding


@click.command()
@click.option("--jobs", type=jobs_type, default=2, show_default=True, help="Processes to check with.")
@click.option("--layout/--no-layout", default=True, show_default=True, help="Make paper and phone pages as well.")
@click.option("--understanding", "scored", is_flag=True, help="Only score how well the English sheets are understood.")
@home_option
@json_option
def check(home: Path | None, jobs: int, layout: bool, scored: bool, as_json: bool) -> None:
    """Check every device, material, option, weight order and language of this clinic. Exit code 2 when anything is wrong."""
    desk = open_desk(home)
    if scored:
        _score(desk, as_json)
        return
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


def _score(desk: Desk, as_json: bool) -> None:
    """Prints how well the sheets are understood; ends with 2 when one of them loses an item."""
    with bar("Scoring") as progress:
        sheets = understanding(desk.library, desk.places.templates, progress)
    if as_json:
        click.echo(json.dumps(report_data(sheets), ensure_ascii=False, indent=1))
    else:
        for line in report_lines(sheets):
            click.echo(line)
    if any(sheet.lost for sheet in sheets):
        sys.exit(2)


COMMANDS = (check,)
