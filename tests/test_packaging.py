"""Tests of the installed program: a wheel in its own environment, outside any checkout."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
import sysconfig
import tomllib
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name


@pytest.fixture(scope="module")
def wheel(checkout: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    _run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(checkout))
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The `bin` folder of a new environment with the wheel, which uses the other packages of the tests' environment."""
    home = tmp_path_factory.mktemp("installed")
    _run(sys.executable, "-m", "venv", "--without-pip", str(home))
    _run(sys.executable, "-m", "pip", "--python", str(home), "install", "--quiet", "--no-index", "--no-deps", str(wheel))
    (packages,) = home.glob("lib/python*/site-packages")
    (packages / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return home / "bin"


def _run(*command: str, folder: Path | None = None) -> str:
    # The environment must not lead to any file of the checkout.
    environment = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "AFTERCARE"))}
    ended = subprocess.run(command, cwd=folder, env=environment, capture_output=True, encoding="utf-8")
    assert ended.returncode == 0, ended.stdout + ended.stderr
    return ended.stdout


def test_the_wheel_has_content_translations_and_templates(checkout: Path, wheel: Path) -> None:
    files = [path for top in ("content", "translations", "templates") for path in (checkout / top).rglob("*") if path.is_file()]

    packed = set(zipfile.ZipFile(wheel).namelist())
    assert len(files) > 100
    assert {f"aftercare/{path.relative_to(checkout).as_posix()}" for path in files} - packed == set()


def test_the_wheel_has_nothing_else(wheel: Path) -> None:
    tops = {name.split("/")[0] for name in zipfile.ZipFile(wheel).namelist()}

    assert tops == {"aftercare", f"{'-'.join(wheel.name.split('-')[:2])}.dist-info"}


def test_the_wheel_has_no_set_up_of_a_checkout(checkout: Path, wheel: Path) -> None:
    assert (checkout / "aftercare/bootstrap.py").is_file()
    assert "aftercare/bootstrap.py" not in zipfile.ZipFile(wheel).namelist()


def test_the_installed_program_finds_its_own_files(installed: Path, tmp_path: Path) -> None:
    where = _run(
        str(installed / "python"), "-c", "import aftercare.places as p; print(p.find_places().content)", folder=tmp_path
    )

    assert Path(where.strip()).is_relative_to(installed.parent)


def test_the_installed_command_lists_the_devices(installed: Path, tmp_path: Path) -> None:
    assert "short-arm-cast" in _run(str(installed / "aftercare"), "list", "devices", folder=tmp_path)


def test_the_installed_module_runs_without_any_set_up(installed: Path, tmp_path: Path) -> None:
    listed = _run(str(installed / "python"), "-m", "aftercare", "list", "languages", folder=tmp_path)

    assert "Español" in listed
    assert list(tmp_path.iterdir()) == []


def imported(folder: Path) -> set[str]:
    """The top modules that the code in a folder imports, but for those of the standard library."""
    imports: set[str] = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module] if isinstance(node, ast.ImportFrom) and node.module else []
            imports |= {name.split(".")[0] for name in names}
    return imports - sys.stdlib_module_names


def test_every_package_the_program_imports_is_declared(checkout: Path) -> None:
    project = tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = {canonicalize_name(Requirement(line).name) for line in project["dependencies"]}
    brought = packages_distributions()
    modules = imported(checkout / "aftercare") - {"aftercare"}

    assert len(modules) > 10
    assert sorted(module for module in modules if not {canonicalize_name(name) for name in brought[module]} & asked) == []
