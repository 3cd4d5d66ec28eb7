"""The command line: what each command prints, writes and ends with.

Commands run in this process, as `aftercare.cli.main` runs them; one test runs the real thing.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from aftercare.check.run import Report
from aftercare.cli import build_group
from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused, Where
from aftercare.places import find_places
from tests.desk_world import clinic_home
from tests.shell import Shell

PRINT = "print short-arm-cast fiberglass --side left --language es --option swelling-risk".split()  # noqa: SIM905 - as typed
PRINT += "--applied 2026-11-25T14:30 --visit 2026-12-02T09:00 --paper letter".split()  # noqa: SIM905


# A problem with a value in each of its parts, and what a program reads of it.
PROBLEM = Problem(
    Fault.UNKNOWN_NAME,
    "No material is called {}.",
    subject=("plastr",),
    allowed=("plaster", "fiberglass"),
    suggestion="plaster",
    advice="Choose it again.",
    field="material",
    where=Where("clinic.md", 7),
)
PROBLEM_DATA = {
    "fault": "unknown_name",
    "message": "No material is called 'plastr'. Allowed: plaster, fiberglass. Did you mean 'plaster'? Choose it again.",
    "subject": ["plastr"],
    "allowed": ["plaster", "fiberglass"],
    "suggestion": "plaster",
    "advice": "Choose it again.",
    "field": "material",
    "file": "clinic.md",
    "line": 7,
}


@pytest.fixture(scope="session")
def demo_desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return Desk.open(find_places(), clinic_home(tmp_path_factory.mktemp("demo")))


@pytest.fixture
def quick(shell: Shell, demo_desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Shell:
    """The same, with the desk opened once for all tests that change nothing of the clinic's."""
    monkeypatch.setattr("aftercare.cli.sheets.open_desk", lambda _home: demo_desk)
    return shell


# ---- print ----


def test_print_writes_a_pdf_in_the_language_and_on_the_paper_asked_for(shell: Shell, tmp_path: Path) -> None:
    ended = shell(*PRINT, "-o", tmp_path / "sheet.pdf")
    assert (ended.code, ended.error) == (0, "")
    assert ended.out == f"Wrote {tmp_path / 'sheet.pdf'}.\n"
    with pikepdf.open(tmp_path / "sheet.pdf") as pdf:
        assert pdf.Root.Lang == "es"
        assert [float(edge) for edge in pdf.pages[0].mediabox] == [0, 0, 612, 792]  # US letter: 8.5 by 11 inches of 72 points
        assert len(pdf.pages) == 2


def test_the_program_itself_refuses_in_sentences_with_exit_code_2(checkout: Path, tmp_path: Path) -> None:
    """As a shell meets it: no traceback, nothing on standard output."""
    words = ("print", "short-arm-cats", "-o", str(tmp_path / "sheet.pdf"))
    ended = subprocess.run(
        (sys.executable, "-c", "from aftercare.cli import main; main()", *words), cwd=checkout, capture_output=True, text=True
    )
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr.startswith("No device is called 'short-arm-cats'.")
    assert ended.stderr.count("\n") == 1
    assert not (tmp_path / "sheet.pdf").exists()


@pytest.mark.parametrize(
    ("words", "said", "allowed"),
    [
        ("short-arm-cats fiberglass", "No device is called 'short-arm-cats'.", "short-arm-cast"),
        ("short-arm-cast wood", "No material is called 'wood'.", "fiberglass"),
        ("short-arm-cast walker-boot", "'short-arm-cast' is not made in 'walker-boot'.", "fiberglass"),
        ("short-arm-cast fiberglass --applied yesterday", "'applied' is 'yesterday'", "2026-11-25T14:30"),
        (
            "short-arm-cast fiberglass --applied 2026-12-02T09:00 --visit 2026-11-25T09:00",
            "is not after it was put on",
            "after",
        ),
        ("short-arm-cast fiberglass --option crutches", "'crutches' cannot apply", "swelling-risk"),
        ("short-arm-cast fiberglass --language xx", "No language 'xx' is offered here.", "en, es, ar"),
        ("short-arm-cast fiberglass --paper a5", "No paper is called 'a5'.", "letter, a4"),
        ("short-arm-cast fiberglass --size huge", "No text size is called 'huge'.", "regular, large"),
        ("short-leg-cast fiberglass", "No weight order was chosen.", "none"),
        ("short-leg-walking-cast fiberglass --weight none", "cannot carry the weight order 'none'", "touch"),
        ("--supply Q4010", "fits more than one device", "short-arm-cast, thumb-spica-cast"),
        ("--supply Q9999", "'Q9999' is not a supply code", "Q4010"),
        ("", "No device was chosen.", "short-arm-cast"),
    ],
)
def test_bad_input_exits_with_2_lists_what_is_allowed_and_leaves_the_existing_file(
    quick: Shell, tmp_path: Path, words: str, said: str, allowed: str
) -> None:
    existing = tmp_path / "sheet.pdf"
    existing.write_bytes(b"yesterday's")
    ended = quick("print", *words.split(), "-o", existing)
    assert (ended.code, ended.out) == (2, "")
    assert said in ended.error
    assert allowed in ended.error
    assert existing.read_bytes() == b"yesterday's"
    assert [path.name for path in tmp_path.iterdir() if path != quick.home] == ["sheet.pdf"]


