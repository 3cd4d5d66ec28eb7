"""The phone site behind a real web server, under a sub-path: everything works, and its log never sees the code behind `#`."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page, expect

from aftercare.sheet.address import fragment
from tests.browser.desk_room import axe_violations
from tests.nginx import nginx
from tests.phone_world import ARM, PATH, basis, path_of, publish_demo, sheets


def test_an_address_typed_in_small_letters_leads_to_its_sheet_where_the_host_shows_our_page_for_what_it_lacks(
    phone: Page, tmp_path: Path
) -> None:
    publish_demo(tmp_path / "site", sheets(("short-arm-cast",)))
    code = fragment(basis(*ARM))
    with nginx(tmp_path / "site", tmp_path / "nginx", f"error_page 404 {PATH}404.html;") as host:
        for typed in (path_of(*ARM).lower(), path_of(*ARM).lower().rstrip("/")):
            phone.goto(f"{host.address}{typed}#{code.lower()}")
            phone.wait_for_url(f"{host.address}{path_of(*ARM)}#{code.lower()}")
            assert phone.locator(".if:visible").count() == 0
        log = host.log.read_text()

    assert code.lower() not in log


def test_an_address_of_no_sheet_gives_the_numbers_and_leads_to_the_lists(phone: Page, tmp_path: Path) -> None:
    publish_demo(tmp_path / "site", sheets(("short-arm-cast",)))
    with nginx(tmp_path / "site", tmp_path / "nginx", f"error_page 404 {PATH}404.html;") as host:
        phone.goto(f"{host.address}EN/XXX/deeper/")

        assert phone.url == f"{host.address}EN/XXX/deeper/"
        assert [link.get_attribute("href") for link in phone.locator(".calls a").all()][-1] == "tel:911"
        assert axe_violations(phone) == []
        phone.locator("a[hreflang=ar]").click()
        phone.wait_for_url(f"{host.address}AR/")


def test_an_address_of_no_sheet_in_capitals_is_asked_for_once(phone: Page, tmp_path: Path) -> None:
    publish_demo(tmp_path / "site", sheets(("short-arm-cast",)))
    with nginx(tmp_path / "site", tmp_path / "nginx", f"error_page 404 {PATH}404.html;") as host:
        phone.goto(f"{host.address}EN/XXX/", wait_until="networkidle")
        phone.goto("about:blank")
        log = host.log.read_text()

    assert log.count("/EN/XXX/ ") == 1


def test_the_servers_own_log_never_holds_the_code(phone: Page, tmp_path: Path) -> None:
    publish_demo(tmp_path / "site", sheets(("short-arm-cast",)))
    code = fragment(basis(*ARM))
    with nginx(tmp_path / "site", tmp_path / "nginx") as host:
        phone.goto(f"{host.address}{path_of(*ARM)}#{code}", wait_until="networkidle")
        assert phone.locator(".if:visible").count() == 0
        phone.get_by_role("link", name="العربية").click()
        expect(phone.locator("#times")).to_be_visible()
        phone.reload(wait_until="networkidle")
        assert phone.url == f"{host.address}{path_of(*ARM, 'ar')}#{code}"
        log = host.log.read_text()

    assert log.count("GET /care/sheets/") >= 5
    assert "GET /care/sheets/EN/worker.js" in log
    assert code not in log
    assert "#" not in log
    assert " 404 " not in log
