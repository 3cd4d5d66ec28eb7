"""Tests of verifying a published site on a real web server, under a sub-path."""

from __future__ import annotations

import gzip
import shutil
import socket
import threading
from http.server import SimpleHTTPRequestHandler
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused, Where
from aftercare.site.record import read_record
from aftercare.site.site_files import HEADERS
from aftercare.site.verify import Comparison, verify
from tests.nginx import HARDENED, nginx
from tests.phone_world import path_of, publish_demo, sheets
from tests.phone_world import served as served_by_us
from tests.shell import Shell


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("verified") / "site"
    publish_demo(folder, sheets(("short-arm-cast",)))
    return folder


def served(site: Path, work: Path, extra: str | None = None) -> Comparison:
    with nginx(site, work, extra) if extra is not None else nginx(site, work) as host:
        return verify(host.address, site)


def test_an_exact_copy_under_a_sub_path_has_no_problem(published: Path, tmp_path: Path) -> None:
    comparison = served(published, tmp_path / "nginx")

    assert (comparison.differences, comparison.advice) == ((), ())
    assert comparison.equal > 15


def test_every_file_that_differs_is_reported_with_advice(published: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(published, copy)
    (copy / path_of("short-arm-cast", "fiberglass") / "index.html").write_text("somebody else's page")
    (copy / "AR" / "worker.js").unlink()
    with nginx(copy, tmp_path / "nginx") as host:
        comparison = verify(host.address, published)

    texts = {problem.where.path.removeprefix(host.address): problem.what for problem in comparison.differences if problem.where}
    assert sorted(texts) == ["AR/worker.js", "EN/SAF/"]
    assert "404" in texts["AR/worker.js"]
    assert "20 bytes instead of" in texts["EN/SAF/"]
    assert {problem.fault for problem in comparison.differences} == {Fault.NOT_SERVED, Fault.CHANGED_SINCE}


def test_redirects_are_not_followed(published: Path, tmp_path: Path) -> None:
    comparison = served(published, tmp_path / "nginx", "return 302 https://elsewhere.example/;")

    assert comparison.equal == 0
    assert {problem.subject for problem in comparison.differences} == {("https://elsewhere.example/",)}


def test_missing_headers_and_compression_are_reported_as_advice(published: Path, tmp_path: Path) -> None:
    comparison = served(published, tmp_path / "nginx", "gzip off; add_header Set-Cookie a=b;")

    assert comparison.differences == ()
    advice = [problem.sentence() for problem in comparison.advice]
    assert len(advice) == 4
    for word in ("X-Content-Type-Options", "Content-Security-Policy", "uncompressed", "cookie"):
        assert sum(word in sentence for sentence in advice) == 1
    policy = next(problem for problem in comparison.advice if problem.subject == ("Content-Security-Policy",))
    assert policy.allowed == (f"Content-Security-Policy: {HEADERS['Content-Security-Policy']}",)


def test_a_wrong_type_is_reported_since_browsers_then_refuse_the_file(published: Path, tmp_path: Path) -> None:
    comparison = served(published, tmp_path / "nginx", "types { } default_type text/plain;")

    scripts = [problem for problem in comparison.differences if problem.where and problem.where.path.endswith("worker.js")]
    assert {problem.subject for problem in scripts} == {("text/plain",)}
    assert {problem.allowed for problem in scripts} == {("text/javascript", "application/javascript")}


def test_files_for_hosts_need_not_be_served(published: Path, tmp_path: Path) -> None:
    refusing = "location = /care/sheets/_headers { return 404; }"

    assert served(published, tmp_path / "nginx", f"{HARDENED} {refusing}").differences == ()


def test_another_content_of_the_same_length_is_reported(published: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(published, copy)
    page = copy / path_of("short-arm-cast", "fiberglass") / "index.html"
    page.write_text(page.read_text().replace("now", "not", 1))
    with nginx(copy, tmp_path / "nginx") as host:
        (problem,) = verify(host.address, published).differences

    assert (problem.fault, problem.where) == (Fault.CHANGED_SINCE, Where(f"{host.address}EN/SAF/"))


SCRIPTS = "types {{ text/html html; image/svg+xml svg; text/plain txt; {} }} default_type {};"


def test_the_older_name_of_a_scripts_type_is_accepted(published: Path, tmp_path: Path) -> None:
    """RFC 9239, section 6: application/javascript is an alias of text/javascript."""
    older = SCRIPTS.format("application/javascript js;", "application/octet-stream")

    assert served(published, tmp_path / "nginx", older).differences == ()


def test_a_file_served_without_a_type_is_reported_since_browsers_then_refuse_a_script(published: Path, tmp_path: Path) -> None:
    problems = served(published, tmp_path / "nginx", SCRIPTS.format("", '""')).differences

    assert {problem.fault for problem in problems} == {Fault.SERVED_OTHERWISE}
    assert all(problem.where and problem.where.path.endswith(".js") for problem in problems)
    assert len(problems) > 2


def test_a_reply_that_is_not_http_is_reported_as_no_answer(published: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def answer() -> None:
            with listening.accept()[0] as asking:
                asking.recv(4096)
                asking.sendall(b"220 mail.example ready\r\n\r\n")

        answering = threading.Thread(target=answer)
        answering.start()
        (problem,) = verify(f"http://127.0.0.1:{listening.getsockname()[1]}/", published).differences
        answering.join()

    assert (problem.fault, "220 mail.example" in problem.subject[0]) == (Fault.NOT_SERVED, True)


def test_progress_counts_every_requested_file(published: Path, tmp_path: Path) -> None:
    heard: list[tuple[int, int]] = []
    with nginx(published, tmp_path / "nginx") as host:
        comparison = verify(host.address, published, progress=lambda done, of: heard.append((done, of)))

    assert heard == [(number, comparison.equal) for number in range(1, comparison.equal + 1)]


def test_an_unreachable_host_is_reported_once_and_not_tried_again(published: Path) -> None:
    comparison = verify("http://127.0.0.1:9/", published)  # the discard port, where nothing listens

    assert comparison.equal == 0
    (problem,) = comparison.differences
    assert problem.fault is Fault.NOT_SERVED
    assert "does not answer" in problem.what
    assert "Connection refused" in problem.subject[0]


def test_an_answer_that_cannot_be_decompressed_is_reported_as_no_answer(published: Path) -> None:
    def broken(asked: SimpleHTTPRequestHandler) -> None:
        asked.send_response(200)
        asked.send_header("Content-Encoding", "gzip")
        asked.end_headers()
        asked.wfile.write(gzip.compress(b"a page" * 99)[:10] + b"not deflated")

    with served_by_us(published) as host:
        host.instead |= dict.fromkeys((f"/{path.removesuffix('index.html')}" for path in read_record(published)), broken)
        comparison = verify(host.address, published)

    assert [problem.fault for problem in comparison.differences] == [Fault.NOT_SERVED]


@pytest.mark.parametrize(
    "address",
    [
        "care.example.org/",
        "ftp://care.example.org/",
        "https://care.example.org/sheets",
        "https:///",
        "http://care.example.org:abc/",
        "http://[x/",
        "http://a..b/",
        "http://care example.org/",
    ],
)
def test_an_invalid_address_of_a_site_is_refused(published: Path, address: str) -> None:
    with pytest.raises(Refused) as refused:
        verify(address, published)

    assert refused.value.problems[0].fault is Fault.BAD_VALUE


def test_a_folder_nothing_was_published_to_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="Publish first"):
        verify("http://127.0.0.1:9/", tmp_path)


def test_the_command_reports_each_problem_once_and_the_address_on_the_sheets(
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
