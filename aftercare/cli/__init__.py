"""The command line: the same functions as the desk, one command a verb. Refusals go to standard error with exit code 2."""

from __future__ import annotations

import sys

import click

from aftercare.errors import Problem, Refused


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 120})
def commands() -> None:
    """Take-home sheets after a cast or splint: on paper, and on the patient's phone."""


def main() -> None:
    """Runs a command; a refusal becomes sentences and exit code 2."""
    try:
        # Only here, so that a missing system library is told in words like any other refusal.
        from aftercare.cli import checking, clinics, sheets, sites, translations

        for module in (sheets, sites, clinics, translations, checking):
            for command in module.COMMANDS:
                commands.add_command(command)
        commands(prog_name="aftercare")
    except Refused as refused:
        tell(refused.problems)
        sys.exit(2)


def tell(problems: tuple[Problem, ...]) -> None:
    """Problems, one a line, to standard error."""
    for problem in problems:
        click.echo(str(problem), err=True)
