"""`demo`, `serve` and `publish`: the desk in a browser, and the phone site."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from aftercare.cli.home import bar, home_option, open_desk
from aftercare.demo import run_demo
from aftercare.places import find_places


@click.command()
@click.option("--home", type=click.Path(file_okay=False, path_type=Path), default=Path("demo"), show_default=True)
@click.option("--port", default=8000, show_default=True)
@click.option("--once", is_flag=True, help="Make everything, serve nothing.")
def demo(home: Path, port: int, once: bool) -> None:
    """Set up an invented clinic, print a sample sheet, publish its phone site and serve both."""
    run_demo(find_places(), home, port, datetime.now(UTC), once=once, say=click.echo)


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=8000, show_default=True)
@click.option("--everyone", is_flag=True, help="Let other machines of the network in; the desk asks for no password.")
@home_option
def serve(host: str, port: int, everyone: bool, home: Path | None) -> None:
    """Serve the desk, where a nurse makes and prints sheets."""
    from aftercare.web import create_app
    from aftercare.web.serving import serve as serve_app

    click.echo(f"The desk is at http://{host}:{port}/ until you press Ctrl-C.")
    serve_app(create_app(find_places(), home), host, port, everyone=everyone)


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@click.option("--jobs", default=1, show_default=True, help="Processes to make pages with.")
@home_option
def publish(folder: Path, jobs: int, home: Path | None) -> None:
    """Write the phone site to FOLDER, all or nothing, rewriting only what changed."""
    desk = open_desk(home)
    with bar("Pages") as progress:
        done = desk.publish(folder, jobs=jobs, progress=progress)
    click.echo(
        f"Wrote {len(done.written)} files, kept {done.kept}, "
        f"archived {len(done.archived)} earlier editions, withdrew {len(done.withdrawn)} codes."
    )
    for caution in desk.clinic.cautions:
        click.echo(f"Caution: {caution}", err=True)


COMMANDS = (demo, serve, publish)
