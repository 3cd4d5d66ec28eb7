"""Tests of the decisions in the set-up of a checkout; `.ci/run` runs the whole set-up."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import aftercare.__main__
import aftercare.bootstrap
from aftercare import bootstrap
from aftercare.bootstrap import (
    RUN_TIME,
    CannotSetUp,
    Need,
    Rights,
    Tools,
    find_checkout,
    first_known,
    read_needs,
    set_up,
    stamp,
    what_to_run,
)

PANGO = Need(("libpango-1.0-0",), library="libpango-1.0.so.0")
BROWSER = Need(("chromium", "chromium-browser"), commands=("chromium", "chromium-browser"))
ABSENT = Need(("nothing-such",), commands=("no-command-is-called-this",))

NO_SUDO = Rights(apt=True)
PASSWORD = Rights(apt=True, sudo=True)
INSTALLING = "apt-get install -y --no-install-recommends"


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A checkout without any set-up, whose project file requires a package that no machine has."""
    (tmp_path / "requirements.lock").write_text("")
    (tmp_path / "pyproject.toml").write_text(
        '[tool.aftercare]\nsystem-packages = [{ packages = ["nothing-such"], commands = ["no-command-is-called-this"] }]\n'
    )
    return tmp_path


def test_root_calls_apt_as_it_is() -> None:
    assert Rights(apt=True, root=True).prefix == ()


def test_sudo_is_used_where_it_asks_for_no_password() -> None:
    assert Rights(apt=True, sudo=True, silent=True).prefix == ("sudo", "-n")


@pytest.mark.parametrize("rights", [NO_SUDO, PASSWORD, Rights(apt=False, root=True), Rights(apt=False, sudo=True, silent=True)])
def test_nothing_is_installed_without_rights_or_without_apt(rights: Rights) -> None:
    assert rights.prefix is None


def test_the_command_to_run_names_every_missing_package() -> None:
    lines = what_to_run([PANGO, BROWSER], PASSWORD).splitlines()

    assert lines[-1] == f"    sudo apt-get update && sudo {INSTALLING} libpango-1.0-0 chromium"


def test_the_command_to_run_has_no_sudo_where_the_machine_has_none() -> None:
    lines = what_to_run([PANGO], NO_SUDO).splitlines()

    assert lines[-1] == f"    apt-get update && {INSTALLING} libpango-1.0-0"
    assert "as root" in lines[-2]


def test_without_apt_what_is_missing_is_listed_by_its_own_name() -> None:
    message = what_to_run([PANGO, BROWSER], Rights(apt=False, root=True))

    assert "libpango-1.0.so.0, chromium or chromium-browser" in message


def test_the_first_package_that_apt_has_is_chosen() -> None:
    assert first_known(BROWSER, ["chromium-browser"]) == "chromium-browser"
    assert first_known(BROWSER, ["chromium-browser", "chromium"]) == "chromium"


def test_a_package_that_apt_does_not_have_is_named_by_its_first_name() -> None:
    assert first_known(BROWSER, []) == "chromium"


def test_a_need_is_met_by_an_installed_file_or_command_from_any_source() -> None:
    assert Need(("libc6",), library="libc.so.6").is_met()
    assert Need(("anything",), commands=("no-command-is-called-this", "sh")).is_met()
    assert Need(("python3.11-venv",), module="venv").is_met()


@pytest.mark.parametrize(
    "need", [ABSENT, Need(("x",), library="libno-such.so.0"), Need(("x",), module="no_module_is_called_this")]
)
def test_a_need_is_not_met_by_a_package_name_alone(need: Need) -> None:
    assert not need.is_met()


def test_the_stamp_changes_with_the_lock_and_with_python() -> None:
    first = stamp(b"flask==3.1.3", (3, 11))

    assert first == stamp(b"flask==3.1.3", (3, 11))
    assert first != stamp(b"flask==3.1.4", (3, 11))
    assert first != stamp(b"flask==3.1.3", (3, 12))


def test_one_command_installs_all_sets_of_tools(bare: Path) -> None:
    more = Tools("more", "more.lock", "more-packages")
    with (bare / "pyproject.toml").open("a") as project:
        project.write('more-packages = [{ packages = ["nor-this"], commands = ["no-command-is-called-that"] }]\n')

    with pytest.raises(CannotSetUp, match=f"{INSTALLING} nothing-such nor-this"):
        set_up(bare, RUN_TIME, more, rights=lambda: PASSWORD)


@pytest.mark.parametrize("rights", [NO_SUDO, PASSWORD])
def test_set_up_stops_with_the_command_to_run_where_it_may_not_install(bare: Path, rights: Rights) -> None:
    with pytest.raises(CannotSetUp, match=f"{INSTALLING} nothing-such"):
        set_up(bare, RUN_TIME, rights=lambda: rights)
    assert not (bare / ".venv").exists()


def test_a_failed_set_up_prints_the_command_to_run_and_exits_with_1(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(_: Path, tools: Tools) -> None:
        set_up(bare, tools, rights=lambda: PASSWORD)

    monkeypatch.setattr(aftercare.bootstrap, "set_up", stop)

    with pytest.raises(SystemExit) as ended:
        aftercare.__main__.main()
    # SystemExit with a text prints it on stderr and leaves with code 1 (Python's own documentation, sys.exit).
    assert str(ended.value.code).endswith(f"sudo {INSTALLING} nothing-such")


def test_the_program_declares_its_system_packages_in_one_list(checkout: Path) -> None:
    # WeasyPrint 70's documentation, first steps, names Pango; subsetting by HarfBuzz is what keeps printing fast.
    needs = read_needs(checkout / "pyproject.toml", RUN_TIME.system)

    assert [need.packages[0] for need in needs] == ["libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"]


def test_a_checkout_is_recognized_by_its_project_file(checkout: Path) -> None:
    assert find_checkout() == checkout


def test_set_up_imports_nothing_that_must_be_installed_first() -> None:
    # -S leaves out site-packages, -I everything else that is not Python's own.
    code = "import sys; sys.path.insert(0, sys.argv[1]); import aftercare.__main__"
    root = str(Path(bootstrap.__file__).parent.parent)

    assert subprocess.run((sys.executable, "-I", "-S", "-c", code, root)).returncode == 0


def test_the_tests_use_the_versions_that_the_program_runs_with(checkout: Path) -> None:
    def pins(lock: str) -> set[str]:
        return {line.split(" ")[0] for line in (checkout / lock).read_text().splitlines() if "==" in line and line[0] != " "}

    assert pins("requirements.lock") <= pins("tests/tools/requirements.lock")
