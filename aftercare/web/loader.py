"""Opens the desk, or says what keeps it closed."""

from __future__ import annotations

import threading
from contextlib import suppress
from pathlib import Path

from flask import Blueprint, Response, abort, make_response

from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.places import Places
from aftercare.web.cards import Group, device_groups
from aftercare.web.pages import Pages


class DeskLoader:
    """The desk once it can be opened. Until then each request tries again, and later whenever the clinic has changed a file of
    its own, so that no edit needs a restart.

    `groups` are its devices as the screen shows them, drawn once; empty before it is open. `unread` says why the clinic's
    latest edit cannot be used; sheets are then made as they were before it.
    """

    def __init__(self, places: Places, home: Path | None, pages: Pages) -> None:
        self._places, self._home, self._pages = places, home or places.content, pages
        self._lock = threading.Lock()
        self._desk: Desk | None = None
        self._read: frozenset[tuple[Path, int, int]] = frozenset()
        self.groups: tuple[Group, ...] = ()
        self.unread: tuple[Problem, ...] = ()
        self._open()  # here rather than on the first patient

    def desk(self) -> Desk:
        """The open desk; else ends the request with status 503 and a page that lists what to fill in, line by line."""
        with self._lock:
            if self._desk is None or self._files() != self._read:
                self._open()
            desk = self._desk
        if desk is None:
            closed = Response(self._pages.show("closed.html", problems=self.unread), 503, mimetype="text/html")
            abort(make_response(closed))
        return desk

    def _open(self) -> None:
        self._read = self._files()  # before reading, so that what is saved meanwhile counts as a change
        try:
            desk = Desk.open(self._places, self._home)
            self.unread = desk.clinic.unset
            if self.unread:
                return
            desk.press.prepare(map(desk.language, desk.languages), desk.clinic.paper)
        except Refused as refused:
            self.unread = refused.problems
            return
        self._desk, self.groups = desk, device_groups(desk.library.devices.values())

    def _files(self) -> frozenset[tuple[Path, int, int]]:
        """The clinic's own files, each with its time in nanoseconds and its size in bytes."""
        found = set()
        for name in ("clinic.md", "approvals.yaml", "translations/*.po"):
            for path in self._home.glob(name):
                with suppress(FileNotFoundError):  # an editor is just putting its new file in place
                    stat = path.stat()
                    found.add((path, stat.st_mtime_ns, stat.st_size))
        return frozenset(found)


def health() -> Blueprint:
    """A short answer for whatever watches the program."""
    area = Blueprint("health", __name__)

    @area.get("/healthz")
    def healthz() -> Response:
        return Response("ok", mimetype="text/plain")

    return area
