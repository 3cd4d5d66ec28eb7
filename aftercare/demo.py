"""The demo: an invented clinic with a printed sheet, its phone site and the desk."""

from __future__ import annotations

import socket
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from urllib.parse import urlsplit

from aftercare.desk import Desk
from aftercare.errors import Fault, Refused
from aftercare.files import write_whole
from aftercare.places import Places
from aftercare.sheet.validate import Picked

HOST = "127.0.0.1"
# The sample sheet: a first cast on a fresh break, while it may still swell.
DEVICE, MATERIAL, SIDE, OPTION = "short-arm-cast", "fiberglass", "left", "swelling-risk"
VISIT_AT = time(9)


@dataclass(frozen=True, slots=True)
class Demo:
    """What a demo wrote.

    `clinic` is the clinic's name and `pages` the number of published files. `address` is that of the sample sheet's phone
    page, `page` the file of that page and `code` the part of the address after `#`.
    """

    home: Path
    clinic: str
    clinic_file_written: bool
    sheet: Path
    site: Path
    pages: int
    address: str
    page: Path
    code: str


def make_demo(places: Places, home: Path, now: datetime) -> Demo:
    """Writes the clinic file if there is none, prints the sample sheet and publishes the phone site.

    `now` is an aware moment. Raises Refused if the sheet or the site cannot be made or written.
    """
    clinic_file = home / "clinic.md"
    clinic_file_written = not clinic_file.exists()
    if clinic_file_written:
        write_whole(clinic_file, (places.content / "demo-clinic.md").read_bytes())
    desk = Desk.open(places, home)
    applied = now.astimezone(desk.clinic.time_zone).replace(second=0, microsecond=0)
    visit = visit_after(applied)
    picked = Picked(DEVICE, MATERIAL, SIDE, (OPTION,), applied=_form_value(applied), visit=_form_value(visit))
    choices = desk.choose(picked)
    language = desk.clinic.languages[0]
    sheet, site = home / "sheet.pdf", home / "site"
    translated = desk.translate(choices, language)
    write_whole(sheet, desk.print_translated(translated, desk.clinic.paper))
    published = desk.publish(site)
    address = desk.address(translated)
    parts = urlsplit(address)
    return Demo(
        home=home,
        clinic=desk.clinic.name,
        clinic_file_written=clinic_file_written,
        sheet=sheet,
        site=site,
        pages=len(published.written) + published.unchanged,
        address=address,
        page=site.joinpath(*parts.path.strip("/").split("/")[-2:], "index.html"),
        code=parts.fragment,
    )


def _form_value(moment: datetime) -> str:
    """A moment as a nurse types it."""
    return f"{moment:%Y-%m-%dT%H:%M}"


def visit_after(applied: datetime) -> datetime:
    """The morning one to two days later, since a cast with a risk of swelling is looked at again in that time."""
    days = 2 if applied.time() >= VISIT_AT else 1
    return datetime.combine(applied.date() + timedelta(days=days), VISIT_AT, applied.tzinfo)


def demo_summary(demo: Demo, port: int | None) -> str:
    """Lines that say what was written and what to open. `port` is None if nothing is served."""
    clinic_file = demo.home / "clinic.md"
    lines = [
        f"Wrote {clinic_file}: {demo.clinic}."
        if demo.clinic_file_written
        else f"Kept the clinic file {clinic_file}: {demo.clinic}.",
        f"Printed a sample sheet to {demo.sheet}: a short arm cast of fiberglass on the left arm, with a risk of swelling.",
        f"Published {demo.pages} files of the phone site to {demo.site}.",
        "",
    ]
    if (urlsplit(demo.address).hostname or "").endswith(".example"):  # RFC 2606 reserves this ending for examples
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
    """Serves the desk and the phone site on one port until stopped."""
    from aftercare.web import create_app
    from aftercare.web.serving import serve

    serve(create_app(places, demo.home, site=demo.site), HOST, port)


def run_demo(places: Places, home: Path, port: int, now: datetime, *, once: bool, print_line: Callable[[str], None]) -> None:
    """Runs the whole demo; with `once` nothing is served. Raises Refused as `make_demo` does.

    A port in use is refused before anything is written.
    """
    if not once:
        refuse_used_port(port)
    demo = make_demo(places, home, now)
    print_line(demo_summary(demo, None if once else port))
    if not once:
        serve_demo(places, demo, port)


def refuse_used_port(port: int) -> None:
    """Raises Refused if another program listens on the port."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the server itself does
        try:
            probe.bind((HOST, port))
        except OSError as error:
            raise Refused.one(
                Fault.CANNOT_SERVE,
                f"Port {port} of this machine cannot be used: {{}}.",
                subject=(error.strerror or str(error),),
                advice=f"Choose another, such as --port {port + 1}.",
            ) from error
