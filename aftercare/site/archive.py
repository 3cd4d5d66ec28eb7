"""Paths and text of archived pages: earlier editions that stay online below `archive/`."""

from __future__ import annotations


def archive_path(path: str, edition: str) -> str:
    """Return the path in the archive of the page at `path` in an earlier edition."""
    return f"archive/{edition}/{path}"


def archived(text: str) -> str:
    """Return the text of a page for the archive: the notice `#earlier` is shown, links with `../../` go up two more folders."""
    return text.replace(' id="earlier" hidden', ' id="earlier"').replace('"../../', '"../../../../')
