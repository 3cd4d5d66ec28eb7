"""Opens the desk, and reads the clinic's files again when they change."""

from __future__ import annotations

import threading
from contextlib import suppress
from pathlib import Path

from flask import Blueprint, Response, abort, make_response

from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.page.templates import Templates
from aftercare.places import Places
from aftercare.web.cards import Group, device_groups
from aftercare.web.pages import Pages


class DeskLoader:
    """Holds the desk of the clinic's files as they were last read without a problem.

    Each request reads them again if they have changed, or until they can be used at all, so no edit needs a restart.
    `groups` are the devices as cards, empty until the desk is open. `problems` are those of the latest reading; while there
    are any, sheets are made from the reading before it.
    """

    def __init__(self, places: Places, home: Path | None, templates: Templates, pages: Pages) -> None:
        self._places, self._home, self._templates, self._pages = places, home or places.content, templates, pages
        self._lock = threading.Lock()
        self._desk: Desk | None = None
        self._files_read: frozenset[tuple[Path, int, int]] = frozenset()
        self.groups: tuple[Group, ...] = ()
        self.problems: tuple[Problem, ...] = ()
        self._open()  # so that the first request does not wait for it

    def desk(self) -> Desk:
        """The open desk. If there is none, ends the request with status 503 and a page that lists every problem."""
        with self._lock:
            if self._desk is None or self._files() != self._files_read:
                self._open()
            desk = self._desk
        if desk is None:
            html = self._pages.render("clinic_not_ready.html", problems=self.problems)
            abort(make_response(Response(html, 503, mimetype="text/html")))
        return desk

    def _open(self) -> None:
        self._files_read = self._files()  # before reading, so that a file saved meanwhile counts as changed
        try:
            desk = Desk.open(self._places, self._home, self._templates)
            self.problems = desk.clinic.unset
            if self.problems:
                return
            desk.printer.prepare(map(desk.language, desk.languages), desk.clinic.paper)
        except Refused as refused:
            self.problems = refused.problems
            return
        self._desk, self.groups = desk, device_groups(desk.library.devices.values())

    def _files(self) -> frozenset[tuple[Path, int, int]]:
        """The clinic's own files, each with its time of change in nanoseconds and its size in bytes."""
        files = set()
        for name in ("clinic.md", "approvals.yaml", "translations/*.po"):
            for path in self._home.glob(name):
                with suppress(FileNotFoundError):  # an editor is replacing it at this moment
                    stat = path.stat()
                    files.add((path, stat.st_mtime_ns, stat.st_size))
        return frozenset(files)


def health_blueprint() -> Blueprint:
    """Answers `ok` while the program runs, for monitoring."""
    blueprint = Blueprint("health", __name__)

    @blueprint.get("/healthz")
    def healthz() -> Response:
        return Response("ok", mimetype="text/plain")

    return blueprint
