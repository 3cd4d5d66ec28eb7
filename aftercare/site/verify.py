"""Fetches every published file from its public address and compares it with what was published."""

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

# A host that needs longer for a page of about 13 kB is too slow for a phone on a poor connection.
TIMEOUT_SECONDS = 20
# Some hosts treat more parallel requests for small files as an attack.
PARALLEL_REQUESTS = 8
# Configuration files that a host reads but does not serve.
_NOT_SERVED = frozenset({"_headers"})
# Allowed content types by file extension, the preferred one first. RFC 9239 allows application/javascript as an alias.
_CONTENT_TYPES = {
    "html": ("text/html",),
    "js": ("text/javascript", "application/javascript"),
    "svg": ("image/svg+xml",),
    "txt": ("text/plain",),
}
# Security headers that a page cannot replace by `meta` elements.
_RECOMMENDED_HEADERS = ("X-Content-Type-Options", "Content-Security-Policy")


@dataclass(frozen=True, slots=True)
class Comparison:
    """The differences from what was published, recommended settings of the host, and the number of equal files."""

    differences: tuple[Problem, ...]
    advice: tuple[Problem, ...]
    equal: int


@dataclass(frozen=True, slots=True)
class _Response:
    status: int
    headers: Mapping[str, str]
    body: bytes


def verify(address: str, site: Path, *, progress: Callable[[int, int], None] | None = None) -> Comparison:
    """Fetch every file of the published folder `site` from `address`, which ends in `/`, and compare it.

    If the host does not answer the first request, that is the only difference and no more requests are sent. `progress` is
    called with the number of files compared and the number of all files. Raises Refused if nothing was published to `site`,
    or `address` is not the address of a site.
    """
    record = {path: entry for path, entry in read_record(site).items() if path not in _NOT_SERVED}
    if not record:
        raise Refused.one(
            Fault.BAD_FILE,
            "Nothing was published to {}.",
            subject=(str(site),),
            advice="Publish first, then verify.",
            where=Where(str(site)),
        )
    if not _is_site(address):
        raise Refused.one(
            Fault.BAD_VALUE,
            "{} is not the address of a phone site.",
            subject=(address,),
            allowed=("a web address that ends in a slash (/)",),
        )
    if isinstance(response := _fetch(address, next(iter(record))), str):
        return Comparison((_no_answer(response, address),), (), 0)
    differences: list[Problem] = []
    advice: dict[Problem, None] = {}  # an ordered set: many pages have the same problem
    equal = 0
    with ThreadPoolExecutor(PARALLEL_REQUESTS) as threads:
        responses = threads.map(lambda path: _fetch(address, path), record)
        for number, ((path, entry), response) in enumerate(zip(record.items(), responses, strict=True), 1):
            problems = _differences(address, path, entry, response)
            differences += problems
            equal += not problems
            if isinstance(response, _Response) and path.endswith(".html"):
                advice |= dict.fromkeys(_improvements(response))
            if progress:
                progress(number, len(record))
    return Comparison(tuple(differences), tuple(advice), equal)


def _is_site(address: str) -> bool:
    try:
        parts = urlsplit(address)
        host, _ = (parts.hostname or "").encode("idna"), parts.port  # both raise ValueError where they are invalid
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and bool(re.fullmatch(rb"[\w.:-]+", host)) and parts.path.endswith("/")


def public_address(address: str, path: str) -> str:
    """Return the address of a file of the site; that of a page is its folder, as in the QR code."""
    return address + path.removesuffix("index.html")


def _fetch(address: str, path: str) -> _Response | str:
    """Request a file without following redirects. Returns the response, or the text of an error."""
    parts = urlsplit(public_address(address, path))
    connection = (HTTPSConnection if parts.scheme == "https" else HTTPConnection)(parts.netloc, timeout=TIMEOUT_SECONDS)
    try:
        connection.request("GET", parts.path, headers={"Accept-Encoding": "gzip", "User-Agent": "aftercare"})
        response = connection.getresponse()
        body, headers = response.read(), {name.title(): value for name, value in response.getheaders()}
        if headers.get("Content-Encoding") == "gzip":
            body = gzip.decompress(body)
        return _Response(response.status, headers, body)
    except (OSError, HTTPException, EOFError, zlib.error) as error:
        return str(error) or type(error).__name__
    finally:
        connection.close()


def _differences(address: str, path: str, entry: Entry, response: _Response | str) -> list[Problem]:
    """Return the first difference from the published file, or an empty list."""
    where = Where(public_address(address, path))
    if isinstance(response, str):
        return [_no_answer(response, where.path)]
    if 300 <= response.status < 400:
        return [
            Problem(
                Fault.NOT_SERVED,
                "The host redirects to {}.",
                subject=(response.headers.get("Location", "nowhere"),),
                advice="Serve the file itself at this address; phones lose the code behind '#' in a redirect.",
                where=where,
            )
        ]
    if response.status != 200:
        advice = "Copy the whole folder to the host and keep the capitals in its names."
        return [Problem(Fault.NOT_SERVED, f"The host says {response.status}.", advice=advice, where=where)]
    if digest(response.body) != entry.digest:
        what = f"Another content than was published ({len(response.body)} bytes instead of {entry.size})."
        advice = "Copy the folder again; if it still differs, stop the host from changing or caching pages."
        return [Problem(Fault.CHANGED_SINCE, what, advice=advice, where=where)]
    allowed = _CONTENT_TYPES.get(path.rsplit(".", 1)[-1], ())
    content_type = response.headers.get("Content-Type", "").split(";")[0].strip().lower()
    if allowed and content_type not in allowed:
        return [
            Problem(
                Fault.SERVED_OTHERWISE,
                "Served with the content type {}.",
                subject=(content_type,),
                allowed=allowed,
                advice="Set the content type on the host.",
                where=where,
            )
        ]
    return []


def _no_answer(error: str, address: str) -> Problem:
    return Problem(
        Fault.NOT_SERVED,
        "The host does not answer: {}.",
        subject=(error,),
        advice="Check the address, and that the host is up.",
        where=Where(address),
    )


def _improvements(response: _Response) -> list[Problem]:
    """Return the recommended settings that the response of a page lacks."""
    problems = [
        Problem(
            Fault.SERVED_OTHERWISE,
            "Pages come without the header {}.",
            subject=(name,),
            allowed=(f"{name}: {HEADERS[name]}",),
            advice="Send it with each page.",
        )
        for name in _RECOMMENDED_HEADERS
        if name.title() not in response.headers
    ]
    if response.headers.get("Content-Encoding") != "gzip":
        advice = "Let the host compress text; pages then open in a third of the time."
        problems.append(Problem(Fault.SERVED_OTHERWISE, "Pages come uncompressed.", advice=advice))
    if "Set-Cookie" in response.headers:
        problems.append(Problem(Fault.SERVED_OTHERWISE, "The host sets a cookie.", advice="Stop it; a phone page needs none."))
    return problems
