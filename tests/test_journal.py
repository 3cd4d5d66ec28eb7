"""Tests that failed and interrupted publishing, or a damaged journal, leaves the complete old or new site."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused, Where
from aftercare.site.publish import Page, Published, publish

FULL = OSError(28, "No space left on device")


def pages(*names: str, text: str = "words") -> list[Page]:
    """A few small pages with this text."""
    return [Page(f"EN/{name}/index.html", f"{name} {text}", "AAAA") for name in names]


def files(site: Path) -> dict[str, str]:
    """What a visitor can fetch, by the name of its page."""
    return {path.parent.name: path.read_text(encoding="utf-8") for path in site.glob("EN/*/index.html")}


@pytest.mark.parametrize(("size", "time"), [("same", "other"), ("other", "same")])
def test_a_file_that_differs_in_its_size_or_its_time_alone_is_written_again(tmp_path: Path, size: str, time: str) -> None:
    publish(pages("SAF"), tmp_path)
    path = tmp_path / "EN/SAF/index.html"
    status = path.stat()
    path.write_text("SAF WORDS" if size == "same" else "short")
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns + (time == "other")))

    publish(pages("SAF"), tmp_path)

    assert files(tmp_path) == {"SAF": "SAF words"}


def fails_at(monkeypatch: pytest.MonkeyPatch, path: str, error: BaseException) -> None:
    """Make the rename of a staged file to this path fail."""
    move = Path.replace

    def failing(self: Path, target: Path) -> Path:
        if Path(target).match(path) and self.parent.name == "stage":
            raise error
        return move(self, target)

    monkeypatch.setattr(Path, "replace", failing)


def test_a_failed_rename_removes_the_new_files_renamed_before_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(pages("SAF"), tmp_path)
    fails_at(monkeypatch, "EN/LCF/index.html", FULL)

    with pytest.raises(Refused):
        publish(pages("SAF", "NEW", "LCF"), tmp_path)

    assert files(tmp_path) == {"SAF": "SAF words"}


def test_a_rolled_back_run_is_not_completed_by_the_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    with monkeypatch.context() as patched:
        fails_at(patched, "EN/SAF/index.html", FULL)
        with pytest.raises(Refused):
            publish(pages("SAF", "LCF", text="new"), tmp_path)

    assert publish(pages("SAF", "LCF"), tmp_path) == Published((), (), (), (), 2)


def test_a_rollback_works_on_a_disk_without_hard_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_args: object) -> None:
        raise OSError(95, "Operation not supported")

    publish(pages("SAF", "LCF"), tmp_path)
    before = files(tmp_path)
    monkeypatch.setattr(os, "link", no_links)
    fails_at(monkeypatch, "EN/LCF/index.html", FULL)

    with pytest.raises(Refused):
        publish(pages("SAF", "LCF", text="new"), tmp_path)

    assert files(tmp_path) == before


def test_a_run_interrupted_between_renames_is_completed_by_the_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By Ctrl-C: unlike after a kill, the run still removes temporary files, and must leave those in the journal."""
    publish(pages("SAF", "LCF"), tmp_path)
    with monkeypatch.context() as patched:
        fails_at(patched, "EN/LCF/index.html", KeyboardInterrupt())
        with pytest.raises(KeyboardInterrupt):
            publish(pages("SAF", "LCF", text="new"), tmp_path)

    assert publish(pages("SAF", "LCF", text="new"), tmp_path) == Published((), (), (), (), 2)
    assert files(tmp_path) == {"SAF": "SAF new", "LCF": "LCF new"}


def test_a_failed_run_restores_nothing_of_an_interrupted_run_before_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    with monkeypatch.context() as patched:
        fails_at(patched, "EN/LCF/index.html", KeyboardInterrupt())
        with pytest.raises(KeyboardInterrupt):
            publish(pages("SAF", "LCF", text="new"), tmp_path)
    fails_at(monkeypatch, "EN/LAST/index.html", FULL)

    with pytest.raises(Refused):
        publish(pages("FIRST", "LAST"), tmp_path)

    assert files(tmp_path) == {"SAF": "SAF new", "LCF": "LCF new"}


def test_no_temporary_file_remains(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path)
    publish(pages("SAF", text="new"), tmp_path)

    assert sorted(path.name for path in (tmp_path / ".publish").iterdir()) == ["lock", "record.json"]


@pytest.mark.parametrize("text", ["[]", "{", "[" * 100_000, '{"EN/SAF/index.html": {}}', '{"EN/SAF/index.html": 1}'])
def test_a_damaged_record_is_refused_with_what_to_do(tmp_path: Path, text: str) -> None:
    publish(pages("SAF"), tmp_path)
    (tmp_path / ".publish/record.json").write_text(text)

    with pytest.raises(Refused, match="Remove the folder"):
        publish(pages("SAF"), tmp_path)


def stopped(site: Path, journal: str) -> None:
    """The folder of a run that was interrupted between its renames, with this text as its journal."""
    publish(pages("SAF"), site)
    (site / ".publish/stage").mkdir()
    (site / ".publish/stage/0").write_text("staged")
    (site / ".publish/journal.json").write_text(journal)


@pytest.mark.parametrize("text", ["", "{", '{"0": "EN/SAF/index.html"}', "[1]", "null", "[" * 100_000])
def test_a_damaged_journal_is_refused_with_its_place_and_what_to_do(tmp_path: Path, text: str) -> None:
    stopped(tmp_path, text)

    with pytest.raises(Refused, match=r"Remove the file .*journal\.json") as refused:
        publish(pages("SAF", text="new"), tmp_path)

    (problem,) = refused.value.problems
    assert problem.fault is Fault.BAD_FILE
    assert problem.where == Where(str(tmp_path / ".publish/journal.json"))
    assert files(tmp_path) == {"SAF": "SAF words"}


@pytest.mark.parametrize("path", ["../evil", "EN/../../evil", "/tmp/evil", ".publish/lock", ".git/config"])
def test_a_journal_with_a_path_outside_the_folder_is_refused_and_nothing_is_written(tmp_path: Path, path: str) -> None:
    site = tmp_path / "site"
    stopped(site, json.dumps([path]))

    with pytest.raises(Refused) as refused:
        publish(pages("SAF"), site)

    assert refused.value.problems[0].subject == (path,)
    assert [outside.name for outside in tmp_path.iterdir()] == ["site"]


@pytest.mark.parametrize("path", ["../evil", "/tmp/evil", "EN/../../evil"])
def test_a_record_with_a_path_outside_the_folder_is_refused_and_nothing_is_written(tmp_path: Path, path: str) -> None:
    site = tmp_path / "site"
    publish(pages("SAF"), site)
    (site / ".publish/record.json").write_text(json.dumps({path: {"edition": "AAAA", "digest": "0", "size": 1}}))

    with pytest.raises(Refused) as refused:
        publish(pages("SAF"), site, withdrawn=lambda code: Page(code, "withdrawn", "withdrawn"))

    assert refused.value.problems[0].subject == (path,)
    assert [outside.name for outside in tmp_path.iterdir()] == ["site"]


def test_after_the_journal_is_deleted_the_next_run_repairs_the_site(tmp_path: Path) -> None:
    stopped(tmp_path, "{")
    (tmp_path / ".publish/journal.json").unlink()

    assert publish(pages("SAF", text="new"), tmp_path).written == ("EN/SAF/index.html",)