def test_all_problems_are_printed_at_once_one_on_each_line(quick: Shell, tmp_path: Path) -> None:
    words = (
        "short-arm-cast",
        "wood",
        "--side",
        "up",
        "--applied",
        "noon",
        "--language",
        "xx",
        "--paper",
        "a3",
        "--size",
        "huge",
    )
    ended = quick("print", *words, "-o", tmp_path / "sheet.pdf")
    assert ended.code == 2
    assert len(ended.error.splitlines()) == 6


def test_a_clinic_file_without_phones_prints_nothing_and_lists_what_to_fill_in(shell: Shell, tmp_path: Path) -> None:
    (shell.home / "clinic.md").unlink()
    assert shell("clinic", "new", shell.home, home=False).code == 0
    ended = shell("print", "short-arm-cast", "fiberglass", "-o", tmp_path / "sheet.pdf")
    assert ended.code == 2
    assert "phone" in ended.error
    assert "clinic.md" in ended.error
    assert not (tmp_path / "sheet.pdf").exists()


def test_an_address_too_long_to_print_is_refused(shell: Shell, tmp_path: Path) -> None:
    clinic_home(shell.home, ("care.ternharbour.example/", f"care.ternharbour.example/{'long' * 30}/"))
    ended = shell("print", "short-arm-cast", "fiberglass", "-o", tmp_path / "sheet.pdf")
    assert ended.code == 2
    assert "at most 120" in ended.error


def test_a_phone_site_patients_cannot_reach_is_printed_with_a_caution(shell: Shell, tmp_path: Path) -> None:
    clinic_home(shell.home, ("https://care.ternharbour.example/", "http://192.168.1.20/"))
    ended = shell("print", "short-arm-cast", "fiberglass", "-o", tmp_path / "sheet.pdf")
    assert ended.code == 0
    assert ended.error.startswith("Caution: ")
    assert "Patients cannot open 'http://192.168.1.20/' at home" in ended.error


def test_a_file_that_cannot_be_written_is_reported_with_exit_code_2(quick: Shell, tmp_path: Path) -> None:
    (tmp_path / "folder").write_text("a file where a folder should be")
    ended = quick("print", "short-arm-cast", "fiberglass", "-o", tmp_path / "folder" / "sheet.pdf")
    assert ended.code == 2
    assert "Cannot be written" in ended.error


def test_a_supply_code_that_means_one_sheet_prints_it(quick: Shell, tmp_path: Path) -> None:
    ended = quick("print", "--supply", "q4006", "-o", tmp_path / "sheet.pdf")
    assert (ended.code, ended.error) == (0, "")
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")


# ---- list ----


@pytest.mark.parametrize(
    ("what", "known"),
    [
        ("devices", "short-arm-cast"),
        ("materials", "fiberglass"),
        ("languages", "ar"),
        ("options", "wires"),
        ("weights", "touch"),
        ("supplies", "Q4010"),
    ],
)
def test_every_list_is_rows_with_an_id_for_programs_and_lines_for_people(quick: Shell, what: str, known: str) -> None:
    rows = json.loads(quick("list", what, "--json").out)
    assert known in [row["id"] for row in rows]
    lines = quick("list", what).out.splitlines()
    assert [line.split()[0] for line in lines] == [row["id"] for row in rows]


