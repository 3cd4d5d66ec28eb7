"""The views of the nurse's form. Choices are sent in POST bodies only, so that no address and no log ever holds one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from flask import Blueprint, request

from aftercare.web.form import CheckedForm, check_form, empty_form, read_form
from aftercare.web.loader import DeskLoader
from aftercare.web.pages import Pages
from aftercare.web.screen import Screen

# HTML and its HTTP status.
HtmlResponse = tuple[str, int]


def form_blueprint(loader: DeskLoader, pages: Pages, now: Callable[[], datetime]) -> Blueprint:
    """The form as a whole page, and its parts for desk.js. `now` returns an aware moment."""
    blueprint = Blueprint("form", __name__)

    @blueprint.get("/")
    def empty() -> HtmlResponse:
        desk = loader.desk()
        return render_form(loader, pages, check_form(desk, empty_form(desk, now())), print_requested=False)

    @blueprint.post("/")
    def update() -> HtmlResponse:
        desk = loader.desk()
        return render_form(loader, pages, check_form(desk, read_form(request.form)), print_requested=False)

    @blueprint.post("/parts")
    def parts() -> HtmlResponse:
        """The parts of the page that depend on the choices. The field `asked` says that the nurse pressed print."""
        checked = check_form(loader.desk(), read_form(request.form))
        return render_form(loader, pages, checked, print_requested="asked" in request.form, template="_parts.html")

    return blueprint


def render_form(
    loader: DeskLoader, pages: Pages, checked: CheckedForm, *, print_requested: bool, template: str = "desk.html"
) -> HtmlResponse:
    """The form with its values unchanged and each problem beside its field.

    What is only missing yet is shown once the nurse wanted to print. Status 400 if a problem about a field is shown, 500 if
    only others are, since those are not the nurse's mistakes.
    """
    problems = checked.problems if print_requested else checked.problems_while_choosing()
    screen = Screen(
        loader.desk(),
        checked,
        problems=problems,
        groups=loader.groups,
        show_summary=print_requested or template == "desk.html",
        reload_problems=loader.problems,
    )
    status = 200 if not problems else 400 if any(problem.field for problem in problems) else 500
    return pages.render(template, screen=screen), status
