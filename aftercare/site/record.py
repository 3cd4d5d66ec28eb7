"""What a published folder holds: for every file its edition, digest and size, recorded beside the files."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from hashlib import blake2b
from pathlib import Path
from typing import Any

from aftercare.errors import Fault, Problem, Refused, Where

# Our own folder inside a published one: a rename is atomic on one disk only, and so the record moves with the site.
OURS = ".publish"
RECORD = f"{OURS}/record.json"
# The first line of our `_headers`, which shows that a folder is ours even without its record.
HEADERS_SIGNATURE = "# Written by 'aftercare publish'; changes are overwritten."

# Letters, digits and a few marks, so that a path means the same on every disk, server and object store; no part begins with a
# dot, so that none leads out of the folder.
_PATH = re.compile(r"(?!\.)[A-Za-z0-9._-]+(/(?!\.)[A-Za-z0-9._-]+)*")
PATH_RULE = "letters, digits, '.', '-', '_' and '/', relative, no part beginning with '.'"


def is_site_path(path: str) -> bool:
    """Whether this can be the path of a published file: relative to the site, and never outside it."""
    return _PATH.fullmatch(path) is not None


@dataclass(frozen=True, slots=True)
class Entry:
    """One published file. `edition` is that of its page, `digest` is of its bytes, `size` counts them."""

    edition: str
    digest: str
    size: int


def digest(content: bytes) -> str:
    """A hash of these bytes in 32 hexadecimal digits: 128 bits, so that no two contents ever share one."""
    return blake2b(content, digest_size=16).hexdigest()


def read_record(site: Path) -> dict[str, Entry]:
    """Every file published into this folder, by its path; empty for a new folder.

    Raises Refused for a damaged record, with every line that cannot be right.
    """
    path = site / RECORD
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, RecursionError) as error:
        raise Refused([_damaged(path, f"It cannot be read: {error}.")]) from error
    if not isinstance(record, dict):
        raise Refused([_damaged(path, "It is not a table of files.")])
    problems = [
        _damaged(path, "{} is not a file of the site with its edition, digest and size.", name)
        for name, fields in record.items()
        if not is_site_path(name) or not _is_entry(fields)
    ]
    if problems:
        raise Refused(problems)
    return {name: Entry(fields["edition"], fields["digest"], fields["size"]) for name, fields in record.items()}


def _is_entry(fields: Any) -> bool:
    """Whether the fields are those of an Entry. More of them may be there: an earlier version recorded two."""
    kinds = {"edition": str, "digest": str, "size": int}
    return isinstance(fields, dict) and all(isinstance(fields.get(name), kind) for name, kind in kinds.items())


def _damaged(path: Path, what: str, *subject: str) -> Problem:
    return Problem(
        Fault.BAD_FILE,
        f"The record of what was published is damaged. {what}",
        subject=subject,
        advice=f"Remove the folder {path.parent} and publish again; pages already there are compared and written anew.",
        where=Where(str(path)),
    )


def record_text(record: Mapping[str, Entry]) -> str:
    """The text of the record file, one published file a line."""
    lines = (f"{json.dumps(path)}: {json.dumps(asdict(entry))}" for path, entry in sorted(record.items()))
    return "{\n" + ",\n".join(lines) + "\n}\n"
