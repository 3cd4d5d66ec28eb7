"""One condition for advice and its date: a phone shows both to the same patients."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from aftercare.desk import Desk
from aftercare.sheet.address import code, fragment
from aftercare.sheet.choices import Choices
from tests.browser.phone_dates import enter_dates, shown_dates
from tests.conftest import ROOT
from tests.dated_advice import advice_for_both
from tests.phone_world import served
from tests.small_world import small_world

# Content that the template of the phone page needs besides the small world.
SHIPPED = ("labels.yaml", "words.yaml", "figures.yaml")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk whose advice on raising the limb is for patients with the option `cold` and the weight order `full`."""
    shipped = {name: (ROOT / "content" / name).read_text(encoding="utf-8") for name in SHIPPED}
    return Desk.open(small_world(tmp_path / "world", {**advice_for_both("raise_hours"), **shipped}))


@pytest.fixture
def address(desk: Desk, tmp_path: Path) -> Iterator[str]:
    """The served phone page of the leg cast."""
    device, material = desk.library.devices["leg-cast"], desk.library.materials["plaster"]
    path = f"EN/{code(device.code, material.code)}/"
    page = tmp_path / "site" / path / "index.html"
    page.parent.mkdir(parents=True)
    page.write_text(desk.phone_page(device, material, "en"), encoding="utf-8")
    script = desk.frame.assets.deferred
    (tmp_path / "site" / script.path).write_text(script.text, encoding="utf-8")
    with served(tmp_path / "site") as site:
        yield site.address + path


@pytest.mark.parametrize(
    ("options", "weight", "for_patient"),
    [
        (("cold",), "full", True),
        (("cold",), "none", False),
        (("cold",), None, False),
        (("numb",), "full", False),
        ((), "full", False),
        ((), None, False),
    ],
)
def test_advice_under_an_option_and_a_weight_order_and_its_date_are_shown_only_to_patients_with_both(
    phone: Page, desk: Desk, address: str, options: tuple[str, ...], weight: str | None, for_patient: bool
) -> None:
    library = desk.library
    choices = Choices(
        library.devices["leg-cast"],
        library.materials["plaster"],
        options=tuple(library.options[id_] for id_ in options),
        weight=library.weights[weight] if weight else None,
    )
    phone.goto(f"{address}#{fragment(choices)}")

    enter_dates(phone, "2026-11-25T14:30")

    assert phone.get_by_role("heading", name="Both").is_visible() is for_patient
    assert ("raise_until" in shown_dates(phone)) is for_patient


def test_without_a_code_advice_is_shown_under_its_condition_but_its_date_is_not(phone: Page, address: str) -> None:
    phone.goto(address)

    enter_dates(phone, "2026-11-25T14:30")

    assert phone.get_by_role("heading", name="Both").is_visible()
    assert set(shown_dates(phone)) == {"dry_by"}


def test_a_date_stays_hidden_until_the_day_it_was_put_on_is_entered(phone: Page, desk: Desk, address: str) -> None:
    """Showing a patient's advice must not show the empty lines of dates with the same condition."""
    library = desk.library
    both = Choices(
        library.devices["leg-cast"],
        library.materials["plaster"],
        options=(library.options["cold"],),
        weight=library.weights["full"],
    )
    phone.goto(f"{address}#{fragment(both)}")
    phone.wait_for_selector("#times:not([hidden])", state="attached")
    phone.evaluate("document.getElementById('times').open = true")

    phone.click("#mine")

    assert phone.get_by_role("heading", name="Both").is_visible()
    assert shown_dates(phone) == {}
