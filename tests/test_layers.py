"""The shape of the program, as the import contracts in pyproject.toml and the rule of the pure core have it."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

# What would let the core open a file or know the time.
IMPURE_MODULES = {"flask", "io", "os", "pathlib", "shutil", "socket", "subprocess", "tempfile", "time"}
IMPURE_NAMES = {"open", "now", "today", "utcnow", "print", "input"}
MOST_LINES = 250


def impurities(source: str) -> set[str]:
    """Modules imported and names used that reach outside the program."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Import(names=names):
                found |= {name.name.split(".")[0] for name in names} & IMPURE_MODULES
            case ast.ImportFrom(module=str(module)):
                found |= {module.split(".")[0]} & IMPURE_MODULES
            case ast.Name(id=name) | ast.Attribute(attr=name):
                found |= {name} & IMPURE_NAMES
    return found


def test_import_contracts_hold(checkout: Path) -> None:
    # In a process of its own, since it sets up logging anew and would silence the loggers of this one.
    code = "from importlinter.cli import lint_imports_command; lint_imports_command(['--no-cache'])"
    ended = subprocess.run((sys.executable, "-c", code), cwd=checkout, capture_output=True, encoding="utf-8")

    assert ended.returncode == 0, ended.stdout + ended.stderr


def test_composing_a_sheet_opens_no_file_and_knows_no_clock(checkout: Path) -> None:
    modules = sorted((checkout / "aftercare" / "sheet").glob("*.py"))

    assert modules
    assert {module.name: impurities(module.read_text()) for module in modules} == {module.name: set() for module in modules}


def test_drawing_opens_no_file_and_knows_no_clock(checkout: Path) -> None:
    modules = sorted((checkout / "aftercare" / "pictures").glob("*.py"))

    assert modules
    assert {module.name: impurities(module.read_text()) for module in modules} == {module.name: set() for module in modules}


@pytest.mark.parametrize("source", ["import os", "from pathlib import Path", "open('x')", "datetime.now()", "date.today()"])
def test_reaching_outside_the_core_is_noticed(source: str) -> None:
    assert impurities(source)


def test_no_module_is_too_long_to_read_at_one_sitting(checkout: Path) -> None:
    lengths = {str(path): len(path.read_text().splitlines()) for path in sorted((checkout / "aftercare").rglob("*.py"))}

    assert {path: length for path, length in lengths.items() if length > MOST_LINES} == {}
