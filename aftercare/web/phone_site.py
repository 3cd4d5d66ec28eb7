"""Serves published phone pages beside the desk, for a trial or a small clinic; any static host does the same."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, abort, redirect, send_from_directory, url_for
from werkzeug.wrappers import Response

from aftercare.site.site_files import HEADERS, IMMUTABLE, IMMUTABLE_PREFIX


def phone_site_blueprint(folder: Path) -> Blueprint:
    """Serves the files that `publish` wrote to `folder`, except at `/`, with the headers that a host should send."""
    blueprint = Blueprint("phone_site", __name__)

    @blueprint.get("/<path:path>")
    def file(path: str) -> Response:
        if any(
            part.startswith((".", "_")) for part in path.split("/")
        ):  # the record of publications, and files that only a host reads
            abort(404)
        if not path.endswith("/") and "." not in path:  # the address of a page, typed without its last slash
            return redirect(url_for(".file", path=f"{path}/"), 308)
        response = send_from_directory(folder.resolve(), f"{path}index.html" if path.endswith("/") else path)
        response.headers.update(HEADERS | (IMMUTABLE if path.startswith(IMMUTABLE_PREFIX) else {}))
        return response

    return blueprint
