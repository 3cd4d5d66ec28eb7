"""Whether a host really serves what was published: every file fetched from its real address and compared."""

from __future__ import annotations

import gzip
import re
import zlib
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPException, HTTPSConnection
from pathlib import Path
from urllib.parse import urlsplit

from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.site.record import Entry, digest, read_record
from aftercare.site.site_files import HEADERS

# A page is some 13 kB; a host that has not answered by then will not help a patient on a poor connection either.
SECONDS = 20
# Small static files: more at once would look like an attack to some hosts.
AT_ONCE = 8
# Read by hosts, never served by them.
_FOR_HOSTS = frozenset({"_headers"})
_TYPES = {"html": "text/html", "js": "text/javascript", "svg": "image/svg+xml", "txt": "text/plain"}
_ALSO = {"text/javascript": ("application/javascript",)}  # RFC 9239 keeps the old name as an alias
# What a page inside cannot do for itself, so that a host without these still protects the reader less.
_WANTED = ("X-Content-Type-Options", "Content-Security-Policy")


@dataclass(frozen=True, slots=True)
class Verdict:
    """`wrong` is what differs from what was published; `advice` what the host could do better; `right` how many files agree."""

    wrong: tuple[Problem, ...]
    advice: tuple[Problem, ...]
    right: int


@dataclass(frozen=True, slots=True)
class _Answer:
    status: int
    headers: Mapping[str, str]
    body: bytes


def verify(address: str, site: Path, *, progress: Callable[[int, int], None] | None = None) -> Verdict:
    """Fetch every file of the published folder `site` from `address`, which ends in `/`. A host that does not answer at all is
    one problem, and is not asked for the rest.

    Raises Refused when nothing was published there or the address is none.
    """
    record = {path: entry for path, entry in read_record(site).items() if path not in _FOR_HOSTS}
    if not record:
        what = f"Nothing was published to {site}."
        raise Refused([Problem(Fault.BAD_FILE, what, advice="Publish first, then verify.", where=Where(str(site)))])
    if not _is_site(address):
        what = f"'{address}' is not the address of a phone site."
        raise Refused([Problem(Fault.BAD_VALUE, what, "A web address that ends in '/'.")])
    if isinstance(answer := _fetch(address, next(iter(record))), str):
        return Verdict((_silent(answer, address),), (), 0)
    wrong: list[Problem] = []
    advice: dict[str, Problem] = {}
    right = 0
    with ThreadPoolExecutor(AT_ONCE) as threads:
        answers = threads.map(lambda path: _fetch(address, path), record)
        for number, ((path, entry), answer) in enumerate(zip(record.items(), answers, strict=True), 1):
            found = _differs(address, path, entry, answer)
            wrong += found
            right += not found
            if isinstance(answer, _Answer) and path.endswith(".html"):
                advice |= {problem.what: problem for problem in _could_be_better(answer)}
            if progress:
                progress(number, len(record))
    return Verdict(tuple(wrong), tuple(advice.values()), right)


def _is_site(address: str) -> bool:
    try:
        parts = urlsplit(address)
        host, _ = (parts.hostname or "").encode("idna"), parts.port  # which also refuse what no host or port can be called
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and bool(re.fullmatch(rb"[\w.:-]+", host)) and parts.path.endswith("/")


def public_address(address: str, path: str) -> str:
    """Where a file of the site is asked for: a page by its folder, as the printed code does."""
    return address + path.removesuffix("index.html")


def _fetch(address: str, path: str) -> _Answer | str:
    """The host's answer, no redirect followed, or what went wrong."""
    parts = urlsplit(public_address(address, path))
    connection = (HTTPSConnection if parts.scheme == "https" else HTTPConnection)(parts.netloc, timeout=SECONDS)
    try:
        connection.request("GET", parts.path, headers={"Accept-Encoding": "gzip", "User-Agent": "aftercare"})
        response = connection.getresponse()
        body, headers = response.read(), {name.title(): value for name, value in response.getheaders()}
        if headers.get("Content-Encoding") == "gzip":
            body = gzip.decompress(body)
        return _Answer(response.status, headers, body)
    except (OSError, HTTPException, EOFError, zlib.error) as error:
        return str(error) or type(error).__name__
    finally:
        connection.close()


def _differs(address: str, path: str, entry: Entry, answer: _Answer | str) -> list[Problem]:
    where = Where(public_address(address, path))

    def problem(fault: Fault, what: str, advice: str) -> list[Problem]:
        return [Problem(fault, what, advice=advice, where=where)]

    if isinstance(answer, str):
        return [_silent(answer, where.path)]
    if 300 <= answer.status < 400:
        leads = answer.headers.get("Location", "nowhere")
        advice = "Serve the file itself at this address; phones lose the code behind '#' on the way."
        return problem(Fault.NOT_SERVED, f"Leads on to {leads}.", advice)
    if answer.status != 200:
        return problem(Fault.NOT_SERVED, f"The host says {answer.status}.", "Copy the whole folder to the host, capitals kept.")
    if digest(answer.body) != entry.digest:
        what = f"Another content than was published ({len(answer.body)} bytes instead of {entry.size})."
        advice = "Copy the folder again; if it still differs, stop the host from changing or caching pages."
        return problem(Fault.CHANGED_SINCE, what, advice)
    wanted = _TYPES.get(path.rsplit(".", 1)[-1])
    found = answer.headers.get("Content-Type", "").split(";")[0].strip().lower()
    if wanted and found not in (wanted, *_ALSO.get(wanted, ())):
        return problem(Fault.SERVED_OTHERWISE, f"Served as '{found}'.", f"Serve it as '{wanted}'.")
    return []


def _silent(said: str, where: str) -> Problem:
    advice = "Check the address, and that the host is up."
    return Problem(Fault.NOT_SERVED, f"The host does not answer: {said}.", advice=advice, where=Where(where))


def _could_be_better(answer: _Answer) -> list[Problem]:
    found = [
        (f"Pages come without '{name}'.", f"Send '{name}: {HEADERS[name]}'.")
        for name in _WANTED
        if name.title() not in answer.headers
    ]
    if answer.headers.get("Content-Encoding") != "gzip":
        found.append(("Pages come uncompressed.", "Let the host compress text; pages then open in a third of the time."))
    if "Set-Cookie" in answer.headers:
        found.append(("The host sets a cookie.", "Stop it; a phone page needs none."))
    return [Problem(Fault.SERVED_OTHERWISE, what, advice=advice) for what, advice in found]
