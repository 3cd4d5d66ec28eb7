"""`clinic new` and `clinic edition`: a clinic's own folder, and the code of the wording it approves."""

from __future__ import annotations

from pathlib import Path

import click

from aftercare.cli.options import home_option, open_desk
from aftercare.errors import Fault, Refused, Where
from aftercare.files import write_whole
from aftercare.places import find_places


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
def new(folder: Path) -> None:
    """Make FOLDER with a clinic.md to fill in. Never overwrites one."""
    path = folder / "clinic.md"
    if path.exists():
        raise Refused.one(
            Fault.CANNOT_WRITE,
            "There is a clinic file already.",
            advice="Edit that file, or name another folder.",
            where=Where(str(path)),
        )
    write_whole(path, (find_places().content / "clinic.md").read_bytes())
    click.echo(f"Wrote {path}. Fill in the name, the phones and the web address, then: aftercare check --home {folder}")


@click.command()
@home_option
def edition(home: Path | None) -> None:
    """The code of the English wording and figures in force, to be written under 'approved:' in the clinic file."""
    desk = open_desk(home)
    approved = desk.approvals.wording_approved(desk.clinic)
    click.echo(f"{desk.approvals.wording}  {'approved' if approved else 'draft: not approved in ' + str(desk.clinic.where)}")
