"""Tests of privacy and safety of the desk: nothing stored, no choice in an address, no request elsewhere, no open port."""

from __future__ import annotations

import base64
import hashlib
import re
import socket
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused
from aftercare.places import find_places
from aftercare.web import create_app
from aftercare.web.serving import refuse_public_bind, serve
from tests.desk_world import ARM, LEG, Page, client, clinic_home, demo_desk, desk_app

ASKED = [
    ("GET", "/"),
    ("POST", "/"),
    ("POST", "/parts"),
    ("POST", "/preview"),
    ("POST", "/sheet.pdf"),
    ("GET", "/about"),
    ("GET", "/healthz"),
    ("GET", "/assets/desk.css"),
    ("GET", "/nowhere"),
]


@pytest.mark.parametrize(("method", "address"), ASKED)
def test_every_answer_carries_the_headers_of_privacy(method: str, address: str) -> None:
    response = client().open(address, method=method, data=ARM if method == "POST" else None, buffered=True)

    # Referrer-Policy: W3C; nosniff: WHATWG Fetch 3.6; directives: CSP level 3.
    assert response.headers["Referrer-Policy"] == "no-referrer"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert "Set-Cookie" not in response.headers
    assert "default-src 'none'" in response.headers["Content-Security-Policy"]
    assert "unsafe-inline" not in response.headers["Content-Security-Policy"]
    if not address.startswith("/assets/"):
        assert response.headers["Cache-Control"] == "no-store"


def test_the_desk_has_no_secret_and_no_session() -> None:
    assert demo_desk().secret_key is None


def test_the_preview_allows_its_own_styles_by_hash_and_no_script() -> None:
    response = client().post("/preview", data=ARM)
    policy = response.headers["Content-Security-Policy"]

    for style in re.findall(r"<style[^>]*>(.*?)</style>", response.text, re.DOTALL):
        digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    assert "script-src" not in policy


def test_the_preview_fetches_nothing() -> None:
    response = client().post("/preview", data=ARM)

    fetched = re.findall(r"(?:url\(|src=|href=)[\"']?([^\"')]+)", response.text)
    assert [address[:60] for address in fetched if not address.startswith(("data:", "#"))] == []


def test_no_field_asks_who_the_patient_is() -> None:
    page = Page(client().post("/", data={**LEG, "removal": "2026-12-23"}))
    named = {str(box.get("name")) for box in page.elements("//input[@name] | //textarea | //select")}

    assert named == {
        *("device", "material", "side", "options", "weight", "applied", "visit", "removal", "language", "paper", "size"),
    }
    assert page.attributes("//form/@autocomplete") == ["off"]


def test_no_address_on_the_desk_has_a_choice() -> None:
    page = Page(client().post("/", data=LEG))
    addresses = page.attributes("//@href | //@src | //@action | //@formaction")

    assert {address for address in addresses if not address.startswith(("#", "data:", "/assets/"))} == {
        *("/", "/preview", "/sheet.pdf", "/about", "/about#options"),
    }
    assert page.attributes("//form/@method") == ["post"]


@pytest.mark.parametrize("address", ["/preview", "/sheet.pdf", "/parts"])
def test_a_sheet_cannot_be_requested_by_address_alone(address: str) -> None:
    response = client().get(address, query_string=ARM)

    assert response.status_code == 405


def test_an_oversized_form_is_refused() -> None:
    response = client().post("/", data={**ARM, "visit": "9" * 20_000})

    assert response.status_code == 413
    assert "larger than any form" in response.text


def test_several_sheets_are_printed_at_once() -> None:
    def printed(side: str) -> bytes:
        pdf: bytes = demo_desk().test_client().post("/sheet.pdf", data={**ARM, "side": side}).data
        return pdf[:5]

    with ThreadPoolExecutor(4) as people:
        assert set(people.map(printed, ["left", "right"] * 4)) == {b"%PDF-"}


