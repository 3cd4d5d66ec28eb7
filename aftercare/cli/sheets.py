"""`list` and `print`: what can be chosen, and one sheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import click

from aftercare.cli.options import home_option, json_option, open_desk
from aftercare.cli.output import print_json
from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.files import write_whole
from aftercare.language.languages import LANGUAGES
from aftercare.library.supply import find_supply, sheet_for
from aftercare.page.paper import Size
from aftercare.sheet.validate import Picked, options_for, weights_for

LISTS = ("devices", "materials", "languages", "options", "weights", "supplies")
# One row of a list: its values by column, the first of them `id`.
Row = dict[str, str | list[str]]


@click.command("list")
@click.argument("what", type=click.Choice(LISTS))
@click.option("--device", default="", help="Only what can apply to this device.")
@home_option
@json_option
def list_(what: str, device: str, home: Path | None, as_json: bool) -> None:
    """List what can be chosen."""
    rows = list_rows(open_desk(home), what, device)
    if as_json:
        print_json(rows)
        return
    lines = [[", ".join(value) if isinstance(value, list) else value for value in row.values()] for row in rows]
    width = max((len(id_) for id_, *_ in lines), default=0)
    for id_, *values in lines:
        click.echo(f"{id_:<{width}}  " + "; ".join(value for value in values if value))


def list_rows(desk: Desk, what: str, device_id: str) -> list[Row]:
    """The rows of one of LISTS; with `device_id` only what can apply to that device. Raises Refused for an unknown device."""
    library = desk.library
    device = desk.device(device_id) if device_id else None
    if what == "devices":
        devices = [device] if device else library.devices.values()
        return [{"id": d.id, "name": d.name.message, "materials": list(d.materials)} for d in devices]
    if what == "materials":
        materials = [m for m in library.materials.values() if not device or m.id in device.materials]
        return [{"id": m.id, "name": m.name.message, "family": m.family.value} for m in materials]
    if what == "options":
        options = list(library.options.values())
        if device:
            fitting = {o.id for m in device.materials for o in options_for(library, device, library.materials[m])}
            options = [option for option in options if option.id in fitting]
        return [{"id": option.id, "name": option.label.message} for option in options]
    if what == "weights":
        weights = weights_for(library, device) if device else library.weights.values()
        return [{"id": weight.id, "name": weight.label.message} for weight in weights]
    if what == "supplies":
        supplies = [supply for supply in library.supplies.values() if not device or device.id in supply.devices]
        return [{"id": s.code, "name": s.words, "age": s.age or "", "devices": list(s.devices)} for s in supplies]
    return [{"id": tag, "name": LANGUAGES[tag].own_name, "english": LANGUAGES[tag].english_name} for tag in desk.languages]


@click.command("print")
@click.argument("device", default="")
@click.argument("material", default="")
@click.option("--supply", default="", help="A supply charge code, such as Q4010, instead of device and material.")
@click.option("--side", default="", help="left or right")
@click.option("--language", default="en", show_default=True, help="A language tag, such as es.")
@click.option("--option", "options", multiple=True, help="What is true of this patient; may be given several times.")
@click.option("--weight", default="", help="The weight order, for leg and foot.")
@click.option("--applied", default="", help="When it was put on, such as 2026-11-25T14:30.")
@click.option("--visit", default="", help="The next visit, such as 2026-12-02T09:00.")
@click.option("--removal", default="", help="The day it comes off at home, such as 2026-12-23.")
@click.option("--paper", default="", help="letter or a4  [default: as in the clinic file]")
@click.option("--size", default=Size.REGULAR.value, show_default=True, help="regular or large")
@click.option("-o", "--output", type=click.Path(dir_okay=False, path_type=Path), required=True, help="The PDF to write.")
@home_option
def print_(
    device: str,
    material: str,
    supply: str,
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
    """Print the sheet for DEVICE in MATERIAL as a PDF. Nothing is written if anything is wrong."""
    desk = open_desk(home)
    if supply:
        library = desk.library
        charged = find_supply(library.supplies, supply)
        pair = sheet_for(charged, library.devices, library.materials, device, material)
        device, material = (item.id for item in pair)
    picked = Picked(device, material, side, options, weight, applied, visit, removal)
    refuse_together(
        partial(desk.choose, picked), partial(desk.language, language), partial(desk.paper, paper), partial(desk.size, size)
    )
    pdf = desk.print_sheet(desk.choose(picked), language, desk.paper(paper), desk.size(size))
    write_whole(output, pdf)
    for caution in desk.clinic.cautions:
        click.echo(f"Caution: {caution}", err=True)
    click.echo(f"Wrote {output}.")


def refuse_together(*checks: Callable[[], object]) -> None:
    """Run all checks. Raises Refused with the problems of all that refuse, so that a person can mend them at once."""
    problems: list[Problem] = []
    for check in checks:
        try:
            check()
        except Refused as refused:
            problems += refused.problems
    if problems:
        raise Refused(problems)
