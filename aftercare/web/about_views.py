"""The page about the advice. It takes no form: nothing on it depends on a patient or on what is chosen at the desk."""

from __future__ import annotations

from flask import Blueprint

from aftercare.web.about import about
from aftercare.web.loader import DeskLoader
from aftercare.web.pages import Pages


def about_blueprint(loader: DeskLoader, pages: Pages) -> Blueprint:
    """The page at /about; status 503 while the desk has not opened, as for the desk itself."""
    blueprint = Blueprint("about", __name__)

    @blueprint.get("/about")
    def page() -> str:
        desk = loader.desk()
        return pages.render("about.html", about=about(desk), problems=loader.problems)

    return blueprint
