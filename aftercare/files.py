"""Writing a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where


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
