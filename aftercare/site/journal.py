"""Replaces many files atomically: stage, write a journal, rename. An interrupted run is completed by the next.

site untouched                          | the journal stands: the next run completes it | done
stage every file ... write the journal -> rename file after file ..................... -> remove the journal

Rendering everything anew would heal the pages without a journal too, but not the archive: a run interrupted among its renames
and followed by another edition would leave pages that were online for a while and are archived nowhere.
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
from aftercare.site.record import OURS, RECORD, is_site_path

JOURNAL = "journal.json"


@contextmanager
def locked(site: Path, waiting: Callable[[], None]) -> Iterator[None]:
    """Holds the folder for one publisher; `waiting` is called where another holds it and this one has to wait.

    The system releases the lock when its holder ends, however it ends. A folder that was not a published one and into which
    nothing could be published is left as it was.
    """
    ours, site_existed = site / OURS, site.exists()
    ours_existed = ours.exists()
    while True:
        ours.mkdir(parents=True, exist_ok=True)
        with (ours / "lock").open("w") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                waiting()
                fcntl.flock(lock, fcntl.LOCK_EX)
            if not _is_file(ours / "lock", lock.fileno()):
                continue  # the holder failed and removed its folder: what we hold is no longer the lock
            try:
                yield
            except BaseException:
                if not ours_existed and not (ours / JOURNAL).exists():
                    shutil.rmtree(ours)
                    if not site_existed:
                        site.rmdir()
                raise
            return


def _is_file(path: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


class Staging:
    """New files of one publication, set aside until all are written. Use under `locked`."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self._stage = site / OURS / "stage"
        self._undo = site / OURS / "undo"
        self._journal = site / OURS / JOURNAL
        self._paths: list[str] = []

    def recover(self) -> None:
        """Complete an interrupted run whose files were all staged; discard any other. Raises Refused for a bad journal."""
        if self._journal.exists():
            for number, path in enumerate(self._read_journal()):
                if (staged := self._stage / str(number)).exists():
                    self._move(staged, path)
            self._journal.unlink()
        self.clear()
        self._stage.mkdir(parents=True)
        self._undo.mkdir()

    def add(self, path: str, content: bytes) -> None:
        """Stage one file; files are moved in the order in which they were added."""
        (self._stage / str(len(self._paths))).write_bytes(content)
        self._paths.append(path)

    def commit(self) -> None:
        """Move every staged file into place. When a move fails, all are moved back and the error is raised again."""
        if not self._paths:
            return
        os.sync()  # staged bytes must be on the disk before the journal promises them
        draft = self._journal.with_suffix(".new")
        with draft.open("w", encoding="utf-8") as file:
            json.dump(self._paths, file)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(self._journal)
        try:
            for number, path in enumerate(self._paths):
                self._save_previous(number, path)
                self._move(self._stage / str(number), path)
        except OSError:
            self._roll_back()
            raise
        self._journal.unlink()

    def clear(self) -> None:
        """Discard what is staged and has not been moved; where a journal stands, the next run needs it."""
        if self._journal.exists():
            return
        for folder in (self._stage, self._undo):
            if folder.exists():
                shutil.rmtree(folder)

    def _read_journal(self) -> list[str]:
        """The paths of an interrupted run, in staged order. Raises Refused for a journal that is not one of ours."""
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
        """Keep the file that is about to be replaced, so that it can be moved back."""
        live, previous = self.site / path, self._undo / str(number)
        if live.exists():
            try:
                os.link(live, previous)
            except OSError:  # a disk without hard links
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
        """Remove the folders that were made for a file and hold nothing else."""
        for folder in (self.site / path).parents:
            if folder == self.site or any(folder.iterdir()):
                return
            folder.rmdir()


def cannot_write(site: Path, error: OSError) -> Refused:
    """The refusal of a folder that could not be written, with what stays true of it."""
    return Refused.one(
        Fault.CANNOT_WRITE,
        "{} cannot be written: {}. What was published before is untouched.",
        subject=(str(error.filename or site), error.strerror or str(error)),
        advice="Free space or change the folder's rights, and publish again.",
        where=Where(str(site)),
    )
