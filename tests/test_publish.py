"""Tests of publishing into folders: atomic, and only files that differ."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from aftercare.errors import Fault, Refused
from aftercare.site.publish import LIST, WITHDRAWN, Page, Published, publish
from tests.published import files, pages


def test_every_page_is_written_at_its_path(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path / "site")

    assert files(tmp_path / "site") == {"EN/SAF/index.html": "SAF words AAAA", "EN/LCF/index.html": "LCF words AAAA"}


def test_a_second_publication_of_the_same_pages_writes_nothing(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path)
    before = [(path, path.stat().st_ino) for path in tmp_path.rglob("*.*") if path.is_file()]

    assert publish(pages("SAF"), tmp_path) == Published((), (), (), (), 1)
    assert [(path, path.stat().st_ino) for path in tmp_path.rglob("*.*") if path.is_file()] == before


def test_only_the_page_whose_text_changed_is_written(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    before = (tmp_path / "EN/LCF/index.html").stat().st_ino

    done = publish([*pages("SAF", text="new"), *pages("LCF")], tmp_path)

    assert done.written == ("EN/SAF/index.html",)
    assert (tmp_path / "EN/LCF/index.html").stat().st_ino == before


def test_a_file_changed_or_deleted_since_is_written_again(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    (tmp_path / "EN/SAF/index.html").write_text("somebody else's words")
    (tmp_path / "EN/LCF/index.html").unlink()

    publish(pages("SAF", "LCF"), tmp_path)

    assert files(tmp_path) == {"EN/SAF/index.html": "SAF words AAAA", "EN/LCF/index.html": "LCF words AAAA"}


def test_a_new_edition_leaves_the_earlier_one_in_the_archive_marked_and_with_working_links(tmp_path: Path) -> None:
    page = '<p id="earlier" hidden>newer</p><a href="../../ES/SAF/">Español</a>'
    publish([Page("EN/SAF/index.html", page.replace("newer", "older"), "AAAA")], tmp_path)

    done = publish([Page("EN/SAF/index.html", page, "BBBB")], tmp_path)

    assert done.archived == ("archive/AAAA/EN/SAF/index.html",)
    expected = '<p id="earlier">older</p><a href="../../../../ES/SAF/">Español</a>'
    assert files(tmp_path) == {"EN/SAF/index.html": page, "archive/AAAA/EN/SAF/index.html": expected}


def test_the_archive_has_every_edition(tmp_path: Path) -> None:
    for edition in ("AAAA", "BBBB", "CCCC"):
        publish(pages("SAF", edition=edition), tmp_path)

    assert sorted(files(tmp_path)) == ["EN/SAF/index.html", "archive/AAAA/EN/SAF/index.html", "archive/BBBB/EN/SAF/index.html"]


def withdraw(phone: str) -> Callable[[str], Page]:
    return lambda path: Page(path, f"withdrawn, call {phone}", WITHDRAWN)


def test_a_withdrawn_code_has_a_page_that_explains_it_and_stays_up_to_date(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)

    done = publish(pages("SAF"), tmp_path, withdrawn=withdraw("555-0143"))
    publish(pages("SAF"), tmp_path, withdrawn=withdraw("555-0199"))

    assert done.withdrawn == ("EN/LCF/index.html",)
    assert files(tmp_path)["EN/LCF/index.html"] == "withdrawn, call 555-0199"
    assert files(tmp_path)["archive/AAAA/EN/LCF/index.html"] == "LCF words AAAA"


def test_a_page_that_is_neither_offered_nor_withdrawn_is_unchanged(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)

    done = publish(pages("SAF"), tmp_path, withdrawn=lambda _path: None)

    assert (done.retained, done.withdrawn) == (("EN/LCF/index.html",), ())
    assert files(tmp_path)["EN/LCF/index.html"] == "LCF words AAAA"
    assert publish(pages("SAF", "LCF"), tmp_path).written == ()


def test_a_file_without_a_printed_code_is_left_and_not_withdrawn_when_no_longer_offered(tmp_path: Path) -> None:
    publish([*pages("SAF"), Page("more-0123.js", "script")], tmp_path)

    done = publish(pages("SAF"), tmp_path, withdrawn=withdraw("555-0143"))

    assert done == Published((), (), (), (), 1)
    assert files(tmp_path)["more-0123.js"] == "script"


def test_a_code_that_is_used_again_leaves_no_withdrawn_page_in_the_archive(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    publish(pages("SAF"), tmp_path, withdrawn=withdraw("555-0143"))

    done = publish(pages("SAF", "LCF"), tmp_path)

    assert (done.written, done.archived) == (("EN/LCF/index.html",), ())
    assert files(tmp_path)["EN/LCF/index.html"] == "LCF words AAAA"


def test_a_page_rewritten_in_the_same_edition_is_not_archived(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path)

    done = publish(pages("SAF", text="new"), tmp_path)

    assert (done.written, done.archived) == (("EN/SAF/index.html",), ())
    assert files(tmp_path) == {"EN/SAF/index.html": "SAF new AAAA"}


def test_a_file_without_a_printed_code_is_not_archived(tmp_path: Path) -> None:
    publish(pages("SAF", edition=""), tmp_path)

    assert publish(pages("SAF"), tmp_path).archived == ()


def test_an_edition_already_in_the_archive_is_unchanged(tmp_path: Path) -> None:
    for edition, text in (("AAAA", "first"), ("BBBB", "other"), ("AAAA", "again"), ("CCCC", "last")):
        publish(pages("SAF", edition=edition, text=text), tmp_path)

    assert files(tmp_path)["archive/AAAA/EN/SAF/index.html"] == "SAF first AAAA"


def test_a_file_changed_by_others_is_not_archived(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    (tmp_path / "EN/SAF/index.html").write_text("somebody else's words")
    (tmp_path / "EN/LCF/index.html").unlink()

    done = publish(pages("SAF", "LCF", edition="BBBB"), tmp_path)

    assert (len(done.written), done.archived) == (2, ())


def test_a_withdrawn_page_is_not_reported_as_left(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF", "BWP"), tmp_path)

    done = publish(
        pages("SAF"), tmp_path, withdrawn=lambda path: withdraw("555-0143")(path) if path == "EN/LCF/index.html" else None
    )

    assert (done.withdrawn, done.retained) == (("EN/LCF/index.html",), ("EN/BWP/index.html",))


def test_only_files_that_were_not_changed_count_as_unchanged(tmp_path: Path) -> None:
    publish(pages("SAF", "LCF"), tmp_path)

    assert publish([*pages("SAF", text="new"), *pages("LCF", "BWP")], tmp_path).unchanged == 1


def test_a_page_that_cannot_be_rendered_leaves_the_old_site_unchanged(tmp_path: Path) -> None:
    def rendered() -> Iterator[Page]:
        yield from pages("SAF", text="new")
        raise KeyError("a text of the second page")

    publish(pages("SAF", "LCF"), tmp_path)
    before = files(tmp_path)

    with pytest.raises(KeyError):
        publish(rendered(), tmp_path)

    assert files(tmp_path) == before
    assert publish(pages("SAF", "LCF"), tmp_path).written == ()


def test_a_failed_rename_is_rolled_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(pages("SAF", "LCF"), tmp_path)
    before = files(tmp_path)
    move = Path.replace

    def failing(self: Path, target: Path) -> Path:
        if Path(target).match("EN/LCF/index.html") and self.parent.name == "stage":
            raise OSError(28, "No space left on device", str(target))
        return move(self, target)

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises(Refused) as refused:
        publish(pages("SAF", "LCF", "NEW", text="new"), tmp_path)

    assert [problem.fault for problem in refused.value.problems] == [Fault.CANNOT_WRITE]
    assert "No space left" in str(refused.value)
    assert files(tmp_path) == before


def test_a_folder_that_cannot_be_created_is_refused_with_its_name(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")

    with pytest.raises(Refused, match="file") as refused:
        publish(pages("SAF"), tmp_path / "file" / "site")

    assert refused.value.problems[0].fault is Fault.CANNOT_WRITE


def test_a_folder_with_other_peoples_files_is_refused(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("mine")

    with pytest.raises(Refused, match=r"thesis\.txt"):
        publish(pages("SAF"), tmp_path)

    assert files(tmp_path) == {"thesis.txt": "mine"}


def test_a_published_folder_is_recognized_without_its_record(tmp_path: Path) -> None:
    headers = Page("_headers", "# Written by 'aftercare publish'; changes are overwritten.\n")
    publish([headers, *pages("SAF")], tmp_path)
    shutil.rmtree(tmp_path / ".publish")

    assert publish([headers, *pages("SAF")], tmp_path).unchanged == 2
    assert set(json.loads((tmp_path / ".publish/record.json").read_text())) == set(files(tmp_path))


def test_a_damaged_record_is_refused_with_what_to_do(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path)
    (tmp_path / ".publish/record.json").write_text("{")

    with pytest.raises(Refused, match="Remove the folder"):
        publish(pages("SAF"), tmp_path)


@pytest.mark.parametrize("path", ["/etc/passwd", "../up", "EN/../../up", ".publish/record.json", "a\\b", "EN//x", "", "é"])
def test_a_path_that_leaves_the_folder_or_is_no_plain_name_is_refused(tmp_path: Path, path: str) -> None:
    with pytest.raises(Refused) as refused:
        publish([Page(path, "x")], tmp_path / "site")

    assert refused.value.problems[0].fault is Fault.BAD_VALUE
    assert not (tmp_path / "site").exists()


def test_two_pages_for_one_path_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused) as refused:
        publish([*pages("SAF"), *pages("SAF")], tmp_path)

    assert refused.value.problems[0].fault is Fault.DUPLICATE


def test_nothing_is_written_to_a_refused_folder(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("mine")

    with pytest.raises(Refused):
        publish(pages("SAF"), tmp_path)

    assert [path.name for path in tmp_path.rglob("*")] == ["thesis.txt"]


@pytest.mark.parametrize("existed", [True, False])
def test_a_new_folder_that_could_not_be_written_is_restored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, existed: bool
) -> None:
    def full(self: Path, _content: bytes) -> int:
        raise OSError(28, "No space left on device", str(self))

    site = tmp_path / "site"
    if existed:
        site.mkdir()
    monkeypatch.setattr(Path, "write_bytes", full)

    with pytest.raises(Refused):
        publish(pages("SAF"), site)

    assert site.exists() is existed
    assert list(tmp_path.rglob("*")) == ([site] if existed else [])


def test_a_list_that_is_no_longer_offered_is_withdrawn_and_never_archived(tmp_path: Path) -> None:
    publish([*pages("SAF"), Page("ES/index.html", "list, call 555-0143", LIST)], tmp_path)

    done = publish(pages("SAF"), tmp_path, withdrawn=withdraw("555-0199"))

    assert (done.withdrawn, done.archived) == (("ES/index.html",), ())
    assert files(tmp_path)["ES/index.html"] == "withdrawn, call 555-0199"


def test_a_record_of_the_version_before_is_read(tmp_path: Path) -> None:
    publish(pages("SAF"), tmp_path)
    path = tmp_path / ".publish/record.json"
    record = {name: {**entry, "key": "1", "stamp": 2} for name, entry in json.loads(path.read_text()).items()}
    path.write_text(json.dumps(record))

    assert publish(pages("SAF", edition="BBBB"), tmp_path).archived == ("archive/AAAA/EN/SAF/index.html",)
