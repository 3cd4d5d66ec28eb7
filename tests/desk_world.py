"""The desk of the demo clinic, and of clinics whose file differs from it by a line."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import lxml.html
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from aftercare.places import find_places
from aftercare.web import create_app

# 14:30 in New York, where the demo clinic is: UTC-5 in November.
NOW = datetime(2026, 11, 25, 19, 30, tzinfo=UTC)
DEMO = find_places().content / "demo-clinic.md"

# Complete forms: one device of the upper and one of the lower extremity.
ARM = {
    "device": "short-arm-cast",
    "material": "fiberglass",
    "side": "left",
    "applied": "2026-11-25T14:30",
    "visit": "2026-12-02T09:00",
    "language": "en",
    "paper": "letter",
    "size": "regular",
}
LEG = ARM | {"device": "short-leg-walking-cast", "weight": "partial"}


def clinic_home(folder: Path, *changes: tuple[str, str], more: str = "") -> Path:
    """A clinic's folder: the demo clinic's file with some text replaced and some added."""
    text = DEMO.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    (folder / "clinic.md").write_text(text + more, encoding="utf-8")
    return folder


def desk_app(home: Path, site: Path | None = None) -> Flask:
    """The desk of a clinic, its clock stopped at NOW."""
    return create_app(find_places(), home, site=site, now=lambda: NOW)


@cache
def demo_desk() -> Flask:
    """The demo clinic's desk, opened once for all tests of a process; it keeps nothing between requests."""
    return desk_app(clinic_home(_kept_folder()))


def _kept_folder() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="desk-"))
    atexit.register(shutil.rmtree, folder)
    return folder


def client() -> FlaskClient:
    """A visitor of the demo clinic's desk."""
    return demo_desk().test_client()


class Page:
    """An answer, read with an HTML parser that is not ours."""

    def __init__(self, answer: TestResponse) -> None:
        self.status = answer.status_code
        self.tree = lxml.html.document_fromstring(answer.text)

    def values(self, field: str) -> list[str]:
        """What can be chosen in a field, in page order."""
        return [str(box.get("value")) for box in self.tree.xpath(f"//input[@name='{field}']")]

    def chosen(self, field: str) -> list[str]:
        """What is chosen in a field of radios or boxes."""
        return [str(box.get("value")) for box in self.tree.xpath(f"//input[@name='{field}'][@checked]")]

    def text(self, path: str) -> str:
        """The words of every element a path finds."""
        return " ".join(" ".join(element.text_content().split()) for element in self.tree.xpath(path))

    def said(self, field: str) -> str:
        """What is said to be wrong beside a field."""
        return self.text(f"//p[starts-with(@id, 'error-{field}')]")

    def summary(self) -> list[tuple[str, str]]:
        """The summary at the top: where each line leads, and what it says."""
        links = self.tree.xpath("//*[@id='summary'][@role='alert']//a")
        return [(str(link.get("href")), link.text_content()) for link in links]
