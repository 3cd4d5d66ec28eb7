"""The desk's style sheets and script, from templates/web, by a fixed list of names."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, abort, send_from_directory

_TYPES = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}


def assets(templates: Path) -> Blueprint:
    """Serve what the desk's pages link to."""
    area = Blueprint("assets", __name__)
    folder = templates / "web"
    known = {path.name for path in folder.iterdir() if path.suffix in _TYPES}

    @area.get("/assets/<name>")
    def asset(name: str) -> Response:
        if name not in known:
            abort(404)
        response = send_from_directory(folder, name, mimetype=_TYPES[Path(name).suffix])
        # They change only with the program; the browser asks each time whether they have (by ETag).
        response.headers["Cache-Control"] = "no-cache"
        return response

    return area
