"""How large the phone site is, and how long publishing and showing it take; rows for the benchmark's table."""

from __future__ import annotations

import gzip
import shutil
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TypeVar

from aftercare.desk import Desk
from aftercare.language.languages import LANGUAGES
from aftercare.site.publish import Page, publish
from tests.browser.desk_room import chromium
from tests.lighthouse import lighthouse, scores
from tests.nginx import nginx
from tests.phone_world import change_a_sentence, path_of, served

# For writing files alone, from pages that have been rendered: enough for fifty languages.
MANY_PAGES = 5_000
# Chrome's own "slow 3G" of old: 400 kbit/s and 400 ms for each round trip.
SLOW = {"offline": False, "latency": 400, "downloadThroughput": 400 * 1000 / 8, "uploadThroughput": 400 * 1000 / 8}

ResultT = TypeVar("ResultT")


def phone_rows(desk: Desk, folder: Path) -> Iterator[tuple[str, str]]:
    """Rows of name and figure. `folder` is empty and stays with the caller."""
    site = folder / "site"
    seconds, published = _timed(partial(reopened(desk).publish, site))
    files = len(published.written)
    yield f"publish {files} files", f"{seconds:.2f} s, {files / seconds:.0f} a second"
    yield from _weights(site)
    seconds, published = _timed(partial(reopened(desk).publish, site))
    yield "publish again, nothing changed", f"{seconds:.2f} s, {len(published.written)} files rewritten"
    seconds, published = _timed(partial(_desk_with_one_sentence_changed(desk, folder / "content").publish, site))
    yield "publish again, one English sentence changed", f"{seconds:.2f} s, {len(published.written)} files rewritten"
    yield from _publish_rendered(folder / "rendered", (site / "EN/SAF/index.html").read_text(encoding="utf-8"))
    yield from _first_paint(site)
    yield from _lighthouse_scores(site, folder / "nginx")


def reopened(desk: Desk) -> Desk:
    """The desk opened anew, so that every part of a page is rendered again and not taken from memory."""
    return Desk.open(desk.places, desk.home)


def _weights(site: Path) -> Iterator[tuple[str, str]]:
    for language in LANGUAGES.values():
        weights = sorted(len(gzip.compress(page.read_bytes())) for page in (site / language.path).glob("*/index.html"))
        if weights:
            figures = f"most {weights[-1]:,}, median {statistics.median_low(weights):,} bytes of {len(weights)}"
            yield f"one page gzipped, {language.english_name}", figures
    sizes = [path.stat().st_size for path in site.rglob("*") if path.is_file() and ".publish" not in path.parts]
    yield "the whole site", f"{sum(sizes) / 1e6:.1f} MB in {len(sizes)} files"


def _desk_with_one_sentence_changed(desk: Desk, content: Path) -> Desk:
    """The desk after an edit of one advice module, whose translations then wait. `content` does not exist yet."""
    shutil.copytree(desk.places.content, content)
    change_a_sentence(content)
    return Desk.open(replace(desk.places, content=content), desk.home)


def _publish_rendered(site: Path, text: str) -> Iterator[tuple[str, str]]:
    for edition, what in (("FIRST", "write"), ("SECOND", "replace and archive")):
        pages = [
            Page(f"L{number // 500}/P{number:04}/index.html", f"{text}<!-- {number} {edition} -->", f"{edition}{number}")
            for number in range(MANY_PAGES)
        ]
        seconds, published = _timed(partial(publish, pages, site))
        files = len(published.written)
        yield f"{what} {MANY_PAGES:,} rendered pages", f"{seconds:.2f} s, {files / seconds:,.0f} a second"
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


def _lighthouse_scores(site: Path, work: Path) -> Iterator[tuple[str, str]]:
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


def _timed(work: Callable[[], ResultT]) -> tuple[float, ResultT]:
    started = time.perf_counter()
    result = work()
    return time.perf_counter() - started, result
