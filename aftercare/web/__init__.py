"""The desk: the web application in which a nurse makes, previews and prints a sheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from flask import Flask

from aftercare.page.templates import Templates
from aftercare.places import Places
from aftercare.web.about_views import about_blueprint
from aftercare.web.assets import assets_blueprint
from aftercare.web.form import MAX_FORM_BYTES
from aftercare.web.form_views import form_blueprint
from aftercare.web.loader import DeskLoader, health_blueprint
from aftercare.web.pages import Pages, add_error_pages
from aftercare.web.phone_site import phone_site_blueprint
from aftercare.web.print_views import print_blueprint
from aftercare.web.security_headers import add_security_headers


def _now() -> datetime:
    return datetime.now(UTC)


def create_app(places: Places, home: Path | None, *, site: Path | None = None, now: Callable[[], datetime] = _now) -> Flask:
    """The desk of the clinic whose folder is `home`, as a WSGI application.

    `site` is a folder of published phone pages to serve beside the desk, or None. `now` returns an aware moment. Does not
    raise for a clinic file that is incomplete or wrong: each request then shows what to fill in, until the file is right.
    """
    app = Flask(__name__, static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = MAX_FORM_BYTES
    templates = Templates(places.templates)
    pages = Pages(templates)
    loader = DeskLoader(places, home, templates, pages)
    app.register_blueprint(health_blueprint())
    app.register_blueprint(assets_blueprint(places.templates))
    if site is not None:
        app.register_blueprint(phone_site_blueprint(site))
    app.register_blueprint(form_blueprint(loader, pages, now))
    app.register_blueprint(print_blueprint(loader, pages))
    app.register_blueprint(about_blueprint(loader, pages))
    add_security_headers(app)
    add_error_pages(app, pages)
    return app
