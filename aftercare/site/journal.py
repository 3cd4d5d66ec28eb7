"""Many files change as one: all are staged first, then moved; whatever interrupts the moves, the next run finishes them.

nothing of the site is touched          | the journal stands: it will be finished   | done
stage every file ... write the journal -> move file after file into place .......... -> remove the journal
"""

from __future__ import annotations

import fcntl
import json
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.site.record import OURS


@contextmanager
def locked(site: Path) -> Iterator[None]:
    """Holds the folder for one publisher; another waits. The system lets go when the holder ends, however it ends."""
    (site / OURS).mkdir(parents=True, exist_ok=True)
    with (site / OURS / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


class Staging:
    """New files of one publication, kept aside until all are there. Use under `locked`."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self._stage = site / OURS / "stage"
        self._undo = site / OURS / "undo"
        self._journal = site / OURS / "journal.json"
        self._paths: list[str] = []

    def recover(self) -> None:
        """Finish what an interrupted run had wholly staged; throw away what it had not."""
        if self._journal.exists():
            for number, path in enumerate(json.loads(self._journal.read_text(encoding="utf-8"))):
                if (staged := self._stage / str(number)).exists():
                    self._move(staged, path)
            self._journal.unlink()
        self.clear()
        self._stage.mkdir(parents=True)
        self._undo.mkdir()

    def add(self, path: str, content: bytes) -> os.stat_result:
        """Stage one file. Returns what it will weigh and when it was written."""
        staged = self._stage / str(len(self._paths))
        staged.write_bytes(content)
        self._paths.append(path)
        return staged.stat()

    def commit(self) -> None:
        """Move every staged file into place. When a move fails, all are moved back and the error is raised again."""
        os.sync()  # staged bytes must be on the disk before the journal promises them
        draft = self._journal.with_suffix(".new")
        with draft.open("w", encoding="utf-8") as file:
            json.dump(self._paths, file)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(self._journal)
        try:
            for number, path in enumerate(self._paths):
                self._keep(number, path)
                self._move(self._stage / str(number), path)
        except OSError:
            self._roll_back()
            raise
        self._journal.unlink()

    def clear(self) -> None:
        """Throw away what is staged and has not been moved; the journal, where one stands, keeps it."""
        if self._journal.exists():
            return
        for folder in (self._stage, self._undo):
            if folder.exists():
                shutil.rmtree(folder)

    def _keep(self, number: int, path: str) -> None:
        """Keep the file that is about to be replaced, for a way back."""
        live, kept = self.site / path, self._undo / str(number)
        if live.exists():
            try:
                os.link(live, kept)
            except OSError:  # a disk without hard links
                shutil.copy2(live, kept)

    def _move(self, staged: Path, path: str) -> None:
        live = self.site / path
        try:
            staged.replace(live)
        except FileNotFoundError:
            live.parent.mkdir(parents=True, exist_ok=True)
            staged.replace(live)

    def _roll_back(self) -> None:
        for number, path in reversed(list(enumerate(self._paths))):
            if (kept := self._undo / str(number)).exists():
                kept.replace(self.site / path)
            elif not (self._stage / str(number)).exists():
                (self.site / path).unlink(missing_ok=True)
        self._journal.unlink()


def cannot_write(site: Path, error: OSError) -> Refused:
    """The refusal of a folder that could not be written, with what stays true of it."""
    what = f"The phone site cannot be written: {error.strerror or error}{f' ({error.filename})' if error.filename else ''}."
    advice = "Free space or change the folder's rights, and publish again."
    return Refused([Problem(Fault.CANNOT_WRITE, what, "What was published before is untouched.", advice, Where(str(site)))])
