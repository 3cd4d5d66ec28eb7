"""The files that the desk's pages link to: stylesheets and scripts from templates/web, and the font."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, abort, send_file

from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.page.stylesheet import font_path

_TYPES = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".ttf": "font/ttf"}
_FACES = {400: "regular.ttf", 700: "bold.ttf"}


def assets_blueprint(templates: Path) -> Blueprint:
    """Serves a fixed list of files. They are the same for every sheet, so that a request reveals nothing about a patient."""
    blueprint = Blueprint("assets", __name__)
    known = {path.name: path for path in (templates / "web").iterdir() if path.suffix in _TYPES}
    known |= {_FACES[font.weight]: font_path(font) for font in LANGUAGES[SOURCE].fonts}

    @blueprint.get("/assets/<name>")
    def asset(name: str) -> Response:
        if name not in known:
            abort(404)
        response = send_file(known[name], mimetype=_TYPES[Path(name).suffix], conditional=True)
        # The files change only with the program; the browser asks each time, by ETag, whether they have.
        response.headers["Cache-Control"] = "no-cache"
        return response

    return blueprint
