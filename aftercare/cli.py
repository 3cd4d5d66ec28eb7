"""The command line: the same functions as the desk, one command a verb. Refusals go to standard error with exit code 2."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import ParamSpec, TypeVar

import click

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.files import write_whole
from aftercare.language.languages import LANGUAGES
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.places import find_places
from aftercare.sheet.picked import Picked, options_for

_P = ParamSpec("_P")
_T = TypeVar("_T")

home_option = click.option(
    "--home",
    type=click.Path(file_okay=False, path_type=Path),
    envvar="AFTERCARE_HOME",
    help="The clinic's folder, with its clinic.md.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="For programs.")


def main() -> None:
    """Runs a command; a refusal becomes sentences and exit code 2."""
    try:
        commands(standalone_mode=True, prog_name="aftercare")
    except Refused as refused:
        for problem in refused.problems:
            click.echo(str(problem), err=True)
        sys.exit(2)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def commands() -> None:
    """Take-home sheets after a cast or splint: on paper, and on the patient's phone."""


@commands.command("list")
@click.argument("what", type=click.Choice(["devices", "materials", "languages", "options", "weights"]))
@click.option("--device", help="Only what can apply to this device.")
@home_option
@json_option
def list_(what: str, device: str | None, home: Path | None, as_json: bool) -> None:
    """What there is to choose from."""
    desk = Desk.open(find_places(), home)
    rows = _rows(desk, what, device)
    if as_json:
        click.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    width = max((len(row["id"]) for row in rows), default=0)
    for row in rows:
        rest = {key: value for key, value in row.items() if key not in ("id", "name")}
        click.echo(
            f"{row['id']:<{width}}  {row['name']}" + "".join(f"  {key}: {value}" for key, value in rest.items() if value)
        )


def _rows(desk: Desk, what: str, device_id: str | None) -> list[dict[str, str]]:
    library = desk.library
    device = desk.device(device_id) if device_id else None
    if what == "devices":
        found = [device] if device else library.devices.values()
        return [{"id": d.id, "name": d.name.message, "materials": ", ".join(d.materials)} for d in found]
    if what == "materials":
        return [
            {"id": m.id, "name": m.name.message, "family": m.family}
            for m in library.materials.values()
            if not device or m.id in device.materials
        ]
    if what == "options":
        can = (
            {o.id for m in device.materials for o in options_for(library, device, library.materials[m])}
            if device
            else library.options
        )
        return [{"id": o.id, "name": o.label.message} for o in library.options.values() if o.id in can]
    if what == "weights":
        return [{"id": w.id, "name": w.label.message} for w in library.weights.values() if not device or w.id in device.weights]
    return [
        {"id": language.tag, "name": language.own_name, "draft": "draft" if desk.is_draft(language.tag) else ""}
        for language in LANGUAGES.values()
    ]


@commands.command("print")
@click.argument("device")
@click.argument("material", default="")
@click.option("--side", default="", help="left or right")
@click.option("--language", default="en", show_default=True)
@click.option("--option", "options", multiple=True, help="What is true of this patient; may be given again.")
@click.option("--weight", default="", help="The weight order, for the leg and foot.")
@click.option("--applied", default="", help="When it was put on, such as 2026-11-25T14:30.")
@click.option("--visit", default="", help="The next visit, such as 2026-12-02T09:00.")
@click.option("--removal", default="", help="The day it comes off at home, such as 2026-12-23.")
@click.option("--paper", default="", help="letter or a4; else as in the clinic file.")
@click.option("--size", default=Size.REGULAR.value, show_default=True, help="regular or large")
@click.option("-o", "--output", type=click.Path(dir_okay=False, path_type=Path), required=True, help="The PDF to write.")
@home_option
def print_(
    device: str,
    material: str,
    side: str,
    language: str,
    options: tuple[str, ...],
    weight: str,
    applied: str,
    visit: str,
    removal: str,
    paper: str,
    size: str,
    output: Path,
    home: Path | None,
) -> None:
    """Print one sheet as a PDF."""
    desk = Desk.open(find_places(), home)
    choices = desk.choose(Picked(device, material, side, options, weight, applied, visit, removal))
    pdf = desk.print_sheet(choices, language, desk.paper(paper), desk.size(size))
    write_whole(output, pdf)
    for caution in desk.cautions:
        click.echo(f"Caution: {caution}", err=True)
    click.echo(f"Wrote {output} ({len(pdf) // 1024} kB).")


@commands.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=8000, show_default=True)
@home_option
def serve(host: str, port: int, home: Path | None) -> None:
    """Serve the desk, where a nurse makes and prints sheets."""
    from aftercare.web import create_app
    from aftercare.web.serving import serve as serve_app

    serve_app(create_app(find_places(), home), host, port)
