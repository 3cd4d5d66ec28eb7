"""Tests that old phones can parse the scripts of phone pages."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from aftercare.places import find_places

SCRIPTS = sorted((find_places().templates / "phone").glob("*.js"))
TOOLS = Path(__file__).resolve().parents[1] / "tools"
# Esprima 4 reads ECMAScript 2017 (its own documentation), which phones of 2018 know; what came later it refuses.
READ = "require('esprima').parseScript(require('fs').readFileSync(0, 'utf8'))"


def read(script: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(("node", "-e", READ), input=script, cwd=TOOLS, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.name)
def test_no_script_needs_a_newer_language_than_that_of_2017(script: Path) -> None:
    result = read(script.read_text(encoding="utf-8"))
    assert (result.returncode, result.stderr) == (0, "")


@pytest.mark.parametrize("newer", ["a?.b", "a ?? b", "try { a() } catch { b() }", "a ||= b", "1_000"])
def test_the_parser_refuses_later_syntax(newer: str) -> None:
    assert read(newer).returncode != 0
