"""The demo: an invented clinic with a printed sheet, its phone site and the desk, ready to look at."""

from __future__ import annotations

import socket
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from urllib.parse import urlsplit

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused
from aftercare.files import write_whole
from aftercare.places import Places
from aftercare.sheet.validate import Picked

HOST = "127.0.0.1"
# A sample with something to see: a first cast on a fresh break, with swelling still to come.
DEVICE, MATERIAL, SIDE, OPTION = "short-arm-cast", "fiberglass", "left", "swelling-risk"
VISIT_AT = time(9)


@dataclass(frozen=True, slots=True)
class Demo:
    """What a demo wrote, and where its sample sheet leads: the file of its phone page, and the code behind `#`."""

    home: Path
    clinic: str
    made_clinic: bool
    sheet: Path
    site: Path
    pages: int
    address: str
    page: Path
    code: str


def make_demo(places: Places, home: Path, now: datetime) -> Demo:
    """Write the clinic file where there is none, print the sample sheet and publish the phone site; `now` is aware.

    Raises Refused when something of it cannot be had.
    """
    file = home / "clinic.md"
    made_clinic = not file.exists()
    if made_clinic:
        write_whole(file, (places.content / "demo-clinic.md").read_bytes())
    desk = Desk.open(places, home)
    applied = now.astimezone(desk.clinic.time_zone).replace(second=0, microsecond=0)
    picked = Picked(DEVICE, MATERIAL, SIDE, (OPTION,), applied=_written(applied), visit=_written(visit_after(applied)))
    choices = desk.choose(picked)
    language = desk.clinic.languages[0]
    sheet, site = home / "sheet.pdf", home / "site"
    write_whole(sheet, desk.print_sheet(choices, language, desk.clinic.paper))
    published = desk.publish(site)
    address = desk.address(desk.translate(choices, language))
    parts = urlsplit(address)
    return Demo(
        home=home,
        clinic=desk.clinic.name,
        made_clinic=made_clinic,
        sheet=sheet,
        site=site,
        pages=len(published.written) + published.kept,
        address=address,
        page=site.joinpath(*parts.path.strip("/").split("/")[-2:], "index.html"),
        code=parts.fragment,
    )


def _written(moment: datetime) -> str:
    return f"{moment:%Y-%m-%dT%H:%M}"


def visit_after(applied: datetime) -> datetime:
    """The morning between one and two days on, since a swelling risk wants to be seen again in that time."""
    days = 2 if applied.time() >= VISIT_AT else 1
    return datetime.combine(applied.date() + timedelta(days=days), VISIT_AT, applied.tzinfo)


def told(demo: Demo, port: int | None) -> str:
    """What was done and what to open, in plain words. `port` is None when nothing is served."""
    clinic = f"Wrote {demo.home / 'clinic.md'}" if demo.made_clinic else f"Kept the clinic file {demo.home / 'clinic.md'}"
    lines = [
        f"{clinic}: {demo.clinic}.",
        f"Printed a sample sheet to {demo.sheet}: a short arm cast of fiberglass on the left arm, with a risk of swelling.",
        f"Published {demo.pages} files of the phone site to {demo.site}.",
        "",
    ]
    if (urlsplit(demo.address).hostname or "").endswith(".example"):  # RFC 2606 keeps this ending for stories
        lines += [
            f"The QR code on the sheet leads to {demo.address}, on a site that does not exist.",
            "A real clinic puts its own phone site into clinic.md. Here, the same page is:",
        ]
    else:
        lines += [f"The QR code on the sheet leads to {demo.address}. On this machine, the same page is:"]
    if port is None:
        return "\n".join([*lines, f"    {demo.page}"])
    return "\n".join(
        [
            *lines,
            f"    http://{HOST}:{port}/{demo.page.parent.relative_to(demo.site).as_posix()}/#{demo.code}",
            "The desk, where a nurse makes and prints a sheet, is:",
            f"    http://{HOST}:{port}/",
            "Stop with Ctrl-C.",
        ]
    )


def serve_demo(places: Places, demo: Demo, port: int) -> None:
    """Serve the desk and, beside it, the phone site, until stopped."""
    from aftercare.web import create_app
    from aftercare.web.serving import serve

    serve(create_app(places, demo.home, site=demo.site), HOST, port)


def run_demo(places: Places, home: Path, port: int, now: datetime, *, once: bool, say: Callable[[str], None]) -> None:
    """The whole demo; `once` leaves out serving. Raises Refused, for a port that is taken before anything is written."""
    if not once:
        refuse_taken(port)
    demo = make_demo(places, home, now)
    say(told(demo, None if once else port))
    if not once:
        serve_demo(places, demo, port)


def refuse_taken(port: int) -> None:
    """Raises Refused when another program has the port."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the server itself does
        try:
            probe.bind((HOST, port))
        except OSError as error:
            what = f"Port {port} of this machine is taken ({error.strerror})."
            raise Refused([Problem(Fault.CANNOT_SERVE, what, advice=f"Choose another, such as --port {port + 1}.")]) from error