def test_a_column_of_several_values_is_an_array_for_programs_and_a_line_with_commas_for_people(
    quick: Shell, demo_desk: Desk
) -> None:
    materials = list(demo_desk.library.devices["short-arm-cast"].materials)
    (device,) = json.loads(quick("list", "devices", "--device", "short-arm-cast", "--json").out)
    assert device == {"id": "short-arm-cast", "name": "Short arm cast", "materials": materials}
    assert quick("list", "devices", "--device", "short-arm-cast").out == (
        f"short-arm-cast  Short arm cast; {', '.join(materials)}\n"
    )

    supplies = json.loads(quick("list", "supplies", "--json").out)
    assert {row["id"]: row["devices"] for row in supplies} == {
        supply.code: list(supply.devices) for supply in demo_desk.library.supplies.values()
    }


@pytest.mark.parametrize(
    ("what", "device", "ids"),
    [
        ("materials", "tall-walker-boot", {"walker-boot"}),
        ("weights", "short-leg-walking-cast", {"touch", "partial", "as-comfortable", "full"}),
        ("weights", "short-arm-cast", set()),
        ("devices", "short-arm-cast", {"short-arm-cast"}),
        ("supplies", "hip-spica-cast", {"Q4025", "Q4026", "Q4027", "Q4028"}),
    ],
)
def test_a_list_for_one_device_holds_only_what_can_apply_to_it(quick: Shell, what: str, device: str, ids: set[str]) -> None:
    assert {row["id"] for row in json.loads(quick("list", what, "--device", device, "--json").out)} == ids


def test_options_for_an_arm_hold_a_sling_and_no_crutches(quick: Shell) -> None:
    ids = [row["id"] for row in json.loads(quick("list", "options", "--device", "short-arm-cast", "--json").out)]
    assert "sling" in ids
    assert "crutches" not in ids


def test_a_list_for_an_unknown_device_is_refused(quick: Shell) -> None:
    ended = quick("list", "options", "--device", "short-arm-cats")
    assert (ended.code, ended.out) == (2, "")
    assert "Did you mean 'short-arm-cast'?" in ended.error


@pytest.mark.parametrize(
    ("module", "words"),
    [
        ("sheets", ("list", "devices", "--json")),
        ("check", ("check", "--json")),
        ("check", ("check", "--understanding", "--json")),
        ("translations", ("translate", "status", "--json")),
    ],
)
def test_a_refusal_is_sentences_on_standard_error_and_with_json_also_data_on_standard_output(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, module: str, words: tuple[str, ...]
) -> None:
    def refuse(_home: Path) -> Desk:
        raise Refused([PROBLEM, PROBLEM])

    monkeypatch.setattr(f"aftercare.cli.{module}.open_desk", refuse)
    ended = shell(*words)
    assert ended.code == 2
    assert ended.error == f"clinic.md:7: {PROBLEM_DATA['message']}\n" * 2
    assert json.loads(ended.out) == {"problems": [PROBLEM_DATA, PROBLEM_DATA]}
    assert shell(*words[:-1]).out == ""


def test_an_unknown_list_is_refused_by_name(quick: Shell) -> None:
    ended = quick("list", "drugs")
    assert ended.code == 2
    assert "drugs" in ended.error


# ---- check ----


def test_check_prints_its_result_as_data_for_programs(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    report = Report(composed=3, problems=(PROBLEM,), skipped=("no fonts",), laid_out=2, seconds={"sheets": 1.5})
    monkeypatch.setattr("aftercare.cli.check.run_check", lambda *_, **__: report)
    ended = shell("check", "--json")
    assert ended.code == 2
    assert json.loads(ended.out) == {
        "composed": 3,
        "problems": [PROBLEM_DATA],
        "skipped": ["no fonts"],
        "laid_out": 2,
        "seconds": {"sheets": 1.5},
    }


# ---- the commands themselves ----


def test_a_missing_system_library_is_a_refusal_in_words(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse() -> None:
        raise Refused.one(Fault.NOT_INSTALLED, "The print engine lacks a system library: {}.", subject=("libpango",))

    monkeypatch.setattr("aftercare.cli.build_group", refuse)
    ended = shell("list", "devices")
    assert (ended.code, ended.out, ended.error) == (2, "", "The print engine lacks a system library: 'libpango'.\n")


def test_each_call_builds_a_new_complete_group_of_commands() -> None:
    first, second = build_group(), build_group()
    assert first is not second
    assert set(first.commands) == {"list", "print", "demo", "serve", "publish", "clinic", "translate", "check"}
