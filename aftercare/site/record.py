"""Reads and formats the record of a published folder: the edition, digest and size of every file."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from hashlib import blake2b
from pathlib import Path
from typing import Any

from aftercare.errors import Fault, Problem, Refused, Where

# Holds the record, the lock and staged files. Inside the site, because renames are atomic on one file system only.
STATE_FOLDER = ".publish"
RECORD = f"{STATE_FOLDER}/record.json"
# The first line of `_headers`, by which a published folder is recognized without its record.
HEADERS_SIGNATURE = "# Written by 'aftercare publish'; changes are overwritten."

# Only characters that every file system, server and object store treats alike. No part begins with a dot, so that no path leads
# out of the folder.
_PATH = re.compile(r"(?!\.)[A-Za-z0-9._-]+(/(?!\.)[A-Za-z0-9._-]+)*")
PATH_RULE = "letters, digits, '.', '-', '_' and '/', relative, no part beginning with '.'"


def is_site_path(path: str) -> bool:
    """Whether this is a valid path of a published file (`PATH_RULE`)."""
    return _PATH.fullmatch(path) is not None


@dataclass(frozen=True, slots=True)
class Entry:
    """One published file: the edition of its page (see `Page`), the digest of its bytes, and its size in bytes."""

    edition: str
    digest: str
    size: int


def digest(content: bytes) -> str:
    """Return the hash of a file in 32 hexadecimal digits: 128 bits, so that two files never have the same."""
    return blake2b(content, digest_size=16).hexdigest()


def read_record(site: Path) -> dict[str, Entry]:
    """Return every file published into a folder by its path; empty for a new folder.

    Raises Refused for a damaged record, with all its bad entries.
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
    """Whether the fields include those of an Entry. An earlier version recorded two more."""
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
    """Format the record file: JSON with one published file a line."""
    lines = (f"{json.dumps(path)}: {json.dumps(asdict(entry))}" for path, entry in sorted(record.items()))
    return "{\n" + ",\n".join(lines) + "\n}\n"
