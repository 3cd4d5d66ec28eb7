"""What several commands take: the options `--home` and `--json`, and the types of numbers."""

from __future__ import annotations

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
    """The desk of the clinic whose folder is `home`. Raises Refused with every problem of its files."""
    return Desk.open(find_places(), home)
