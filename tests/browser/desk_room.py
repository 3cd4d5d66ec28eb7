"""A running desk, a real browser in front of it, and two checkers of pages that are not ours."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from flask import Flask
from playwright.sync_api import Browser, Page, expect, sync_playwright
from werkzeug.serving import make_server
from werkzeug.wrappers import Request, Response

TOOLS = Path(__file__).resolve().parents[1] / "tools" / "node_modules"
AXE = TOOLS / "axe-core" / "axe.min.js"
NU = TOOLS / "vnu-jar" / "build" / "dist" / "vnu.jar"
# WCAG 2.2 at A and AA, and what axe calls best practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@dataclass(frozen=True, slots=True)
class Asked:
    """One line of the server's own log: what was asked for, and the answer's status, type and first bytes."""

    method: str
    target: str
    status: int
    type: str
    start: bytes


@dataclass
class Room:
    """Where the desk runs, and everything it was asked."""

    address: str
    log: list[Asked] = field(default_factory=list)


@contextmanager
def running(app: Flask) -> Iterator[Room]:
    """The desk on a free port of this machine."""
    room = Room("")

    @Request.application
    def logged(request: Request) -> Response:
        response = Response.from_app(app, request.environ, buffered=True)
        target = request.path + (f"?{request.query_string.decode()}" if request.query_string else "")
        start = response.get_data()[:5]
        room.log.append(Asked(request.method, target, response.status_code, response.headers.get("Content-Type", ""), start))
        return response

    server = make_server("127.0.0.1", 0, logged, threaded=True)
    room.address = f"http://127.0.0.1:{server.port}"
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield room
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's own Chromium."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-dev-shm-usage"])
        yield browser
        browser.close()


def axe_violations(page: Page) -> list[str]:
    """What axe finds wrong, one line each."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    # Frames hold the paper's own page, which is checked as paper.
    found = page.evaluate("rules => axe.run({exclude: ['iframe']}, {runOnly: rules, iframes: false})", RULES)
    return [f"{v['id']}: {v['help']}: {node['html'][:120]}" for v in found["violations"] for node in v["nodes"]]


# Nu remarks on a type of field that every browser of the last years has; HTML 4.10.5.1.10 defines it.
_REMARK = re.compile(r"The “(date|datetime-local)” input type is not supported in all browsers")


def nu_messages(pages: dict[str, str], folder: Path) -> list[str]:
    """What the Nu checker says of pages, errors and warnings alike."""
    for name, html in pages.items():
        (folder / f"{name}.html").write_text(html, encoding="utf-8")
    files = [str(folder / f"{name}.html") for name in pages]
    run = subprocess.run(
        ["java", "-jar", str(NU), "--format", "json", "--exit-zero-always", *files], capture_output=True, check=True
    )
    messages = json.loads(run.stderr)["messages"]
    return [
        f"{Path(m['url']).stem}: {m['message']} {m.get('extract', '')}" for m in messages if not _REMARK.search(m["message"])
    ]


def fill_arm(page: Page) -> None:
    """An arm cast up to a ready sheet, with the pointer."""
    page.locator("label:has(#device-short-arm-cast)").click()
    page.check("#material-fiberglass")
    page.check("#side-left")
    expect(page.locator("#details")).to_have_attribute("data-ready", "yes")
    page.frame_locator("#preview iframe:not(.coming)").get_by_role("heading", level=1).wait_for()
