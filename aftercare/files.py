"""Writing a file whole or not at all, and reading one that may not be there."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where


def read_optional(path: Path) -> str | None:
    """The text of a file, None where there is none. Raises Refused for one that cannot be read as UTF-8 text."""
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        what = f"Cannot be read: {error.strerror if isinstance(error, OSError) else 'not UTF-8 text'}."
        advice = "Save it as UTF-8 text, in a place this account may read."
        raise Refused([Problem(Fault.BAD_FILE, what, advice=advice, where=Where(str(path)))]) from error


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` in one step, so that nobody ever meets half a file. Raises Refused when it cannot."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            # mkstemp makes files for the owner alone; a sheet or page is for whoever may read its folder.
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink()
            raise
    except OSError as error:
        what = f"Cannot be written: {error.strerror}."
        raise Refused(
            [Problem(Fault.CANNOT_WRITE, what, advice="Choose another place or free some space.", where=Where(str(path)))]
        ) from error
