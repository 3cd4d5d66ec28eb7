"""Tests of the demo: one command writes a sheet and its phone page, and prints where they are."""

from __future__ import annotations

import socket
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from aftercare.demo import HOST, Demo, demo_summary, make_demo, refuse_used_port, run_demo, visit_after
from aftercare.errors import Refused
from aftercare.places import find_places

NIGHT = datetime(2026, 11, 25, 8, 17, tzinfo=UTC)
WRITTEN = Demo(
    home=Path("demo"),
    clinic="Tern Harbour Fracture Clinic",
    clinic_file_written=True,
    sheet=Path("demo/sheet.pdf"),
    site=Path("demo/site"),
    pages=3,
    address="HTTPS://CARE.TERNHARBOUR.EXAMPLE/EN/SAF/#H012",
    page=Path("demo/site/EN/SAF/index.html"),
    code="H012",
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    return make_demo(find_places(), tmp_path_factory.mktemp("demo") / "home", NIGHT)


def test_it_writes_a_clinic_a_sheet_and_the_phone_page_of_that_sheet(demo: Demo) -> None:
    assert "Tern Harbour" in (demo.home / "clinic.md").read_text(encoding="utf-8")
    assert demo.sheet.read_bytes().startswith(b"%PDF-")
    assert demo.page.is_file()


def test_it_publishes_a_page_in_each_language_the_clinic_offers(demo: Demo) -> None:
    code = demo.page.parent.name

    assert sorted(page.parent.parent.name for page in demo.site.glob(f"*/{code}/index.html")) == ["AR", "EN", "ES"]


def test_it_leaves_an_existing_clinic_file(tmp_path: Path) -> None:
    shipped = (find_places().content / "demo-clinic.md").read_text(encoding="utf-8")
    own = shipped.replace("Tern Harbour Fracture Clinic", "Gull Point Fracture Clinic")
    (tmp_path / "clinic.md").write_text(own, encoding="utf-8")

    demo = make_demo(find_places(), tmp_path, NIGHT)

    assert (tmp_path / "clinic.md").read_text(encoding="utf-8") == own
    assert demo.clinic == "Gull Point Fracture Clinic"
    assert demo_summary(demo, None).startswith("Kept the clinic file")


@pytest.mark.parametrize("hour", range(24))
def test_the_visit_is_one_to_two_days_after_a_swelling_risk(hour: int) -> None:
    # Facts of the trade: a first cast on a fresh break is looked at again within 24 to 48 hours. An hour more or less on
    # the night the clocks go back (2026-11-01 in New York, IANA time zones).
    applied = datetime(2026, 10, 31, hour, 5, tzinfo=ZoneInfo("America/New_York"))

    waited = visit_after(applied).astimezone(UTC) - applied.astimezone(UTC)

    assert timedelta(hours=24) <= waited <= timedelta(hours=49)


def test_it_reports_that_the_invented_site_cannot_be_opened_and_where_the_page_is() -> None:
    words = demo_summary(WRITTEN, 8000)

    assert "a site that does not exist" in words
    assert "    http://127.0.0.1:8000/EN/SAF/#H012" in words.splitlines()
    assert "    http://127.0.0.1:8000/" in words.splitlines()


def test_without_serving_it_names_the_file_of_the_page() -> None:
    words = demo_summary(WRITTEN, None)

    assert words.splitlines()[-1].strip() == "demo/site/EN/SAF/index.html"
    assert "http://" not in words


def test_a_port_in_use_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind((HOST, 0))
        other.listen()
        port = other.getsockname()[1]

        with pytest.raises(Refused, match=f"--port {port + 1}"):
            run_demo(find_places(), tmp_path / "home", port, NIGHT, once=False, print_line=lambda _: None)

    assert not (tmp_path / "home").exists()


def test_a_free_port_is_not_refused() -> None:
    with socket.socket() as other:
        other.bind((HOST, 0))
        free = other.getsockname()[1]

    refuse_used_port(free)