def test_a_clinic_file_not_filled_in_gives_a_page_that_names_each_line(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, ('phone: "(202) 555-0143"\n', 'phone: ""\n'), ("Tern Harbour Fracture Clinic", '""'))
    desk = desk_app(home).test_client()
    page = Page(desk.get("/"))
    lines = (home / "clinic.md").read_text(encoding="utf-8").splitlines()

    assert page.status == 503
    for key in ("name", "phone"):
        number = next(number for number, line in enumerate(lines, 1) if line.startswith(f"{key}:"))
        assert f"clinic.md:{number}" in page.text("//code")
    assert desk.post("/sheet.pdf", data=ARM).status_code == 503
    assert desk.get("/healthz").text == "ok"


def test_the_shipped_clinic_file_prints_nothing() -> None:
    assert create_app(find_places(), None).test_client().post("/sheet.pdf", data=ARM).status_code == 503


def test_a_corrected_clinic_file_opens_the_desk_without_a_restart(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, ("time-zone: America/New_York", "time-zone: America/New_Yrok"))
    desk = desk_app(home).test_client()
    closed = Page(desk.get("/"))
    clinic_home(tmp_path)

    assert closed.status == 503
    assert "New_Yrok" in closed.text("//main")
    assert desk.get("/").status_code == 200


def test_an_edit_of_the_clinic_file_is_on_the_next_sheet_without_a_restart(tmp_path: Path) -> None:
    desk = desk_app(clinic_home(tmp_path)).test_client()
    before = desk.post("/preview", data=ARM).text
    clinic_home(tmp_path, more="\n## rings\n- Take every ring off that hand before you leave us.\n")

    after = desk.post("/preview", data=ARM).text

    assert "Take every ring off that hand" not in before
    assert "Take every ring off that hand" in after


def test_an_invalid_edit_is_reported_with_its_line_and_sheets_are_unchanged(tmp_path: Path) -> None:
    desk = desk_app(clinic_home(tmp_path)).test_client()
    before = desk.post("/preview", data=ARM).text
    clinic_home(tmp_path, ("time-zone: America/New_York", "time-zone: America/New_Yrok"), more="\n## rings\n- Changed.\n")

    page = Page(desk.get("/"))

    assert page.status == 200
    assert "printed as before" in page.text("//*[@class='notice']")
    assert "clinic.md:" in page.text("//*[@class='notice']//li")
    assert desk.post("/preview", data=ARM).text == before
    clinic_home(tmp_path)
    assert "printed as before" not in Page(desk.get("/")).text("//*[@class='notice']")


def test_published_phone_pages_are_served_beside_the_desk_and_nothing_else_is(tmp_path: Path) -> None:
    site = tmp_path / "site"
    (site / "EN" / "SAF").mkdir(parents=True)
    (site / "EN" / "SAF" / "index.html").write_text("the phone page", encoding="utf-8")
    (tmp_path / "secret.txt").write_text("not for patients", encoding="utf-8")
    desk = desk_app(clinic_home(tmp_path), site).test_client()

    assert desk.get("/EN/SAF/", buffered=True).text == "the phone page"
    assert desk.get("/EN/SAG/").status_code == 404
    assert desk.get("/EN/SAF/../../../secret.txt").status_code == 404


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.20", "desk.example.org"])
def test_an_address_that_other_machines_can_reach_needs_an_option(host: str) -> None:
    with pytest.raises(Refused) as refused:
        refuse_public_bind(host, everyone=False)

    (problem,) = refused.value.problems
    assert (problem.fault, problem.subject) == (Fault.BAD_VALUE, (host,))
    assert problem.allowed == ("127.0.0.1", "localhost", "::1")
    refuse_public_bind(host, everyone=True)


def test_a_port_in_use_is_refused_in_a_sentence() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(Refused, match="Cannot serve on port"):
            serve(demo_desk(), "127.0.0.1", taken.getsockname()[1])
