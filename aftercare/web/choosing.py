"""The nurse's form. Everything chosen comes and goes in POST bodies, so that no address and no log ever holds it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from flask import Blueprint, request

from aftercare.web.form import CheckedForm, check_form, empty_form, read_form
from aftercare.web.loader import DeskLoader
from aftercare.web.pages import Pages
from aftercare.web.screen import Screen

Answer = tuple[str, int]


def choosing(loader: DeskLoader, pages: Pages, now: Callable[[], datetime]) -> Blueprint:
    """The desk's page, whole or in parts."""
    area = Blueprint("choosing", __name__)

    @area.get("/")
    def empty() -> Answer:
        desk = loader.desk()
        return show_desk(loader, pages, check_form(desk, empty_form(desk, now())), asked=False)

    @area.post("/")
    def update() -> Answer:
        desk = loader.desk()
        return show_desk(loader, pages, check_form(desk, read_form(request.form)), asked=False)

    @area.post("/parts")
    def parts() -> Answer:
        """What follows from a change; `asked` says that the nurse wanted to print, so what is missing is said too."""
        desk = loader.desk()
        checked = check_form(desk, read_form(request.form))
        return show_desk(loader, pages, checked, asked="asked" in request.form, template="_parts.html")

    return area


def show_desk(loader: DeskLoader, pages: Pages, checked: CheckedForm, *, asked: bool, template: str = "desk.html") -> Answer:
    """The form kept as it was, each problem beside its field.

    Status 400 where there is one to show, 500 where none of them is about a field: then the fault is not the nurse's.
    """
    said = checked.problems if asked else checked.worth_saying()
    whole = asked or template == "desk.html"
    screen = Screen(loader.desk(), checked, said=said, groups=loader.groups, summary=whole, unread=loader.unread)
    status = 200 if not said else 400 if any(problem.field for problem in said) else 500
    return pages.show(template, screen=screen), status
