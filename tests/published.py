"""A few small pages to publish, and what a visitor can then fetch."""

from __future__ import annotations

from pathlib import Path

from aftercare.site.publish import Page


def pages(*names: str, edition: str = "AAAA", text: str = "words") -> list[Page]:
    """A few small pages whose text has the edition."""
    return [Page(f"EN/{name}/index.html", f"{name} {text} {edition}", edition) for name in names]


def files(site: Path) -> dict[str, str]:
    """What a visitor can fetch: every file but those of the publisher."""
    found = (path for path in site.rglob("*") if path.is_file() and ".publish" not in path.parts)
    return {path.relative_to(site).as_posix(): path.read_text(encoding="utf-8") for path in found}
