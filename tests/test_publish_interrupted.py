"""Tests of publishing that is interrupted, waits, or is read meanwhile: the complete old or new site, no broken page."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import threading
from collections.abc import Iterable
from pathlib import Path

import pytest

from aftercare.site.publish import Page, Published, publish
from tests.conftest import ROOT
from tests.published import files, pages
from tests.shell import Shell

# Publishes ten new pages and kills itself, as kill -9 does, at the moment the nth staged file has moved into place.
KILLED = """
import os, signal, sys
from pathlib import Path
from aftercare.site.publish import Page, publish
site, limit = Path(sys.argv[1]), int(sys.argv[2])
move, moved = Path.replace, 0
def counting(self, target):
    global moved
    done = move(self, target)
    moved += self.parent.name == "stage"
    if moved == limit:
        os.kill(os.getpid(), signal.SIGKILL)
    return done
Path.replace = counting
if limit == 0:
    os.sync = lambda: os.kill(os.getpid(), signal.SIGKILL)  # all is staged, the journal not yet written
publish([Page(f"EN/P{n}/index.html", f"new {n}", "BBBB") for n in range(10)], site)
"""


def kill_while_publishing(site: Path, moved: int) -> None:
    done = subprocess.run([sys.executable, "-c", KILLED, str(site), str(moved)], check=False, cwd=ROOT)
    assert done.returncode == -signal.SIGKILL


def numbered(text: str, edition: str, count: Iterable[int] = range(10)) -> list[Page]:
    return [Page(f"EN/P{n}/index.html", f"{text} {n}", edition) for n in count]


@pytest.mark.parametrize("moved", [1, 5, 20])
def test_a_run_killed_between_renames_is_completed_first_by_the_next(tmp_path: Path, moved: int) -> None:
    publish(numbered("old", "AAAA"), tmp_path)
    kill_while_publishing(tmp_path, moved)

    done = publish(numbered("new", "BBBB"), tmp_path)

    assert done == Published((), (), (), (), 10)
    expected = {f"EN/P{n}/index.html": f"new {n}" for n in range(10)}
    expected |= {f"archive/AAAA/EN/P{n}/index.html": f"old {n}" for n in range(10)}
    assert files(tmp_path) == expected
    assert sorted(path.name for path in (tmp_path / ".publish").iterdir()) == ["lock", "record.json"]


def test_a_run_after_a_kill_also_publishes_its_own_pages(tmp_path: Path) -> None:
    publish(numbered("old", "AAAA"), tmp_path)
    kill_while_publishing(tmp_path, 5)

    done = publish(numbered("newer", "CCCC"), tmp_path)

    assert (len(done.written), len(done.archived)) == (10, 10)
    assert {files(tmp_path)[f"{folder}EN/P7/index.html"] for folder in ("", "archive/AAAA/", "archive/BBBB/")} == {
        "newer 7",
        "new 7",
        "old 7",
    }


def test_a_kill_before_the_journal_leaves_the_old_site_and_the_next_run_starts_from_the_beginning(tmp_path: Path) -> None:
    publish(numbered("old", "AAAA"), tmp_path)
    before = files(tmp_path)
    kill_while_publishing(tmp_path, 0)

    assert files(tmp_path) == before
    assert len(publish(numbered("new", "BBBB"), tmp_path).written) == 10


def test_no_reader_gets_a_partly_written_page(tmp_path: Path) -> None:
    publish(numbered("old", "AAAA"), tmp_path)
    kill_while_publishing(tmp_path, 15)

    assert all((tmp_path / f"EN/P{n}/index.html").read_text() in (f"old {n}", f"new {n}") for n in range(10))


@pytest.mark.parametrize("moved", [0, 5])
def test_a_killed_first_publication_is_completed_and_not_taken_for_a_foreign_folder(tmp_path: Path, moved: int) -> None:
    kill_while_publishing(tmp_path, moved)

    publish(numbered("new", "BBBB"), tmp_path)

    assert files(tmp_path) == {f"EN/P{n}/index.html": f"new {n}" for n in range(10)}


def test_two_publishers_at_once_leave_the_complete_site_of_one_of_them(tmp_path: Path) -> None:
    script = """
