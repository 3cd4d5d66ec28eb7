"""Earlier editions: where they are kept, and what is changed in them so that they say so and still lead to the present one."""

from __future__ import annotations


def archive_path(path: str, edition: str) -> str:
    """Where the page at `path` stays once a newer edition has taken its place."""
    return f"archive/{edition}/{path}"


def archived(text: str) -> str:
    """An earlier page: its notice is shown, and its links out of its folder reach the present site from two folders deeper."""
    return text.replace(' id="earlier" hidden', ' id="earlier"').replace('"../../', '"../../../../')
