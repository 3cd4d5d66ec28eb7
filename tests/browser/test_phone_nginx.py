"""The phone site behind a real web server, under a sub-path: everything works, and its log never sees the code behind `#`."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page, expect

from aftercare.sheet.address import fragment
from aftercare.sheet.choices import Choices
from tests.nginx import nginx
from tests.phone_world import everyone, path_of, publish_demo, sheets

ARM = ("short-arm-cast", "fiberglass")


def test_the_servers_own_log_never_holds_the_code(phone: Page, tmp_path: Path) -> None:
    publish_demo(tmp_path / "site", sheets(("short-arm-cast",)))
    code = fragment(Choices(everyone(*ARM).device, everyone(*ARM).material))
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
