"""Publishes pages as a folder of static files, atomically. Writes only the files whose bytes differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.site.archive import archive_path, archived
from aftercare.site.journal import Staging, cannot_write, locked
from aftercare.site.record import (
    HEADERS_SIGNATURE,
    PATH_RULE,
    RECORD,
    STATE_FOLDER,
    Entry,
    digest,
    is_site_path,
    read_record,
    record_text,
)

# `edition` of a page which says that its code is no longer in use.
WITHDRAWN = "withdrawn"
# `edition` of a list of sheets. No QR code leads to it, but it is withdrawn like a page.
LIST = "list"


@dataclass(frozen=True, slots=True)
class Page:
    """One file to publish. `path` is relative to the site, with `/`.

    `edition` is the edition of a patients' page as printed on paper, else WITHDRAWN or LIST, else empty.
    """

    path: str
    text: str
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Published:
    """The result of one publication: paths, and the number of files that were already there with the same bytes.

    `withdrawn` are among `written`. `retained` were published before and are neither among the pages nor withdrawn.
    `untranslated` is the number of sheets without a page in a language, by its tag, because sentences wait for a translation.
    """

    written: tuple[str, ...]
    archived: tuple[str, ...]
    withdrawn: tuple[str, ...]
    retained: tuple[str, ...]
    unchanged: int
    untranslated: Mapping[str, int] = field(default_factory=dict)


def publish(
    pages: Iterable[Page],
    site: Path,
    *,
    withdrawn: Callable[[str], Page | None] = lambda _path: None,
    on_wait: Callable[[], None] = lambda: None,
) -> Published:
    """Write these pages into the folder `site`.

    A page that was published before and is not among them is replaced by `withdrawn(path)`, or left as it is where that is
    None. Where a page has a new edition, the earlier one moves to `archive/`. `on_wait` is called before waiting for another
    publisher. Raises Refused (CANNOT_WRITE, BAD_VALUE, BAD_FILE, DUPLICATE); the folder is then unchanged.
    """
    pages_by_path = _by_path(pages)
    # Before the lock, which creates files. A state folder may be that of a publisher at work, or of one that was interrupted.
    if (file := _foreign_file(site)) and not (site / STATE_FOLDER).exists():
        raise _foreign(site, file)
    try:
        with locked(site, on_wait):
            staging = Staging(site)
            staging.recover()
            try:
                if file := _foreign_file(site):
                    raise _foreign(site, file)
                published = _stage(pages_by_path, site, read_record(site), staging, withdrawn)
                staging.commit()
            finally:
                staging.clear()
            return published
    except OSError as error:
        raise cannot_write(site, error) from error


def _stage(
    pages: dict[str, Page],
    site: Path,
    record: Mapping[str, Entry],
    staging: Staging,
    withdrawn: Callable[[str], Page | None],
) -> Published:
    """Stage the archive copies, every file that differs from the one in the folder, and the record, in the order of moving."""
    missing = [
        path for path, entry in record.items() if entry.edition and path not in pages and not path.startswith("archive/")
    ]
    withdrawals = {path: page for path in missing if (page := withdrawn(path))}
    new_pages = pages | withdrawals
    contents = {path: page.text.encode() for path, page in new_pages.items()}
    live = {path: _read(site / path) for path in contents}
    differing = sorted((path for path, content in contents.items() if content != live[path]), key=_moving_order)
    new_record = dict(record)
    archive_paths: list[str] = []
    for path in differing:
        entry, content = record.get(path), live[path]
        if entry and content and _is_earlier_edition(new_pages[path], entry, content, record):
            copy = archived(content.decode()).encode()
            archive_paths.append(archive_path(path, entry.edition))
            staging.add(archive_paths[-1], copy)
            new_record[archive_paths[-1]] = Entry(entry.edition, digest(copy), len(copy))
    for path in differing:
        staging.add(path, contents[path])
    for path, page in new_pages.items():
        new_record[path] = Entry(page.edition, digest(contents[path]), len(contents[path]))
    if new_record != record:
        staging.add(RECORD, record_text(new_record).encode())
    return Published(
        written=tuple(differing),
        archived=tuple(archive_paths),
        withdrawn=tuple(path for path in differing if path in withdrawals),
        retained=tuple(path for path in missing if path not in withdrawals),
        unchanged=len(contents) - len(differing),
    )


def _moving_order(path: str) -> tuple[int, int, str]:
    """Sort key: files before the pages that load them, pages before the lists that link to them, and service workers last.

    A worker comes last because a new one makes phones fetch the pages again.
    """
    kind = 2 if path.endswith("worker.js") else 1 if path.endswith(".html") else 0
    return kind, -path.count("/"), path


def _read(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None


def _is_earlier_edition(page: Page, entry: Entry, live: bytes, record: Mapping[str, Entry]) -> bool:
    """Whether the live file is an earlier edition of the page, unchanged since it was published, and not archived yet."""
    if entry.edition in ("", WITHDRAWN, LIST, page.edition) or archive_path(page.path, entry.edition) in record:
        return False
    return digest(live) == entry.digest


def _by_path(pages: Iterable[Page]) -> dict[str, Page]:
    """Index the pages by path. Raises Refused for every path that is invalid or used twice."""
    by_path: dict[str, Page] = {}
    problems = []
    for page in pages:
        if not is_site_path(page.path):
            what = "{} cannot be the path of a page."
            problems.append(Problem(Fault.BAD_VALUE, what, subject=(page.path,), allowed=(PATH_RULE,)))
        if page.path in by_path:
            what = "Two pages want the path {}."
            problems.append(Problem(Fault.DUPLICATE, what, subject=(page.path,), advice="Keep one."))
        by_path[page.path] = page
    if problems:
        raise Refused(problems)
    return by_path


def _foreign_file(site: Path) -> str:
    """Return the name of a file in a folder that holds files but was never published to, such as a mistyped path; else ""."""
    if not site.is_dir() or read_record(site):
        return ""
    headers = site / "_headers"
    if headers.is_file() and headers.read_text(encoding="utf-8", errors="replace").startswith(HEADERS_SIGNATURE):
        return ""
    return min((path.name for path in site.iterdir() if path.name != STATE_FOLDER), default="")


def _foreign(site: Path, file: str) -> Refused:
    return Refused.one(
        Fault.CANNOT_WRITE,
        "The folder holds files that were not published from here, such as {}.",
        subject=(file,),
        advice="Name an empty folder, or the folder you published to before.",
        where=Where(str(site)),
    )
