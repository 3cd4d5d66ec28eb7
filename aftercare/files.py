"""Writes files atomically, and reads files that may be absent."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from aftercare.errors import Fault, Refused, Where


def read_optional(path: Path) -> str | None:
    """Read a text file; None where it does not exist. Raises Refused where it cannot be read as UTF-8 text."""
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        what = f"Cannot be read: {error.strerror if isinstance(error, OSError) else 'not UTF-8 text'}."
        advice = "Save it as UTF-8 text, in a place this account may read."
        raise Refused.one(Fault.BAD_FILE, what, advice=advice, where=Where(str(path))) from error


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` to `path` atomically, so that no reader sees an incomplete file. Raises Refused where it cannot."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            # mkstemp creates files that only the owner can read; everyone who can read the folder may read a sheet or page.
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink()
            raise
    except OSError as error:
        what, advice = f"Cannot be written: {error.strerror}.", "Choose another place or free some space."
        raise Refused.one(Fault.CANNOT_WRITE, what, advice=advice, where=Where(str(path))) from error
