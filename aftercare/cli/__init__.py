"""The command line: the same functions as the desk, one command a verb. Refusals go to standard error with exit code 2."""

from __future__ import annotations

import sys

import click

from aftercare.cli.output import print_problems
from aftercare.errors import Refused


def main() -> None:
    """Runs the command in `sys.argv`; a refusal is printed as sentences and ends with exit code 2."""
    try:
        build_group()(prog_name="aftercare")
    except Refused as refused:
        print_problems(refused.problems)
        sys.exit(2)


def build_group() -> click.Group:
    """The `aftercare` command with all its subcommands. Raises Refused where a system library is missing."""
    # Imported here rather than above, so that `main` prints a missing system library in words like any other refusal.
    from aftercare.cli.check import check
    from aftercare.cli.clinics import edition, new
    from aftercare.cli.sheets import list_, print_
    from aftercare.cli.sites import demo, publish, serve
    from aftercare.cli.translations import approve, export, import_, status

    clinic = click.Group("clinic", commands=[new, edition], help="A clinic's own folder and file.")
    translate = click.Group(
        "translate",
        commands=[export, import_, status, approve],
        help="Exchange translations with translators: every sentence as a standard PO file.",
    )
    return click.Group(
        "aftercare",
        commands=[list_, print_, demo, serve, publish, clinic, translate, check],
        help="Take-home sheets after a cast or splint: on paper, and on the patient's phone.",
        context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 120},
    )
