"""Tests of the commands of a clinic (its file, its translations, its desk) and of how files are written."""

from __future__ import annotations

import json
import re
import socket
from pathlib import Path

import pytest

from aftercare.errors import Refused
from aftercare.files import write_whole
from aftercare.language.messages import read_messages
from tests.desk_world import clinic_home
from tests.shell import Shell

# ---- clinic ----


def test_a_new_clinic_gets_a_file_to_fill_in(shell: Shell, tmp_path: Path) -> None:
    ended = shell("clinic", "new", tmp_path / "own", home=False)
    assert ended.code == 0
    assert "phone:" in (tmp_path / "own" / "clinic.md").read_text(encoding="utf-8")


def test_an_existing_clinic_file_is_never_overwritten(shell: Shell) -> None:
    before = (shell.home / "clinic.md").read_bytes()
    ended = shell("clinic", "new", shell.home, home=False)
    assert ended.code == 2
    assert "There is a clinic file already." in ended.error
    assert (shell.home / "clinic.md").read_bytes() == before


def test_the_edition_of_the_wording_is_six_characters_and_a_draft_until_the_clinic_approves_it(shell: Shell) -> None:
    code, _, rest = shell("clinic", "edition").out.partition("  ")
    assert len(code) == 6
    assert rest.startswith("draft")
    clinic_home(shell.home, ("languages:", f"approved: {{edition: {code}, by: cast clinic lead, on: 2026-11-01}}\nlanguages:"))
    assert shell("clinic", "edition").out == f"{code}  approved\n"


def test_a_home_without_a_clinic_file_is_refused_with_how_to_get_one(shell: Shell) -> None:
    (shell.home / "clinic.md").unlink()
    ended = shell("list", "devices")
    assert ended.code == 2
    assert "clinic.md: There is no such file." in ended.error
    assert "aftercare clinic new" in ended.error


# ---- the languages of a clinic ----


def test_publishing_names_the_languages_that_wait_and_what_earlier_pages_still_show(shell: Shell, tmp_path: Path) -> None:
    shell("publish", tmp_path / "site")
    clinic = shell.home / "clinic.md"
    clinic.write_text(clinic.read_text(encoding="utf-8") + "\n## rings\n- Take every ring off now.\n", encoding="utf-8")

    ended = shell("publish", tmp_path / "site")

    assert ended.code == 0
    assert re.search(r"\d+ sheets have no Spanish page as they read now", ended.error)
    assert re.search(r"\d+ sheets have no Arabic page as they read now", ended.error)
    assert "They still show the words, phone numbers and hours from before." in ended.error


def test_english_can_be_printed_and_published_where_the_clinic_does_not_offer_it(shell: Shell, tmp_path: Path) -> None:
    clinic_home(shell.home, ("languages: [en, es, ar]", "languages: [es]"))
    sheet = shell("print", "short-arm-cast", "fiberglass", "-o", tmp_path / "sheet.pdf")
    assert (sheet.code, sheet.error) == (0, "")
    site = shell("publish", tmp_path / "site")
    assert site.code == 0, site.error
    assert not (tmp_path / "site" / "EN").exists()


def test_an_unknown_language_of_the_clinic_is_refused_with_the_file_and_what_is_allowed(shell: Shell) -> None:
    clinic_home(shell.home, ("languages: [en, es, ar]", "languages: [en, spanish, ars]"))
    for command in (("list", "languages"), ("check",), ("clinic", "edition")):
        ended = shell(*command)
        assert ended.code == 2
        spanish, ars = ended.error.splitlines()
        assert "clinic.md: 'languages' says 'spanish', which is no language of this program. Allowed: en, es, ar." in spanish
        assert "Did you mean 'ar'?" in ars


# ---- translate ----


def test_a_language_is_exported_imported_and_approved(shell: Shell, tmp_path: Path) -> None:
    out = tmp_path / "es.po"
    assert shell("translate", "export", "es", out).code == 0
    sent = out.read_text(encoding="utf-8")
    entry = read_messages(sent, "es.po").entries["Life in danger"]

    # The translator words one sentence differently.
    changed = sent.replace(f'msgstr "{entry.translation}"', 'msgstr "Peligro de muerte ahora"')
    assert changed != sent
    out.write_text(changed, encoding="utf-8")
    back = shell("translate", "import", "es", out)
    assert back.code == 0, back.error
    assert (shell.home / "translations" / "es.po").is_file()

    assert shell("translate", "approve", "es", "--role", "bilingual clinician").code == 0
    rows = json.loads(shell("translate", "status", "--json").out)
    assert {row["tag"]: row["approved"] for row in rows} == {"es": True, "ar": False}