import sys
from pathlib import Path
from aftercare.site.publish import Page, publish
for turn in range(20):
    word = f"{sys.argv[2]}{turn}"
    publish([Page(f"EN/P{n}/index.html", word, word) for n in range(20)], Path(sys.argv[1]))
"""
    running = [subprocess.Popen([sys.executable, "-c", script, str(tmp_path), name], cwd=ROOT) for name in "ab"]

    assert [process.wait() for process in running] == [0, 0]
    live = {text for path, text in files(tmp_path).items() if path.startswith("EN/")}
    assert len(live) == 1
    record = json.loads((tmp_path / ".publish/record.json").read_text())
    assert set(record) == set(files(tmp_path))


# Holds the folder as a publisher does, says so, and stays until it is killed.
HOLDING = """
import sys, time
from pathlib import Path
from aftercare.site.journal import locked
with locked(Path(sys.argv[1]), lambda: None):
    print("holding", flush=True)
    time.sleep(600)
"""


def test_a_waiting_publisher_reports_it_and_continues_once_the_other_was_killed(tmp_path: Path) -> None:
    command = [sys.executable, "-c", HOLDING, str(tmp_path)]
    holder = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, encoding="utf-8")
    assert holder.stdout
    assert holder.stdout.readline() == "holding\n"
    waiting = threading.Event()

    def kill() -> None:
        waiting.set()
        holder.kill()

    done = publish(pages("SAF"), tmp_path, on_wait=kill)

    holder.wait()
    holder.stdout.close()
    assert waiting.is_set()
    assert done.written == ("EN/SAF/index.html",)


def test_the_command_reports_on_standard_error_that_it_waits(tmp_path: Path, shell: Shell) -> None:
    site = tmp_path / "site"
    holder = subprocess.Popen([sys.executable, "-c", HOLDING, str(site)], cwd=ROOT, stdout=subprocess.PIPE, encoding="utf-8")
    assert holder.stdout
    assert holder.stdout.readline() == "holding\n"
    command = [sys.executable, "-m", "aftercare", "publish", str(site), "--home", str(shell.home)]
    publisher = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8")
    assert publisher.stderr

    waits = any(f"Waiting for another publication into {site} to end." in line for line in publisher.stderr)
    holder.kill()
    output, _ = publisher.communicate()

    holder.communicate()
    assert waits
    assert publisher.returncode == 0
    assert output.startswith("Wrote ")


def test_a_publisher_that_need_not_wait_does_not_report_waiting(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path, on_wait=lambda: pytest.fail("nobody holds the folder"))


def test_during_publishing_every_file_that_a_page_loads_exists(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Scripts and lists: a page never names a script, and a list never a page, that does not exist."""
    move = Path.replace
    broken: list[tuple[str, str]] = []

    def checking(self: Path, target: Path) -> Path:
        moved = move(self, target)
        for path, text in files(tmp_path).items():
            if path.endswith(".html"):
                broken.extend((path, name) for name in text.split() if not (tmp_path / name).is_file())
        return moved

    monkeypatch.setattr(Path, "replace", checking)
    for number in range(3):
        sheets = [Page(f"EN/{code}/index.html", f"more-{number}.js", "AAAA") for code in ("SAF", "LCF")]
        sheets.append(Page(f"EN/N{number}/index.html", f"more-{number}.js", "AAAA"))
        around = [Page("EN/index.html", " ".join(page.path for page in sheets)), Page(f"more-{number}.js", "script")]
        assert publish([*around, *sheets, Page("EN/worker.js", f"worker {number}")], tmp_path).written[-1] == "EN/worker.js"

    assert broken == []
