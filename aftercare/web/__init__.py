"""The desk in a browser: where a nurse makes, looks at and prints a sheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from flask import Flask

from aftercare.places import Places
from aftercare.web.assets import assets
from aftercare.web.choosing import choosing
from aftercare.web.guarding import LARGEST_FORM, guard
from aftercare.web.loader import DeskLoader, health
from aftercare.web.pages import Pages
from aftercare.web.phone_site import phone_site
from aftercare.web.printing import printing


def _now() -> datetime:
    return datetime.now(UTC)


def create_app(places: Places, home: Path | None, *, site: Path | None = None, now: Callable[[], datetime] = _now) -> Flask:
    """The desk for the clinic whose file stands in `home`, as a WSGI application.

    `site` is the folder of published phone pages to serve beside the desk, or None where another host does. `now` gives
    an aware moment. Never raises for a clinic file that is not ready: the desk then says what to fill in, and opens by
    itself once it is.
    """
    app = Flask(__name__, static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = LARGEST_FORM
    pages = Pages(places.templates)
    loader = DeskLoader(places, home, pages)
    app.register_blueprint(health())  # is the program alive
    app.register_blueprint(assets(places.templates))  # the desk's own style sheets and script
    if site is not None:
        app.register_blueprint(phone_site(site))  # what patients open by the code on their sheet
    app.register_blueprint(choosing(loader, pages, now))  # the nurse's form
    app.register_blueprint(printing(loader, pages))  # the sheet, as live preview and as PDF
    guard(app, pages)  # headers, and what a wrong address or an oversized form is told
    return app
