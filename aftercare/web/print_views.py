"""The views of the sheet itself: the live preview, and the PDF for the printer."""

from __future__ import annotations

from dataclasses import replace

from flask import Blueprint, Response, request

from aftercare.errors import Fault, Problem, Refused
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.web.form import CheckedForm, Form, check_form, read_form
from aftercare.web.form_views import HtmlResponse, render_form
from aftercare.web.loader import DeskLoader
from aftercare.web.pages import Pages
from aftercare.web.preview import preview_page
from aftercare.web.problems import desk_names, shown_problems
from aftercare.web.security_headers import sheet_policy


def print_blueprint(loader: DeskLoader, pages: Pages) -> Blueprint:
    """The preview and the PDF of a posted form."""
    blueprint = Blueprint("print", __name__)

    @blueprint.post("/preview")
    def preview() -> Response | HtmlResponse:
        desk = loader.desk()
        checked = check_form(desk, read_form(request.form))
        if checked.translated is None:
            problems = shown_problems(checked.problems, desk_names(desk.library))
            return pages.render("incomplete.html", problems=problems), 400
        html = preview_page(desk, checked.translated, Paper(checked.form.paper), Size(checked.form.size))
        return Response(html, mimetype="text/html", headers={"Content-Security-Policy": sheet_policy(html)})

    @blueprint.post("/sheet.pdf")
    def sheet() -> Response | HtmlResponse:
        desk = loader.desk()
        checked = check_form(desk, read_form(request.form))
        if checked.translated is None:
            return render_form(loader, pages, checked, print_requested=True)
        form = checked.form
        try:
            pdf = desk.print_translated(checked.translated, Paper(form.paper), Size(form.size))
        except Refused as refused:
            problems = tuple(_with_field(problem) for problem in refused.problems)
            return render_form(loader, pages, CheckedForm(form, problems, checked.choices), print_requested=True)
        headers = {"Content-Disposition": f'inline; filename="{file_name(form)}"'}
        return Response(pdf, mimetype="application/pdf", headers=headers)

    return blueprint


def file_name(form: Form) -> str:
    """The name of the PDF: ASCII, made of ids only, so nothing in it is about a person."""
    return f"{form.picked.device}-{form.language}.pdf"


def _with_field(problem: Problem) -> Problem:
    """A sheet that is too long is about the options, which can be left out; other problems of printing are about no field."""
    return replace(problem, field="options") if problem.fault is Fault.TOO_MANY_PAGES else problem
