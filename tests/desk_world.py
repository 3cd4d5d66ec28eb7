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
    """The demo clinic's desk as an application, opened once for all tests of a process; it keeps nothing between requests."""
    return desk_app(clinic_home(_temporary_folder()))


def _temporary_folder() -> Path:
    """A folder that is removed when this process ends."""
    folder = Path(tempfile.mkdtemp(prefix="desk-"))
    atexit.register(shutil.rmtree, folder)
    return folder


def client() -> FlaskClient:
    """A visitor of the demo clinic's desk."""
    return demo_desk().test_client()


class Page:
    """A response, parsed with an HTML parser that is not ours."""

    def __init__(self, response: TestResponse) -> None:
        self.status = response.status_code
        self.tree = lxml.html.document_fromstring(response.text)

    def elements(self, path: str) -> list[lxml.html.HtmlElement]:
        """The elements that an XPath selects, in page order."""
        return list(self.tree.xpath(path))

    def attributes(self, path: str) -> list[str]:
        """The values of the attributes that an XPath selects, in page order."""
        return [str(value) for value in self.tree.xpath(path)]

    def values(self, field: str) -> list[str]:
        """The values that a field offers, in page order."""
        return self.attributes(f"//input[@name='{field}']/@value")

    def chosen(self, field: str) -> list[str]:
        """The chosen values of a field of radio buttons or check boxes."""
        return self.attributes(f"//input[@name='{field}'][@checked]/@value")

    def text(self, path: str) -> str:
        """The words of every element that an XPath selects."""
        return " ".join(" ".join(element.text_content().split()) for element in self.elements(path))

    def problem(self, field: str) -> str:
        """The words of the problems beside a field; "" where there are none."""
        return self.text(f"//p[starts-with(@id, 'error-{field}')]")

    def summary(self) -> list[tuple[str, str]]:
        """The lines of the summary at the top of the page: the address of each link, and its words."""
        links = self.elements("//*[@id='summary'][@role='alert']//a")
        return [(str(link.get("href")), link.text_content()) for link in links]
