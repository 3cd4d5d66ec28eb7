"""Published phone pages, served beside the desk for a trial or a small clinic; any static host does the same."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, abort, redirect, send_from_directory, url_for
from werkzeug.wrappers import Response

from aftercare.site.site_files import HEADERS, LASTING, LASTING_FILES


def phone_site(folder: Path) -> Blueprint:
    """Serve the files that `publish` wrote to `folder`, with the headers a host is told to send. The desk keeps `/` itself."""
    area = Blueprint("phone_site", __name__)

    @area.get("/<path:path>")
    def file(path: str) -> Response:
        if any(part.startswith((".", "_")) for part in path.split("/")):  # our own record, and what only a host reads
            abort(404)
        if not path.endswith("/") and "." not in path:  # a page's address typed without its last stroke
            return redirect(url_for(".file", path=f"{path}/"), 308)
        response = send_from_directory(folder.resolve(), f"{path}index.html" if path.endswith("/") else path)
        response.headers.update(HEADERS | (LASTING if path.startswith(LASTING_FILES) else {}))
        return response

    return area
