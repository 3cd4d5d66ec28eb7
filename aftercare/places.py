"""Where our files are found."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused


@dataclass(frozen=True, slots=True)
class Places:
    """The three folders the program brings with it: English content, translations and page templates."""

    content: Path
    translations: Path
    templates: Path


def find_places() -> Places:
    """Inside the installed package, else beside it in a checkout. Raises Refused naming both when neither is there."""
    package = Path(__file__).resolve().parent
    for root in (package, package.parent):
        if (root / "content" / "figures.yaml").is_file():
            return Places(root / "content", root / "translations", root / "templates")
    looked = f"Looked in {package / 'content'} and {package.parent / 'content'}."
    raise Refused([Problem(Fault.NOT_INSTALLED, "The content folder is missing.", looked, "Install the program again.")])


def shown(path: Path, root: Path) -> str:
    """The path as people should see it in a message: from the checkout's root where it lies inside, else whole."""
    try:
        return path.resolve().relative_to(root.resolve().parent).as_posix()
    except ValueError:
        return path.as_posix()