def test_a_translation_without_a_value_is_refused_and_not_written(shell: Shell, tmp_path: Path) -> None:
    out = tmp_path / "es.po"
    shell("translate", "export", "es", out)
    sent = out.read_text(encoding="utf-8")
    entry = next(e for e in read_messages(sent, "es.po").entries.values() if "{ice_minutes}" in e.translation)
    out.write_text(sent.replace(entry.translation, entry.translation.replace("{ice_minutes}", "un rato")), encoding="utf-8")
    ended = shell("translate", "import", "es", out)
    assert ended.code == 2
    assert "{ice_minutes}" in ended.error
    assert not (shell.home / "translations").exists()


def test_status_counts_the_translated_messages_of_each_language(shell: Shell) -> None:
    rows = json.loads(shell("translate", "status", "--json").out)
    assert [row["tag"] for row in rows] == ["es", "ar"]
    assert all(row["translated"] + row["missing"] + row["fuzzy"] + row["unsafe"] == row["total"] for row in rows)
    assert [line.split()[0] for line in shell("translate", "status").out.splitlines()] == ["es", "ar"]


def test_problems_of_a_language_are_data_for_programs_with_separate_file_and_line(shell: Shell) -> None:
    out = shell.home / "es.po"
    shell("translate", "export", "es", out)
    text = out.read_text(encoding="utf-8")
    entry = read_messages(text, "es.po").entries["Life in danger"]
    (shell.home / "translations").mkdir()
    own = shell.home / "translations" / "es.po"
    own.write_text(text.replace(f'msgstr "{entry.translation}"', 'msgstr "No hay peligro de muerte"'), encoding="utf-8")

    (spanish, arabic) = json.loads(shell("translate", "status", "--json").out)
    (problem,) = spanish["problems"]
    assert (problem["fault"], problem["file"]) == ("negation_lost", str(own))
    assert own.read_text(encoding="utf-8").splitlines()[problem["line"] - 1] == 'msgid "Life in danger"'
    assert problem["subject"] == ["Life in danger"]
    assert arabic["problems"] == []


@pytest.mark.parametrize(
    "words", [("export", "xx", "file.po"), ("import", "xx", "file.po"), ("approve", "xx", "--role", "clinician")]
)
def test_an_unknown_language_is_refused(
    shell: Shell, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ended = shell("translate", *words)
    assert ended.code == 2
    assert "No language 'xx'. Allowed: es, ar." in ended.error
    assert not (tmp_path / "file.po").exists()


def test_a_missing_file_from_a_translator_is_reported(shell: Shell, tmp_path: Path) -> None:
    ended = shell("translate", "import", "es", tmp_path / "none.po")
    assert ended.code == 2
    assert "none.po" in ended.error


@pytest.mark.parametrize("name", ["clinic.md", "approvals.yaml", "translations/es.po"])
def test_a_file_of_the_clinic_that_is_no_utf_8_text_is_refused_by_name(shell: Shell, name: str) -> None:
    path = shell.home / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes("año".encode("latin-1"))
    ended = shell("list", "languages")
    assert ended.code == 2
    assert f"{name}: Cannot be read: not UTF-8 text." in ended.error


# ---- serve ----


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.20", "::"])
def test_the_desk_does_not_open_to_the_network_without_its_option(shell: Shell, host: str) -> None:
    ended = shell("serve", "--host", host)
    assert ended.code == 2
    assert "--everyone" in ended.error


def test_a_port_in_use_is_reported(shell: Shell) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        ended = shell("serve", "--port", str(taken.getsockname()[1]))
    assert ended.code == 2
    assert "--port" in ended.error
    assert ended.out == ""


@pytest.mark.parametrize(
    ("words", "allowed"),
    [
        (("check", "--jobs", "0"), "x>=1"),
        (("serve", "--port", "99999"), "1<=x<=65535"),
        (("demo", "--port", "0"), "1<=x<=65535"),
    ],
)
def test_an_impossible_number_is_refused_with_the_allowed_ones(
    shell: Shell, words: tuple[str, ...], allowed: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ended = shell(*words)
    assert ended.code == 2
    assert allowed in ended.error


# ---- a file whole or not at all ----


def test_a_failed_write_leaves_the_old_file_and_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "sheet.pdf"
    target.write_bytes(b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(Refused, match="No space left"):
        write_whole(target, b"new")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("sheet.pdf", b"old")]
