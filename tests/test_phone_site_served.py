"""The phone site as the desk's own server gives it out: the same files, with the headers a host is told to send."""

from __future__ import annotations

import shutil
from contextlib import closing
from fnmatch import fnmatch

import pytest
from flask.testing import FlaskClient

from aftercare.language.languages import LANGUAGES
from aftercare.places import find_places
from aftercare.site.site_files import headers
from aftercare.web import create_app

FILES = {
    "EN/SAF/index.html": "<title>page</title>",
    "EN/worker.js": "// worker",
    "more-0123.js": "// more",
    "_headers": headers([LANGUAGES["en"]]),
    ".publish/record.json": "{}",
}


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    home = tmp_path_factory.mktemp("home")
    for name, text in FILES.items():
        (home / "site" / name).parent.mkdir(parents=True, exist_ok=True)
        (home / "site" / name).write_text(text, encoding="utf-8")
    shutil.copy(find_places().content / "demo-clinic.md", home / "clinic.md")
    return create_app(find_places(), home, site=home / "site").test_client()


@pytest.mark.parametrize(
    ("asked", "name"), [("/EN/SAF/", "EN/SAF/index.html"), ("/EN/worker.js", "EN/worker.js"), ("/more-0123.js", "more-0123.js")]
)
def test_every_file_of_the_site_is_served(client: FlaskClient, asked: str, name: str) -> None:
    with closing(client.get(asked)) as answer:
        assert (200, FILES[name]) == (answer.status_code, answer.text)


@pytest.mark.parametrize("asked", ["/.publish/record.json", "/_headers", "/EN/NONE/", "/EN/../clinic.md", "/%2e%2e/clinic.md"])
def test_nothing_else_is(client: FlaskClient, asked: str) -> None:
    assert client.get(asked).status_code == 404


@pytest.mark.parametrize("asked", ["/EN/SAF/", "/EN/worker.js", "/more-0123.js"])
def test_a_file_comes_with_the_headers_written_for_hosts(client: FlaskClient, asked: str) -> None:
    told: set[str] = set()
    matches = False
    for line in FILES["_headers"].splitlines():
        if line.startswith("/"):
            matches = fnmatch(asked, line)
        elif matches:
            told.add(line.strip())

    with closing(client.get(asked)) as answer:
        assert len(told) > 3
        assert told <= {f"{name}: {value}" for name, value in answer.headers.items()}


def test_a_page_typed_without_its_last_stroke_is_found(client: FlaskClient) -> None:
    with closing(client.get("/EN/SAF")) as answer:
        assert (answer.status_code, answer.headers["Location"]) == (308, "/EN/SAF/")


def test_the_desk_keeps_the_front_page(client: FlaskClient) -> None:
    assert "Tern Harbour" in client.get("/").text
