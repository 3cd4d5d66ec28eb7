"""Published phone pages, served beside the desk for a trial or a small clinic; any static host does the same."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, send_from_directory


def phone_site(folder: Path) -> Blueprint:
    """Serve the files that `publish` wrote to `folder`."""
    area = Blueprint("phone_site", __name__)

    @area.get("/<language>/<code>/")
    @area.get("/<language>/<code>/<name>")
    def page(language: str, code: str, name: str = "index.html") -> Response:
        response = send_from_directory(folder.resolve(), f"{language}/{code}/{name}")
        response.headers["Cache-Control"] = "no-cache"
        return response

    return area
