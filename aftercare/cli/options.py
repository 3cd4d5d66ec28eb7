"""What several commands take: the options `--home` and `--json`, and the types of numbers."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import ParamSpec

import click

from aftercare.cli.output import print_json, problems_data
from aftercare.desk import Desk
from aftercare.errors import Refused
from aftercare.places import find_places

_Parameters = ParamSpec("_Parameters")

home_option = click.option(
    "--home",
    type=click.Path(file_okay=False, path_type=Path),
    envvar="AFTERCARE_HOME",
    help="The clinic's folder, with its clinic.md.  [env: AFTERCARE_HOME; else content/ of the program]",
)
jobs_type = click.IntRange(min=1)
port_type = click.IntRange(1, 65535)


def open_desk(home: Path | None) -> Desk:
    """The desk of the clinic whose folder is `home`. Raises Refused with every problem of its files."""
    return Desk.open(find_places(), home)


def json_option(function: Callable[_Parameters, None]) -> Callable[_Parameters, None]:
    """Adds the option `--json` as the argument `as_json`.

    When it is given and the command refuses, the problems are also printed on standard output as `{"problems": [...]}`.
    """

    @click.option("--json", "as_json", is_flag=True, help="Print JSON, for programs to read.")
    @wraps(function)
    def command(*args: _Parameters.args, **kwargs: _Parameters.kwargs) -> None:
        try:
            function(*args, **kwargs)
        except Refused as refused:
            if kwargs["as_json"]:
                print_json({"problems": problems_data(refused.problems)})
            raise

    return command
