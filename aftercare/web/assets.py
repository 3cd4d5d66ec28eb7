"""What the desk's pages link to: style sheets and script from templates/web, and the font, by a fixed list of names."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, abort, send_file

from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.page.stylesheet import font_path

_TYPES = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".ttf": "font/ttf"}
_FACES = {400: "regular.ttf", 700: "bold.ttf"}


def assets(templates: Path) -> Blueprint:
    """Serve them. They are the same for every page and sheet, so that no request for one tells anything."""
    area = Blueprint("assets", __name__)
    known = {path.name: path for path in (templates / "web").iterdir() if path.suffix in _TYPES}
    known |= {_FACES[font.weight]: font_path(font) for font in LANGUAGES[SOURCE].fonts}

    @area.get("/assets/<name>")
    def asset(name: str) -> Response:
        if name not in known:
            abort(404)
        response = send_file(known[name], mimetype=_TYPES[Path(name).suffix], conditional=True)
        # They change only with the program; the browser asks each time whether they have (by ETag).
        response.headers["Cache-Control"] = "no-cache"
        return response

    return area
