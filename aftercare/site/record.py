"""What a published folder holds: for every file its key, its edition and what it weighed, kept beside the files."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from hashlib import blake2b
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where

# Our own folder inside a published one. Inside, because a rename is only whole on one disk, and so that it moves with the site.
OURS = ".publish"
# The first line of our `_headers`, by which a folder is known as ours even without its record.
HEADERS_SIGNATURE = "# Written by 'aftercare publish'; changes are overwritten."


@dataclass(frozen=True, slots=True)
class Entry:
    """One published file, its `key` and `edition` those of its page. `digest` is of the bytes; `size` in bytes and `stamp`
    (modified, nanoseconds) tell whether they are still ours.
    """

    key: str
    edition: str
    digest: str
    size: int
    stamp: int


def digest(content: bytes) -> str:
    """A short name for these bytes; 128 bits, so that no two contents ever share one."""
    return blake2b(content, digest_size=16).hexdigest()


def read_record(site: Path) -> dict[str, Entry]:
    """Every file we published into this folder, by its path; empty for a new folder. Raises Refused for a damaged record."""
    path = site / OURS / "record.json"
    try:
        return {name: Entry(**entry) for name, entry in json.loads(path.read_text(encoding="utf-8")).items()}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, TypeError, AttributeError) as error:
        advice = f"Remove the folder {path.parent} and publish again; pages already there are written anew."
        raise Refused(
            [
                Problem(
                    Fault.BAD_FILE, f"The record of what was published cannot be read: {error}.", "", advice, Where(str(path))
                )
            ]
        ) from error


def record_text(record: Mapping[str, Entry]) -> str:
    """The record as it is kept, one file a line."""
    lines = (f"{json.dumps(path)}: {json.dumps(asdict(entry))}" for path, entry in sorted(record.items()))
    return "{\n" + ",\n".join(lines) + "\n}\n"


def untouched(site: Path, path: str, entry: Entry) -> bool:
    """Whether the file still stands as we wrote it, judged by its size and time as version control does."""
    try:
        found = (site / path).stat()
    except OSError:
        return False
    return (found.st_size, found.st_mtime_ns) == (entry.size, entry.stamp)
