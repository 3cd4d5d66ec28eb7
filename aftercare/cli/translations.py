"""`translate export|import|status|approve`: exchange PO files with translators."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from pathlib import Path

import click

from aftercare.cli.options import home_option, json_option, open_desk
from aftercare.cli.output import print_json, print_problems, problems_data
from aftercare.desk import Desk
from aftercare.errors import Fault, Refused, nearest
from aftercare.files import read_optional, write_whole
from aftercare.language.approval import approvals_text
from aftercare.language.extraction import messages_of, update_po
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import read_messages
from aftercare.language.translation_files import approve_language, import_po
from aftercare.language.translation_files import status as language_status

# Problems printed for each language; the others are only counted.
MAX_PROBLEMS_PRINTED = 5
TAGS = tuple(tag for tag in LANGUAGES if tag != SOURCE)
file_argument = click.argument("file", type=click.Path(dir_okay=False, path_type=Path))


def _language(tag: str) -> Language:
    """A language that sheets are translated into. Raises Refused for any other."""
    if tag not in TAGS:
        raise Refused.one(
            Fault.UNKNOWN_LANGUAGE, "No language {}.", subject=(tag,), allowed=TAGS, suggestion=nearest(tag, TAGS)
        )
    return LANGUAGES[tag]


def _clinic_file(desk: Desk, tag: str) -> Path:
    """The clinic's own PO file of a language."""
    return desk.home / "translations" / f"{tag}.po"


@click.command()
@click.argument("tag")
@file_argument
@home_option
def export(tag: str, file: Path, home: Path | None) -> None:
    """Write FILE, the PO file of language TAG to send to a translator: all sentences, with what is translated so far."""
    desk, language = open_desk(home), _language(tag)
    shipped = read_optional(desk.places.translations / f"{tag}.po")
    text = update_po(shipped, messages_of(desk.sheets.values()), language, read_optional(_clinic_file(desk, tag)))
    write_whole(file, text.encode())
    click.echo(f"Wrote {file}.")


@click.command("import")
@click.argument("tag")
@file_argument
@home_option
def import_(tag: str, file: Path, home: Path | None) -> None:
    """Check FILE from a translator and keep it in the clinic's folder. Nothing is written if a sentence is unsound."""
    desk, language = open_desk(home), _language(tag)
    text = read_optional(file)
    if text is None:
        raise Refused.one(Fault.BAD_PO, "There is no file {}.", subject=(str(file),), advice="Check its name.")
    path = desk.places.translations / f"{tag}.po"
    shipped = read_messages(read_optional(path) or "", str(path))
    clinic_file = _clinic_file(desk, tag)
    imported = import_po(messages_of(desk.sheets.values()), language, text, str(file), shipped, read_optional(clinic_file))
    write_whole(clinic_file, imported.text.encode())
    click.echo(f"Kept {imported.changed} sentences in {clinic_file}; {imported.missing} still wait for a translation.")
    for message in imported.unknown:
        click.echo(f"Stands on no sheet any more: {message}", err=True)


@click.command()
@home_option
@json_option
def status(home: Path | None, as_json: bool) -> None:
    """How far each language is, and what keeps it back."""
    desk = open_desk(home)
    extracted = messages_of(desk.sheets.values())
    languages = {tag: language_status(extracted, desk.messages[tag], desk.approvals) for tag in TAGS}
    if as_json:
        print_json([asdict(language) | {"problems": problems_data(language.problems)} for language in languages.values()])
        return
    for tag, language in languages.items():
        click.echo(
            f"{tag}  {language.translated} of {language.total} sound, {language.missing} missing, "
            f"{language.fuzzy} fuzzy, {language.unsafe} unsafe; " + ("approved" if language.approved else "draft, not approved")
        )
        print_problems(language.problems[:MAX_PROBLEMS_PRINTED])
        if len(language.problems) > MAX_PROBLEMS_PRINTED:
            click.echo(f"… and {len(language.problems) - MAX_PROBLEMS_PRINTED} more; --json prints all.", err=True)


@click.command()
@click.argument("tag")
@click.option("--role", required=True, help="Who approves it, as a role, never a name.")
@home_option
def approve(tag: str, role: str, home: Path | None) -> None:
    """Record that a qualified person approved language TAG as it is now. Any change makes it a draft again."""
    desk = open_desk(home)
    _language(tag)
    approvals = approve_language(
        messages_of(desk.sheets.values()), desk.messages[tag], desk.approvals, role, datetime.now(desk.clinic.time_zone).date()
    )
    write_whole(desk.home / "approvals.yaml", approvals_text(approvals).encode())
    click.echo(f"{LANGUAGES[tag].english_name} is approved by: {role}.")
