"""Locates the folders of content, translations and templates."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from aftercare.errors import Fault, Refused


@dataclass(frozen=True, slots=True)
class Places:
    """The three folders of data that the program needs: English content, translations and page templates."""

    content: Path
    translations: Path
    templates: Path


def find_places() -> Places:
    """Locate the folders in the installed package, else beside it in a checkout. Raises Refused where neither has them."""
    package = Path(__file__).resolve().parent
    for root in (package, package.parent):
        if (root / "content" / "figures.yaml").is_file():
            return Places(root / "content", root / "translations", root / "templates")
    what, subject = "The content folder is missing; it is neither {} nor {}.", (package / "content", package.parent / "content")
    raise Refused.one(Fault.NOT_INSTALLED, what, subject=tuple(map(str, subject)), advice="Install the program again.")


def shown(path: Path, root: Path) -> str:
    """Format a path for messages: relative to the parent of `root` where it is inside that, else unchanged."""
    try:
        return path.resolve().relative_to(root.resolve().parent).as_posix()
    except ValueError:
        return path.as_posix()
