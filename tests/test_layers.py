"""Tests of the program's layers: the import contracts in pyproject.toml, and no files or clocks in the core."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

# What would let the modules that only compute open a file or know the time. Of `io` they may have its buffers in memory.
IMPURE_MODULES = {"flask", "io", "os", "pathlib", "shutil", "socket", "subprocess", "tempfile", "time"}
BUFFERS = {"StringIO", "BytesIO"}
IMPURE_NAMES = {"open", "now", "today", "utcnow", "print", "input"}
MOST_LINES = 250


def impurities(source: str) -> set[str]:
    """Modules imported and names used that reach outside the program."""
    impure: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Import(names=imported):
                impure |= {alias.name.split(".")[0] for alias in imported} & IMPURE_MODULES
            case ast.ImportFrom(module="io", names=imported) if {alias.name for alias in imported} <= BUFFERS:
                pass
            case ast.ImportFrom(module=str(module)):
                impure |= {module.split(".")[0]} & IMPURE_MODULES
            case ast.Name(id=name) | ast.Attribute(attr=name):
                impure |= {name} & IMPURE_NAMES
    return impure


def test_import_contracts_hold(checkout: Path) -> None:
    # In a process of its own, since it sets up logging anew and would silence the loggers of this one.
    code = "from importlinter.cli import lint_imports_command; lint_imports_command(['--no-cache'])"
    ended = subprocess.run((sys.executable, "-c", code), cwd=checkout, capture_output=True, encoding="utf-8")

    assert ended.returncode == 0, ended.stdout + ended.stderr


@pytest.mark.parametrize("package", ["sheet", "pictures", "language", "understanding"])
def test_composing_drawing_translating_and_reviewing_open_no_file_and_read_no_clock(checkout: Path, package: str) -> None:
    modules = sorted((checkout / "aftercare" / package).glob("*.py"))

    assert modules
    assert {module.name: impurities(module.read_text()) for module in modules} == {module.name: set() for module in modules}


@pytest.mark.parametrize(
    "source",
    [
        "import os",
        "import os.path",
        "from pathlib import Path",
        "from io import FileIO, StringIO",
        "open('x')",
        "datetime.now()",
        "date.today()",
    ],
)
def test_files_and_clocks_in_the_core_are_detected(source: str) -> None:
    assert impurities(source)


def test_no_module_is_longer_than_250_lines(checkout: Path) -> None:
    lengths = {str(path): len(path.read_text().splitlines()) for path in sorted((checkout / "aftercare").rglob("*.py"))}

    assert {path: length for path, length in lengths.items() if length > MOST_LINES} == {}


def test_no_module_of_tests_imports_from_another(checkout: Path) -> None:
    imported = {
        (path.relative_to(checkout).as_posix(), node.module)
        for path in (checkout / "tests").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module
    }

    assert ("tests/test_layers.py", "pathlib") in imported
    assert [pair for pair in sorted(imported) if pair[1].rsplit(".", 1)[-1].startswith("test_")] == []
