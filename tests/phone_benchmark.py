"""What the phone site weighs and how fast it is made, rewritten and shown; rows for the benchmark's table."""

from __future__ import annotations

import gzip
import shutil
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES
from aftercare.site.publish import Page, publish
from tests.browser.desk_room import chromium
from tests.lighthouse import lighthouse, scores
from tests.nginx import nginx
from tests.phone_world import path_of, served

# The engine alone, with texts ready made: pages enough for fifty languages.
READY = 5_000
# Chrome's own "slow 3G" of old: 400 kbit/s and 400 ms for each round trip.
SLOW = {"offline": False, "latency": 400, "downloadThroughput": 400 * 1000 / 8, "uploadThroughput": 400 * 1000 / 8}


def phone_rows(desk: Desk, folder: Path) -> Iterator[tuple[str, str]]:
    """Rows of name and figure. `folder` is empty and stays with the caller."""
    for jobs in (1, 2):
        site = folder / f"jobs-{jobs}"
        # Opened anew, so that no run finds what another one kept in memory.
        fresh = Desk.open(desk.places, desk.home)
        seconds, files = _timed(lambda fresh=fresh, site=site, jobs=jobs: len(fresh.publish(site, jobs=jobs).written))  # type: ignore[misc]
        yield (
            f"publish {files} files, {jobs} {'job' if jobs == 1 else 'jobs'}",
            f"{seconds:.2f} s, {files / seconds:.0f} a second",
        )
    site = folder / "jobs-1"
    yield from _weights(site)
    seconds, _ = _timed(lambda: desk.publish(site).kept)
    yield "publish again, nothing changed", f"{seconds:.2f} s"
    seconds, files = _timed(lambda: len(_with_one_sentence_changed(desk).publish(site).written))
    yield "publish again, one English sentence changed", f"{seconds:.2f} s, {files} files rewritten"
    yield from _ready_made(folder / "ready", (site / "EN/SAF/index.html").read_text(encoding="utf-8"))
    yield from _first_paint(folder / "jobs-2")
    yield from _judged(folder / "jobs-2", folder / "nginx")


def _weights(site: Path) -> Iterator[tuple[str, str]]:
    for language in LANGUAGES.values():
        weights = sorted(len(gzip.compress(page.read_bytes())) for page in (site / language.path).glob("*/index.html"))
        if weights:
            figures = f"most {weights[-1]:,}, median {statistics.median_low(weights):,} bytes of {len(weights)}"
            yield f"one page gzipped, {language.english_name}", figures
    sizes = [path.stat().st_size for path in site.rglob("*") if path.is_file() and ".publish" not in path.parts]
    yield "the whole site", f"{sum(sizes) / 1e6:.1f} MB in {len(sizes)} files"


def _with_one_sentence_changed(desk: Desk) -> Desk:
    """The desk as it were after an edit of one advice module, whose translations then wait."""
    advice = next(module for module in desk.library.advice if module.id == "flying")
    first, *rest = advice.blocks
    sentence = replace(first.text, message="Ask your clinic before you fly.")
    edited = replace(advice, blocks=(replace(first, text=sentence), *rest))
    library = replace(desk.library, advice=tuple(edited if module is advice else module for module in desk.library.advice))
    return replace(desk, library=library)


def _ready_made(site: Path, text: str) -> Iterator[tuple[str, str]]:
    for round_ in ("first", "second"):
        pages = [
            Page(f"L{n // 500}/P{n:04}/index.html", f"{text}<!-- {n} {round_} -->", f"{round_}{n}", round_)
            for n in range(READY)
        ]
        seconds, files = _timed(lambda pages=pages: len(publish(pages, site).written))  # type: ignore[misc]
        what = "write" if round_ == "first" else "replace and archive"
        yield f"{what} {READY:,} pages, texts ready", f"{seconds:.2f} s, {files / seconds:,.0f} a second"
    shutil.rmtree(site)


def _first_paint(site: Path) -> Iterator[tuple[str, str]]:
    with served(site) as host, chromium() as browser:
        for tag in ("en", "ar"):
            times = []
            for _ in range(3):
                context = browser.new_context(viewport={"width": 360, "height": 640})
                page = context.new_page()
                session = context.new_cdp_session(page)
                session.send("Network.enable")
                session.send("Network.emulateNetworkConditions", SLOW)
                page.goto(host.address + path_of("short-arm-cast", "fiberglass", tag), wait_until="load")
                times.append(page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime"))
                context.close()
            figure = f"{statistics.median(times):.0f} ms ({min(times):.0f}-{max(times):.0f}), page not compressed"
            yield f"first paint on slow 3G, {LANGUAGES[tag].english_name}", figure


def _judged(site: Path, work: Path) -> Iterator[tuple[str, str]]:
    with nginx(site, work) as host:
        for tag, path in (("en", "EN/SAF/"), ("es", "ES/STP/"), ("ar", "AR/WCF/")):
            if not (site / path).is_dir():
                continue
            report = lighthouse(host.address + path, "performance")
            paint = report["audits"]["largest-contentful-paint"]["displayValue"].replace("\xa0", " ")
            yield (
                f"Lighthouse on a phone, {LANGUAGES[tag].english_name}",
                f"performance {scores(report)['performance']}, shown in {paint}",
            )


def _timed(work: Callable[[], int]) -> tuple[float, int]:
    started = time.perf_counter()
    found = work()
    return time.perf_counter() - started, found
