"""`check`: everything that can be proven before a patient reads it."""

from __future__ import annotations

import sys
from dataclasses import asdict
from pathlib import Path

import click

from aftercare.check.run import check as run_check
from aftercare.cli.options import home_option, jobs_type, json_option, open_desk
from aftercare.cli.output import print_json, print_problems, problems_data, progress_bar, progress_bars
from aftercare.desk import Desk
from aftercare.understanding.report import report_data, report_lines, understanding


@click.command()
@click.option("--jobs", type=jobs_type, default=2, show_default=True, help="Processes to check with.")
@click.option("--layout/--no-layout", default=True, show_default=True, help="Make paper and phone pages as well.")
@click.option("--understanding", "score_only", is_flag=True, help="Only score how well the English sheets are understood.")
@home_option
@json_option
def check(home: Path | None, jobs: int, layout: bool, score_only: bool, as_json: bool) -> None:
    """Check every device, material, option, weight order and language of this clinic. Exit code 2 when anything is wrong."""
    desk = open_desk(home)
    if score_only:
        _print_scores(desk, as_json)
        return
    with progress_bars() as progress:
        report = run_check(desk, jobs=jobs, layout=layout, progress=progress)
    if as_json:
        print_json(asdict(report) | {"problems": problems_data(report.problems)})
    else:
        print_problems(report.problems)
        for skipped in report.skipped:
            click.echo(f"Not checked: {skipped}")
        for part, seconds in report.seconds.items():
            click.echo(f"Time for {part}: {seconds:.0f} s.")
        click.echo(f"Composed {report.composed} sheets, laid out {report.laid_out}; {len(report.problems)} problems.")
    if report.problems:
        sys.exit(2)


def _print_scores(desk: Desk, as_json: bool) -> None:
    """Prints how well the sheets are understood. Exit code 2 if a sheet loses an item."""
    with progress_bar("Scoring") as progress:
        sheets = understanding(desk, progress)
    if as_json:
        print_json(report_data(sheets))
    else:
        for line in report_lines(sheets):
            click.echo(line)
    if any(sheet.lost for sheet in sheets):
        sys.exit(2)
