"""Verifying a published site against what a real web server says, under a sub-path."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused
from aftercare.site.verify import Verdict, verify
from tests.nginx import nginx
from tests.phone_world import path_of, publish_demo, sheets
from tests.shell import Shell


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("verified") / "site"
    publish_demo(folder, sheets(("short-arm-cast",)))
    return folder


def served(site: Path, work: Path, extra: str | None = None) -> Verdict:
    with nginx(site, work, extra) if extra is not None else nginx(site, work) as host:
        return verify(host.address, site)


def test_a_true_copy_under_a_sub_path_has_nothing_wrong(published: Path, tmp_path: Path) -> None:
    verdict = served(published, tmp_path / "nginx")

    assert (verdict.wrong, verdict.advice) == ((), ())
    assert verdict.right > 15


def test_every_file_that_differs_is_named_with_what_to_do(published: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(published, copy)
    (copy / path_of("short-arm-cast", "fiberglass") / "index.html").write_text("somebody else's page")
    (copy / "AR" / "worker.js").unlink()
    with nginx(copy, tmp_path / "nginx") as host:
        verdict = verify(host.address, published)

    found = {problem.where.path.removeprefix(host.address): problem.what for problem in verdict.wrong if problem.where}
    assert sorted(found) == ["AR/worker.js", "EN/SAF/"]
    assert "404" in found["AR/worker.js"]
    assert "20 bytes instead of" in found["EN/SAF/"]
    assert {problem.fault for problem in verdict.wrong} == {Fault.NOT_SERVED, Fault.CHANGED_SINCE}


def test_a_host_that_leads_on_elsewhere_is_not_followed(published: Path, tmp_path: Path) -> None:
    verdict = served(published, tmp_path / "nginx", "return 302 https://elsewhere.example/;")

    assert verdict.right == 0
    assert all("https://elsewhere.example/" in problem.what for problem in verdict.wrong)


def test_a_host_that_forgets_headers_and_compression_is_advised(published: Path, tmp_path: Path) -> None:
    verdict = served(published, tmp_path / "nginx", "gzip off; add_header Set-Cookie a=b;")

    assert verdict.wrong == ()
    told = " ".join(problem.what for problem in verdict.advice)
    assert all(word in told for word in ("X-Content-Type-Options", "Content-Security-Policy", "uncompressed", "cookie"))


def test_a_wrong_type_is_told_since_browsers_then_refuse_the_file(published: Path, tmp_path: Path) -> None:
    verdict = served(published, tmp_path / "nginx", "types { } default_type text/plain;")

    assert any(
        "text/plain" in problem.what and problem.where and problem.where.path.endswith("worker.js") for problem in verdict.wrong
    )


def test_a_host_that_is_not_there_is_told_once_and_asked_no_more(published: Path) -> None:
    verdict = verify("http://127.0.0.1:9/", published)  # the discard port, where nothing listens

    assert verdict.right == 0
    (problem,) = verdict.wrong
    assert problem.fault is Fault.NOT_SERVED
    assert "does not answer" in problem.what


@pytest.mark.parametrize(
    "address", ["care.example.org/", "ftp://care.example.org/", "https://care.example.org/sheets", "https:///"]
)
def test_what_is_no_address_of_a_site_is_refused(published: Path, address: str) -> None:
    with pytest.raises(Refused) as refused:
        verify(address, published)

    assert refused.value.problems[0].fault is Fault.BAD_VALUE


def test_a_folder_nothing_was_published_to_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="Publish first"):
        verify("http://127.0.0.1:9/", tmp_path)


def test_the_command_says_each_thing_once_and_where_the_sheets_lead_instead(
    shell: Shell, published: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(published, copy)
    gone = len([*(copy / "EN").rglob("*.*")])
    shutil.rmtree(copy / "EN")
    with nginx(copy, tmp_path / "nginx") as host:
        ended = shell("publish", published, "--verify", host.address)

    assert ended.code == 1
    assert ended.error.count("The host says 404.") == 1
    assert f"(So are {gone - 1} more.)" in ended.error
    assert "Sheets lead to https://care.ternharbour.example/" in ended.error
    assert ended.out.endswith(f" files are served as published, {gone} are not.\n")
