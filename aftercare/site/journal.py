"""Replaces many files atomically: stage, write a journal, rename. An interrupted run is completed by the next.

1. Stage every file. An interruption here leaves the site unchanged.
2. Write the journal, then rename file after file. After an interruption here the next run completes the renames.
3. Remove the journal.

Without a journal, the next run would repair the pages but not the archive: after a run that is interrupted between two renames
and followed by a new edition, pages that were online for a while would not be archived.
"""

from __future__ import annotations

import fcntl
import json
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from aftercare.errors import Fault, Refused, Where
from aftercare.site.record import RECORD, STATE_FOLDER, is_site_path

JOURNAL = "journal.json"


@contextmanager
def locked(site: Path, on_wait: Callable[[], None]) -> Iterator[None]:
    """Lock the folder exclusively. `on_wait` is called before waiting for another publisher to release it.

    The lock ends with its process. If the block fails in a folder that was not published before, the folders created here are
    removed again. Raises OSError where the folder cannot be written.
    """
    state, site_existed = site / STATE_FOLDER, site.exists()
    state_existed = state.exists()
    while True:
        state.mkdir(parents=True, exist_ok=True)
        with (state / "lock").open("w") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                on_wait()
                fcntl.flock(lock, fcntl.LOCK_EX)
            if not _is_open_file(state / "lock", lock.fileno()):
                continue  # the previous holder failed and removed the folder with the file that is locked now
            try:
                yield
            except BaseException:
                if not state_existed and not (state / JOURNAL).exists():
                    shutil.rmtree(state)
                    if not site_existed:
                        site.rmdir()
                raise
            return


def _is_open_file(path: Path, descriptor: int) -> bool:
    """Whether `path` still is the file that `descriptor` has open."""
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


class Staging:
    """The files of one publication, staged until all are written. Use under `locked`; all methods raise OSError."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self._stage = site / STATE_FOLDER / "stage"
        self._undo = site / STATE_FOLDER / "undo"
        self._journal = site / STATE_FOLDER / JOURNAL
        self._paths: list[str] = []

    def recover(self) -> None:
        """Complete an interrupted run if it has a journal, else discard it. Raises Refused for a damaged journal."""
        if self._journal.exists():
            for number, path in enumerate(self._read_journal()):
                if (staged := self._stage / str(number)).exists():
                    self._move(staged, path)
            self._journal.unlink()
        self.clear()
        self._stage.mkdir(parents=True)
        self._undo.mkdir()

    def add(self, path: str, content: bytes) -> None:
        """Stage one file. Files are moved in the order in which they were added."""
        (self._stage / str(len(self._paths))).write_bytes(content)
        self._paths.append(path)

    def commit(self) -> None:
        """Move every staged file into place. If a move fails, undo all of them and raise its OSError."""
        if not self._paths:
            return
        os.sync()  # staged files must be on the disk before a journal that names them
        new_journal = self._journal.with_suffix(".new")
        with new_journal.open("w", encoding="utf-8") as file:
            json.dump(self._paths, file)
            file.flush()
            os.fsync(file.fileno())
        new_journal.replace(self._journal)
        try:
            for number, path in enumerate(self._paths):
                self._save_previous(number, path)
                self._move(self._stage / str(number), path)
        except OSError:
            self._roll_back()
            raise
        self._journal.unlink()

    def clear(self) -> None:
        """Discard the staged files, except where a journal shows that the next run needs them."""
        if self._journal.exists():
            return
        for folder in (self._stage, self._undo):
            if folder.exists():
                shutil.rmtree(folder)

    def _read_journal(self) -> list[str]:
        """Return the paths of an interrupted run in staged order. Raises Refused for a damaged journal."""
        try:
            paths = json.loads(self._journal.read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError) as error:
            raise self._damaged(f"It cannot be read: {error}.") from error
        if not isinstance(paths, list) or not all(isinstance(path, str) for path in paths):
            raise self._damaged("It is not a list of paths.")
        if outside := [path for path in paths if path != RECORD and not is_site_path(path)]:
            raise self._damaged("{} is not the path of a file of the site.", outside[0])
        return paths

    def _damaged(self, what: str, *subject: str) -> Refused:
        return Refused.one(
            Fault.BAD_FILE,
            f"The journal of an interrupted publication is damaged. {what}",
            subject=subject,
            advice=f"Remove the file {self._journal} and publish again; every page is compared and written anew.",
            where=Where(str(self._journal)),
        )

    def _save_previous(self, number: int, path: str) -> None:
        """Save the file that is about to be replaced, for `_roll_back`."""
        live, previous = self.site / path, self._undo / str(number)
        if live.exists():
            try:
                os.link(live, previous)
            except OSError:  # a file system without hard links
                shutil.copy2(live, previous)

    def _move(self, staged: Path, path: str) -> None:
        live = self.site / path
        try:
            staged.replace(live)
        except FileNotFoundError:
            live.parent.mkdir(parents=True, exist_ok=True)
            staged.replace(live)

    def _roll_back(self) -> None:
        for number, path in reversed(list(enumerate(self._paths))):
            if (previous := self._undo / str(number)).exists():
                previous.replace(self.site / path)
            elif not (self._stage / str(number)).exists():
                (self.site / path).unlink(missing_ok=True)
                self._remove_empty_folders(path)
        self._journal.unlink()

    def _remove_empty_folders(self, path: str) -> None:
        """Remove the empty folders above a removed file."""
        for folder in (self.site / path).parents:
            if folder == self.site or any(folder.iterdir()):
                return
            folder.rmdir()


def cannot_write(site: Path, error: OSError) -> Refused:
    """Return the refusal for an error that occurred while `site` was written and whose changes were undone."""
    return Refused.one(
        Fault.CANNOT_WRITE,
        "{} cannot be written: {}. What was published before is untouched.",
        subject=(str(error.filename or site), error.strerror or str(error)),
        advice="Free space or change the folder's rights, and publish again.",
        where=Where(str(site)),
    )
