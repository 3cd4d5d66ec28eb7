"""`python3 -m tests --benchmark`: how long printing, publishing and looking take here, beside a browser printing the same.

Nothing here passes or fails. Rounds of all that is compared are interleaved and each in another order, so that a slow moment,
or Python's own full collection of garbage every third sheet or so, hits everyone alike.
"""

from __future__ import annotations

import multiprocessing
import os
import platform
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from functools import partial
from itertools import count
from pathlib import Path

import psutil
from playwright.sync_api import sync_playwright

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.page.printer import MOST_PRINTED
from aftercare.page.qr import qr_svg
from aftercare.places import find_places
from aftercare.sheet.choices import Choices
from aftercare.sheet.validate import Picked
from aftercare.web import create_app
from tests.phone_benchmark import phone_rows

ROUNDS = 15
ONE_SHOT_ROUNDS = 5  # a second each
SHEETS = 60
PRINTS = 300
READ_AT = (1, 50, 100, 150, 200, 250, 300)
PUT_ON = datetime(2026, 11, 25, 14, 30)  # noqa: DTZ001 - local to the clinic, as a nurse types it
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or "chromium"
# Headless, as root, and without the calls home that a machine with a closed network makes it wait for.
BROWSER = ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync")


def main() -> None:
    """Measure and print everything."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "home"
        home.mkdir()
        shutil.copy(find_places().content / "demo-clinic.md", home / "clinic.md")
        desk = Desk.open(find_places(), home)
        machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}"
        print(f"{machine}; times are median (least-most).\n")
        for tag in sorted(set(desk.clinic.languages) - set(languages(desk))):
            print(f"{LANGUAGES[tag].english_name} is not measured: sentences of this sheet wait for translation.\n")
        for title, rows in (
            ("One sheet, new dates and QR code each time", _one_sheet(desk, Path(folder))),
            ("Many sheets", _many_sheets(home)),
            ("Memory of one process that prints", _memory(home)),
            ("Phone site", phone_rows(desk, Path(folder) / "sites")),
            ("Desk", _preview(desk)),
        ):
            print(title)
            for name, value in rows:
                print(f"  {name:<58} {value}", flush=True)
            print()


def choices(desk: Desk, number: int) -> Choices:
    """Choices with dates that belong to this number alone, and the other side than the number before."""
    side = ("left", "right")[number % 2]
    applied, visit = _written(number), _written(number + 2 * 24 * 60)
    return desk.choose(Picked("short-arm-cast", "fiberglass", side, ("swelling-risk",), applied=applied, visit=visit))


def languages(desk: Desk) -> tuple[str, ...]:
    """The languages that the measured sheet can be had in."""
    full = desk.settle(choices(desk, 0)).full
    return tuple(tag for tag in desk.clinic.languages if not desk.language_problems(full, tag))


def _written(minutes: int) -> str:
    """The moment so many minutes after the first, as a nurse types it."""
    return (PUT_ON + timedelta(minutes=minutes)).isoformat("T", "minutes")


def _one_sheet(desk: Desk, folder: Path) -> Iterator[tuple[str, str]]:
    numbers = count()
    tags = languages(desk)
    ways: dict[tuple[str, str], Callable[[], object]] = {}
    with sync_playwright() as playwright:
        warm = playwright.chromium.launch(executable_path=CHROMIUM, args=list(BROWSER)).new_page()

        def file(tag: str) -> str:
            html = desk.paper_html(desk.translate(choices(desk, next(numbers)), tag))
            style = desk.printer.css(LANGUAGES[tag], Paper.LETTER)
            path = folder / f"{tag}.html"
            path.write_text(html.replace("</head>", f"<style>{style}</style></head>", 1), encoding="utf-8")
            return path.as_uri()

        def browser(tag: str) -> None:
            warm.goto(file(tag))
            warm.pdf(prefer_css_page_size=True, print_background=True)

        def one_shot(tag: str) -> None:
            out = f"--print-to-pdf={folder / 'out.pdf'}"
            subprocess.run((CHROMIUM, *BROWSER, "--no-pdf-header-footer", out, file(tag)), check=True, capture_output=True)

        def ours(tag: str) -> None:
            qr_svg.cache_clear()
            desk.print_sheet(choices(desk, next(numbers)), tag, Paper.LETTER)

        again = choices(desk, next(numbers))
        for tag in tags:
            name = LANGUAGES[tag].english_name
            ways[name, "printed"] = partial(ours, tag)
            ways[name, "the same again, from the cache"] = partial(desk.print_sheet, again, tag, Paper.LETTER)
            ways[name, "the same page by a warm Chromium"] = partial(browser, tag)
            ways[name, "the same page by a Chromium started for it"] = partial(one_shot, tag)
        for way in ways.values():
            way()  # warm up
        taken: dict[tuple[str, str], list[float]] = {way: [] for way in ways}
        order = random.Random(1)  # the same orders in each run
        for turn in range(ROUNDS):
            for key, way in order.sample(list(ways.items()), len(ways)):
                if turn < ONE_SHOT_ROUNDS or "started" not in key[1]:
                    taken[key].append(_seconds(way))
    for (language, how), times in taken.items():
        yield f"{language}, {how}", _milliseconds(times)


def _many_sheets(home: Path) -> Iterator[tuple[str, str]]:
    for processes in (1, 2):
        with multiprocessing.get_context("spawn").Pool(processes, _open_own, (home,)) as nurses:
            nurses.map(_print_own, range(-12, 0), chunksize=1)  # warm up
            seconds = _seconds(partial(nurses.map, _print_own, range(SHEETS), chunksize=1))
        who = "one process" if processes == 1 else f"{processes} processes, each with its own desk"
        yield f"{who}, languages in turn", f"{SHEETS / seconds:.1f} sheets/s"


_own: Desk


def _open_own(home: Path) -> None:
    global _own
    _own = Desk.open(find_places(), home)


def _print_own(number: int) -> None:
    tags = languages(_own)
    _own.print_sheet(choices(_own, number), tags[number % len(tags)], Paper.LETTER)


def _memory(home: Path) -> Iterator[tuple[str, str]]:
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        for number, resident, pdfs in pool.apply(memory_readings, (home,)):
            last = f"{pdfs / 2**20:.0f} MiB are the last {MOST_PRINTED} PDFs"
            yield f"after {number} sheets", f"{resident / 2**20:.0f} MiB, of which {last}"


def memory_readings(home: Path) -> list[tuple[int, int, int]]:
    """Sheets printed, resident bytes of this process, and bytes of the PDFs its printer keeps; all sheets differ."""
    desk = Desk.open(find_places(), home)
    tags = languages(desk)
    sizes: list[int] = []
    readings = []
    for number in range(1, PRINTS + 1):
        sizes.append(len(desk.print_sheet(choices(desk, number), tags[number % len(tags)], Paper.LETTER)))
        if number in READ_AT:
            readings.append((number, psutil.Process().memory_info().rss, sum(sizes[-MOST_PRINTED:])))
    return readings


def _preview(desk: Desk) -> Iterator[tuple[str, str]]:
    client = create_app(find_places(), desk.home).test_client()
    form = {"device": "short-arm-cast", "material": "fiberglass", "side": "left", "options": "swelling-risk", "paper": "letter"}

    def look(tag: str, number: int) -> None:
        fields = {**form, "language": tag, "size": Size.REGULAR, "applied": _written(number)}
        answer = client.post("/preview", data=fields)
        if answer.status_code != 200:
            sys.exit(f"The preview failed: {answer.get_data(as_text=True)}")

    for tag in languages(desk):
        look(tag, 0)
        times = [_seconds(partial(look, tag, number)) for number in range(1, ROUNDS)]
        yield f"preview, {LANGUAGES[tag].english_name}", _milliseconds(times)


def _seconds(work: Callable[[], object]) -> float:
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def _milliseconds(seconds: Iterable[float]) -> str:
    times = sorted(1000 * second for second in seconds)
    return f"{statistics.median(times):7.1f} ms ({times[0]:.1f}-{times[-1]:.1f})"


if __name__ == "__main__":
    main()
