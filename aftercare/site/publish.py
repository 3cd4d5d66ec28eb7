"""Publishing: pages become a folder of static files, all or nothing, rewriting only what changed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.site.archive import archive_path, archived
from aftercare.site.journal import Staging, cannot_write, locked
from aftercare.site.making import Texts, made
from aftercare.site.record import HEADERS_SIGNATURE, OURS, Entry, digest, read_record, record_text, untouched

# The edition of a page that says that its code is no longer in use.
WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Page:
    """One file to publish. `path` is relative, with `/`. `text` is its content, or makes it and is asked only when `key` is
    new, so the key must change whenever the content would. `edition` is the code printed on the paper that leads to this page,
    WITHDRAWN for a page that says so, and empty for files that no paper leads to.
    """

    path: str
    text: str | Callable[[], str]
    key: str
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Published:
    """What one publication did, by path: written new or anew, put into the archive, marked as withdrawn, left as they were
    though nobody offered them any more; and how many were kept since nothing had changed.
    """

    written: tuple[str, ...]
    archived: tuple[str, ...]
    withdrawn: tuple[str, ...]
    left: tuple[str, ...]
    kept: int


def publish(
    pages: Iterable[Page],
    site: Path,
    *,
    withdrawn: Callable[[str], Page | None] | None = None,
    jobs: int = 1,
    executor: Executor | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Published:
    """Make the folder `site` hold these pages. A page published before and not among them is replaced by what `withdrawn` makes
    of its path, for good; where it makes None the page is left as it is. A page of a new edition leaves the earlier one under
    `archive/`. Texts are made by `jobs` processes, or by `executor`; `progress` hears how many of how many are made.

    Raises Refused (CANNOT_WRITE, BAD_VALUE, DUPLICATE); the folder is then as it was before.
    """
    wanted = _by_path(pages)
    try:
        with locked(site):
            staging = Staging(site)
            staging.recover()
            record = read_record(site)
            _refuse_foreign(site, record)
            try:
                texts = partial(made, jobs=jobs, executor=executor)
                done = _stage(wanted, site, record, staging, withdrawn, texts, progress)
                if done.written:
                    staging.commit()
            finally:
                staging.clear()
            return done
    except OSError as error:
        raise cannot_write(site, error) from error


def _stage(
    wanted: dict[str, Page],
    site: Path,
    record: dict[str, Entry],
    staging: Staging,
    withdrawn: Callable[[str], Page | None] | None,
    texts: Callable[[Texts], Iterable[str]],
    progress: Callable[[int, int], None] | None,
) -> Published:
    """Stage all that is new, and the record of it."""
    gone = [path for path, entry in record.items() if entry.edition and path not in wanted and not path.startswith("archive/")]
    marked = {path: page for path in gone if withdrawn and (page := withdrawn(path))}
    wanted |= marked
    new = [page for path, page in wanted.items() if not _stands(site, path, page.key, record)]
    archive = [path for page in new if (path := _to_archive(site, page, record))]
    now = dict(record)

    def put(path: str, key: str, edition: str, text: str) -> None:
        content = text.encode()
        found = staging.add(path, content)
        now[path] = Entry(key, edition, digest(content), found.st_size, found.st_mtime_ns)

    for path in archive:
        before = record[path]
        put(archive_path(path, before.edition), before.key, before.edition, archived((site / path).read_text(encoding="utf-8")))
    for number, (page, text) in enumerate(zip(new, texts([page.text for page in new]), strict=True), 1):
        put(page.path, page.key, page.edition, text)
        if progress:
            progress(number, len(new))
    if now != record:
        staging.add(f"{OURS}/record.json", record_text(now).encode())
    return Published(
        tuple(page.path for page in new),
        tuple(archive_path(path, record[path].edition) for path in archive),
        tuple(page.path for page in new if page.path in marked),
        tuple(path for path in gone if path not in marked),
        len(wanted) - len(new),
    )


def _stands(site: Path, path: str, key: str, record: Mapping[str, Entry]) -> bool:
    entry = record.get(path)
    return entry is not None and entry.key == key and untouched(site, path, entry)


def _to_archive(site: Path, page: Page, record: Mapping[str, Entry]) -> str:
    """The path of this page if what stands there now is an earlier edition, still as we wrote it and not archived yet."""
    entry = record.get(page.path)
    if entry is None or entry.edition in ("", WITHDRAWN, page.edition):
        return ""
    if archive_path(page.path, entry.edition) in record or not untouched(site, page.path, entry):
        return ""
    return page.path


# Letters, digits and a few marks, so that a path means the same on every disk, server and object store.
_PATH = re.compile(r"(?!\.)[A-Za-z0-9._-]+(/(?!\.)[A-Za-z0-9._-]+)*")


def _by_path(pages: Iterable[Page]) -> dict[str, Page]:
    found: dict[str, Page] = {}
    problems = []
    for page in pages:
        if not _PATH.fullmatch(page.path):
            what = f"'{page.path}' cannot be the path of a page."
            problems.append(Problem(Fault.BAD_VALUE, what, "Letters, digits, '.', '-', '_' and '/', relative."))
        if page.path in found:
            problems.append(Problem(Fault.DUPLICATE, f"Two pages want the path '{page.path}'.", advice="Keep one."))
        found[page.path] = page
    if problems:
        raise Refused(problems)
    return found


def _refuse_foreign(site: Path, record: Mapping[str, Entry]) -> None:
    """A folder that holds other files and nothing of ours is a mistyped path, not a phone site."""
    if record or (
        (site / "_headers").is_file() and (site / "_headers").read_text(errors="replace").startswith(HEADERS_SIGNATURE)
    ):
        return
    others = sorted(path.name for path in site.iterdir() if path.name != OURS)
    if others:
        what = f"The folder holds files that were not published from here, such as '{others[0]}'."
        advice = "Name an empty folder, or the folder you published to before."
        raise Refused([Problem(Fault.CANNOT_WRITE, what, advice=advice, where=Where(str(site)))])
