"""A phone site of the demo clinic with a few devices, published into a folder and served, for tests of its pages."""

from __future__ import annotations

import atexit
import shutil
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from tempfile import mkdtemp

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.translated import TranslatedSheet
from aftercare.page.phone import PhoneFrame, phone_page
from aftercare.page.templates import Templates
from aftercare.places import find_places
from aftercare.sheet.address import code
from aftercare.sheet.choices import Choices
from aftercare.sheet.sheet import FullSheet
from aftercare.site.pages import SheetInLanguages, in_languages, patient_pages
from aftercare.site.publish import Published, publish
from aftercare.site.site_files import site_files, withdrawn

# Sheets by the ids of their device and material: an arm cast, a splint that may be loosened, and a leg cast to walk on, so that
# every kind of condition is met.
ARM = ("short-arm-cast", "fiberglass")
SPLINT = ("forearm-sugar-tong-splint", "plaster-fast")
LEG = ("short-leg-walking-cast", "fiberglass")
SHEETS = (ARM, SPLINT, LEG)
DEVICES = tuple(device for device, _ in SHEETS)
TEMPLATES = Templates(find_places().templates)
# Where tests serve a site behind a web server (tests/nginx.py).
PATH = "/care/sheets/"


@cache
def demo_desk() -> Desk:
    """The demo clinic's desk, opened once."""
    home = Path(mkdtemp(prefix="phone-"))
    atexit.register(shutil.rmtree, home, ignore_errors=True)
    shutil.copy(find_places().content / "demo-clinic.md", home / "clinic.md")
    return Desk.open(find_places(), home)


def basis(device: str, material: str) -> Choices:
    """The choices of a sheet with no options, dates or weight order."""
    sheet = demo_desk().sheets[device, material]
    return Choices(sheet.device, sheet.material)


def in_english(sheet: FullSheet, tag: str) -> TranslatedSheet[FullSheet]:
    """English words, laid out as the language is: what a translation says is tested where translations are."""
    return replace(demo_desk().translate_sheet(sheet, SOURCE), language=LANGUAGES[tag])


def translated(device: str, material: str, tag: str) -> TranslatedSheet[FullSheet]:
    """The full sheet of a device in a material, in English words laid out as the language is."""
    return in_english(demo_desk().sheets[device, material], tag)


def page(device: str = "short-arm-cast", material: str = "fiberglass", tag: str = "en") -> str:
    """One phone page as HTML."""
    return phone_page(translated(device, material, tag), demo_desk().frame)


def sheets(devices: Sequence[str] = DEVICES) -> list[SheetInLanguages]:
    """The sheets of these devices in all their materials."""
    desk = demo_desk()
    full = [sheet for device in devices for sheet in desk.sheets.values() if sheet.device.id == device]
    return list(in_languages(full, desk.clinic.languages, in_english))


def publish_demo(folder: Path, offered: Sequence[SheetInLanguages]) -> Published:
    """A phone site of these sheets in the folder."""
    frame = demo_desk().frame
    pages = list(patient_pages(offered, frame))
    files = [*pages, *site_files(offered, pages, at_path(frame))]
    return publish(files, folder, withdrawn=partial(withdrawn, sheets=offered, frame=frame))


def at_path(frame: PhoneFrame) -> PhoneFrame:
    """The frame of a site that stands at PATH on its host."""
    clinic = replace(frame.library.clinic, phone_site=f"https://care.example{PATH}")
    return replace(frame, library=replace(frame.library, clinic=clinic))


def change_a_sentence(content: Path) -> None:
    """Change a sentence of the advice on flying, which stands on the sheets of casts alone, in a copy of the content."""
    path = content / "advice" / "flying.md"
    text = path.read_text(encoding="utf-8")
    old = next(line for line in text.splitlines() if line.startswith("- "))
    path.write_text(text.replace(old, "- Ask your clinic before you fly."), encoding="utf-8")


def path_of(device: str, material: str, tag: str = "en") -> str:
    """Where a page stands on the site."""
    library = demo_desk().library
    return f"{LANGUAGES[tag].path}/{code(library.devices[device].code, library.materials[material].code)}/"


Answer = Callable[[SimpleHTTPRequestHandler], None]


@dataclass
class Site:
    """A served folder, the request lines it saw, fragments and all if a browser should ever send one, and what it answers
    `instead` of a file, by the path that is asked for.
    """

    address: str
    folder: Path
    log: list[str] = field(default_factory=list)
    instead: dict[str, Answer] = field(default_factory=dict)

    def page(self, device: str = "short-arm-cast", material: str = "fiberglass", tag: str = "en") -> str:
        """The address of a page."""
        return self.address + path_of(device, material, tag)


@contextmanager
def served(folder: Path) -> Iterator[Site]:
    """The folder on a free port of this machine, which a browser takes for a secure place."""
    site = Site("", folder)

    class Handler(SimpleHTTPRequestHandler):
        extensions_map = SimpleHTTPRequestHandler.extensions_map | {".webmanifest": "application/manifest+json"}

        def do_GET(self) -> None:
            site.instead.get(self.path, SimpleHTTPRequestHandler.do_GET)(self)

        def log_message(self, format: str, *args: object) -> None:
            site.log.append(format % args)

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder)))
    site.address = f"http://127.0.0.1:{server.server_port}/"
    thread = threading.Thread(target=server.serve_forever, args=(0.05,))
    thread.start()
    try:
        yield site
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
