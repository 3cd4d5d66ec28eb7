"""The desk's own HTML templates, and its pages for HTTP errors."""

from __future__ import annotations

from flask import Flask
from werkzeug.exceptions import HTTPException

from aftercare.page.templates import Templates


class Pages:
    """Renders the templates in `templates/web`. Values are escaped; a name that was not given raises UndefinedError."""

    def __init__(self, templates: Templates) -> None:
        self._templates = templates

    def render(self, template: str, **values: object) -> str:
        """The template with its values, as HTML."""
        return self._templates.render(f"web/{template}", **values)


def add_error_pages(app: Flask, pages: Pages) -> None:
    """Makes the application answer HTTP errors with a page in plain words."""

    @app.errorhandler(HTTPException)
    def error_page(error: HTTPException) -> tuple[str, int]:
        return pages.render("error.html", code=error.code, name=error.name), error.code or 500
