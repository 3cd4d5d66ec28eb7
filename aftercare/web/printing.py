"""The sheet itself: as the nurse's live preview and as the PDF that goes to the printer."""

from __future__ import annotations

from dataclasses import replace

from flask import Blueprint, Response, request

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.web.choosing import Answer, show_desk
from aftercare.web.form import CheckedForm, Form, check_form, read_form
from aftercare.web.guarding import sheet_policy
from aftercare.web.loader import DeskLoader
from aftercare.web.pages import Pages
from aftercare.web.preview import on_screen


def printing(loader: DeskLoader, pages: Pages) -> Blueprint:
    """The preview and the PDF of one form."""
    area = Blueprint("printing", __name__)

    @area.post("/preview")
    def preview() -> Response | Answer:
        desk = loader.desk()
        checked = check_form(desk, read_form(request.form))
        if not checked.translated:
            return pages.show("not_yet.html", problems=checked.problems), 400
        html = on_screen(desk, checked.translated, Paper(checked.form.paper), Size(checked.form.size))
        return Response(html, mimetype="text/html", headers={"Content-Security-Policy": sheet_policy(html)})

    @area.post("/sheet.pdf")
    def sheet() -> Response | Answer:
        desk = loader.desk()
        checked = check_form(desk, read_form(request.form))
        if not checked.choices or not checked.ready:
            return show_desk(loader, pages, checked, asked=True)
        try:
            form = checked.form
            pdf = desk.print_sheet(checked.choices, form.language, Paper(form.paper), Size(form.size))
        except Refused as refused:
            problems = tuple(_at_options(problem) for problem in refused.problems)
            return show_desk(loader, pages, CheckedForm(checked.form, problems, checked.choices), asked=True)
        return Response(
            pdf, mimetype="application/pdf", headers={"Content-Disposition": f'inline; filename="{file_name(checked.form)}"'}
        )

    return area


def file_name(form: Form) -> str:
    """ASCII, made of ids only; never anything about a person."""
    return f"{form.picked.device}-{form.language}.pdf"


def _at_options(problem: Problem) -> Problem:
    """A sheet too long is mended by leaving out options; anything else the press refuses is about no field."""
    return replace(problem, field="options") if problem.fault is Fault.TOO_MANY_PAGES else problem
