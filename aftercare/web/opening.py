"""Opens the desk, or says what keeps it closed."""

from __future__ import annotations

import threading
from pathlib import Path

from flask import Blueprint, Response, abort, make_response

from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.places import Places
from aftercare.web.cards import Group, device_groups
from aftercare.web.pages import Pages


class Opening:
    """The desk once it can be opened. Until then each request tries again, so that a mended file needs no restart.

    `groups` are its devices as the screen shows them, drawn once; empty before it is open.
    """

    def __init__(self, places: Places, home: Path | None, pages: Pages) -> None:
        self._places, self._home, self._pages = places, home, pages
        self._lock = threading.Lock()
        self._desk: Desk | None = None
        self.groups: tuple[Group, ...] = ()
        self._open()  # here rather than on the first patient

    def desk(self) -> Desk:
        """The open desk; else ends the request with status 503 and a page that lists what to fill in, line by line."""
        with self._lock:
            problems = () if self._desk else self._open()
            desk = self._desk
        if desk is None:
            closed = Response(self._pages.show("closed.html", problems=problems), 503, mimetype="text/html")
            abort(make_response(closed))
        return desk

    def _open(self) -> tuple[Problem, ...]:
        try:
            desk = Desk.open(self._places, self._home)
            desk.press.prepare(map(desk.language, desk.languages), desk.clinic.paper)
        except Refused as refused:
            return refused.problems
        if not desk.clinic.unset:
            self._desk, self.groups = desk, device_groups(desk.library.devices.values())
        return desk.clinic.unset


def health() -> Blueprint:
    """A short answer for whatever watches the program."""
    area = Blueprint("health", __name__)

    @area.get("/healthz")
    def healthz() -> Response:
        return Response("ok", mimetype="text/plain")

    return area
