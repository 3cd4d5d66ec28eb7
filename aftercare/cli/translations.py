"""`translate export|import|status|approve`: work with translators on PO files."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

import click

from aftercare.cli import tell
from aftercare.cli.home import home_option, json_option, open_desk
from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed
from aftercare.files import read_optional, write_whole
from aftercare.language.approval import approvals_text
from aftercare.language.extraction import messages_of
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import read_messages
from aftercare.language.translation_files import approve_language, export_po, import_po, status

# Problems shown of a language before the rest is only counted.
SHOWN = 5
TAGS = tuple(tag for tag in LANGUAGES if tag != SOURCE)
file_argument = click.argument("file", type=click.Path(dir_okay=False, path_type=Path))


@click.group()
def translate() -> None:
    """Work with translators: every sentence as a standard PO file."""


def _language(tag: str) -> Language:
    if tag not in TAGS:
        raise Refused([Problem(Fault.UNKNOWN_LANGUAGE, f"No language '{tag}'.", listed(TAGS), did_you_mean(tag, TAGS))])
    return LANGUAGES[tag]


def _own(desk: Desk, tag: str) -> Path:
    return desk.home / "translations" / f"{tag}.po"


@translate.command("export")
@click.argument("tag")
@file_argument
@home_option
def export(tag: str, file: Path, home: Path | None) -> None:
    """Write FILE, the PO file of language TAG to send to a translator: all sentences, with what is translated so far."""
    desk, language = open_desk(home), _language(tag)
    shipped = read_optional(desk.places.translations / f"{tag}.po")
    text = export_po(messages_of(desk.library), language, shipped, read_optional(_own(desk, tag)))
    write_whole(file, text.encode())
    click.echo(f"Wrote {file}.")


@translate.command("import")
@click.argument("tag")
@file_argument
@home_option
def import_(tag: str, file: Path, home: Path | None) -> None:
    """Check FILE from a translator and keep it in the clinic's folder. Nothing is written if a sentence is unsound."""
    desk, language = open_desk(home), _language(tag)
    text = read_optional(file)
    if text is None:
        raise Refused([Problem(Fault.BAD_PO, f"There is no file '{file}'.", advice="Check its name.")])
    path = desk.places.translations / f"{tag}.po"
    shipped = read_messages(read_optional(path) or "", str(path))
    own = _own(desk, tag)
    done = import_po(messages_of(desk.library), language, text, str(file), shipped, read_optional(own))
    write_whole(own, done.text.encode())
    click.echo(f"Kept {done.changed} sentences in {own}; {done.missing} still wait for a translation.")
    for message in done.unknown:
        click.echo(f"Stands on no sheet any more: {message}", err=True)


@translate.command("status")
@home_option
@json_option
def status_(home: Path | None, as_json: bool) -> None:
    """How far each language is, and what keeps it back."""
    desk = open_desk(home)
    extracted = messages_of(desk.library)
    found = [status(extracted, desk.messages[tag], desk.approvals) for tag in TAGS]
    if as_json:
        rows = [{**asdict(one), "problems": [str(problem) for problem in one.problems]} for one in found]
        click.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    for tag, one in zip(TAGS, found, strict=True):
        click.echo(
            f"{tag}  {one.translated} of {one.total} sound, {one.missing} missing, {one.fuzzy} fuzzy, {one.unsafe} unsafe; "
            + ("approved" if one.approved else "draft, not approved")
        )
        tell(one.problems[:SHOWN])
        if len(one.problems) > SHOWN:
            click.echo(f"… and {len(one.problems) - SHOWN} more; --json tells all.", err=True)


@translate.command("approve")
@click.argument("tag")
@click.option("--role", required=True, help="Who approves it, as a role, never a name.")
@home_option
def approve(tag: str, role: str, home: Path | None) -> None:
    """Record that a qualified person approved language TAG as it now stands. One changed word, and it is draft again."""
    desk = open_desk(home)
    _language(tag)
    approvals = approve_language(
        messages_of(desk.library), desk.messages[tag], desk.approvals, role, datetime.now(desk.clinic.time_zone).date()
    )
    write_whole(desk.home / "approvals.yaml", approvals_text(approvals).encode())
    click.echo(f"{LANGUAGES[tag].english_name} is approved by: {role}.")


COMMANDS = (translate,)
