"""Publishing: pages become a folder of static files, all or nothing. A page is written where its bytes differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.site.archive import archive_path, archived
from aftercare.site.journal import Staging, cannot_write, locked
from aftercare.site.record import (
    HEADERS_SIGNATURE,
    OURS,
    PATH_RULE,
    RECORD,
    Entry,
    digest,
    is_site_path,
    read_record,
    record_text,
)

# The edition of a page that says that its code is no longer in use.
WITHDRAWN = "withdrawn"
# The edition of a list of sheets: no paper leads to it, but like a page it is replaced when it is no longer offered.
LIST = "list"


@dataclass(frozen=True, slots=True)
class Page:
    """One file to publish. `path` is relative, with `/`. `edition` is the code printed on the paper that leads to this page,
    WITHDRAWN for a page that says so, LIST for a list of sheets, and empty for files that no paper leads to.
    """

    path: str
    text: str
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Published:
    """What one publication did, by path: written new or anew, put into the archive, marked as withdrawn, left as they were
    though no longer offered; and how many files were unchanged.
    """

    written: tuple[str, ...]
    archived: tuple[str, ...]
    withdrawn: tuple[str, ...]
    left: tuple[str, ...]
    unchanged: int


def publish(
    pages: Iterable[Page],
    site: Path,
    *,
    withdrawn: Callable[[str], Page | None] = lambda _path: None,
    waiting: Callable[[], None] = lambda: None,
) -> Published:
    """Make the folder `site` hold these pages. A page published before and not among them is replaced by what `withdrawn` makes
    of its path, for good; where it makes None the page is left as it is. A page of a new edition leaves the earlier one under
    `archive/`. `waiting` is called where another publisher holds the folder and this one has to wait for it.

    Raises Refused (CANNOT_WRITE, BAD_VALUE, BAD_FILE, DUPLICATE); the folder is then as it was before.
    """
    wanted = _by_path(pages)
    _refuse_foreign(site)  # before the lock, which writes a file of ours
    try:
        with locked(site, waiting):
            staging = Staging(site)
            staging.recover()
            try:
                done = _stage(wanted, site, read_record(site), staging, withdrawn)
                staging.commit()
            finally:
                staging.clear()
            return done
    except OSError as error:
        raise cannot_write(site, error) from error


def _stage(
    wanted: dict[str, Page],
    site: Path,
    record: Mapping[str, Entry],
    staging: Staging,
    withdrawn: Callable[[str], Page | None],
) -> Published:
    """Stage every file that differs from what the folder holds, and the record, in the order in which they may be moved."""
    gone = [path for path, entry in record.items() if entry.edition and path not in wanted and not path.startswith("archive/")]
    marked = {path: page for path in gone if (page := withdrawn(path))}
    contents = {path: page.text.encode() for path, page in (wanted | marked).items()}
    live = {path: _read(site / path) for path in contents}
    differing = sorted((path for path, content in contents.items() if content != live[path]), key=_moving_order)
    now = dict(record)
    earlier: list[str] = []
    for path in differing:
        entry, before = record.get(path), live[path]
        if entry and before and _is_earlier_edition(path, (wanted | marked)[path], entry, before, record):
            copy = archived(before.decode()).encode()
            to = archive_path(path, entry.edition)
            staging.add(to, copy)
            now[to] = Entry(entry.edition, digest(copy), len(copy))
            earlier.append(to)
    for path in differing:
        staging.add(path, contents[path])
    for path, page in (wanted | marked).items():
        now[path] = Entry(page.edition, digest(contents[path]), len(contents[path]))
    if now != record:
        staging.add(RECORD, record_text(now).encode())
    return Published(
        written=tuple(differing),
        archived=tuple(earlier),
        withdrawn=tuple(path for path in differing if path in marked),
        left=tuple(path for path in gone if path not in marked),
        unchanged=len(contents) - len(differing),
    )


def _moving_order(path: str) -> tuple[int, int, str]:
    """What a page loads comes before the page, a page before the lists that lead to it, workers, which renew pages, last."""
    kind = 2 if path.endswith("worker.js") else 1 if path.endswith(".html") else 0
    return kind, -path.count("/"), path


def _read(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None


def _is_earlier_edition(path: str, page: Page, entry: Entry, before: bytes, record: Mapping[str, Entry]) -> bool:
    """Whether what stands there now is an earlier edition, still as we wrote it and not archived yet."""
    if entry.edition in ("", WITHDRAWN, LIST, page.edition) or archive_path(path, entry.edition) in record:
        return False
    return digest(before) == entry.digest


def _by_path(pages: Iterable[Page]) -> dict[str, Page]:
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


def _refuse_foreign(site: Path) -> None:
    """Raises Refused for a folder that holds other files and nothing of ours: a mistyped path, not a phone site."""
    if not site.is_dir() or read_record(site):
        return
    headers = site / "_headers"
    if headers.is_file() and headers.read_text(encoding="utf-8", errors="replace").startswith(HEADERS_SIGNATURE):
        return
    if others := sorted(path.name for path in site.iterdir() if path.name != OURS):
        raise Refused.one(
            Fault.CANNOT_WRITE,
            "The folder holds files that were not published from here, such as {}.",
            subject=(others[0],),
            advice="Name an empty folder, or the folder you published to before.",
            where=Where(str(site)),
        )
