"""The scripts of phone pages against the language that old phones speak."""

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
def test_no_script_asks_for_a_newer_language_than_that_of_2017(script: Path) -> None:
    found = read(script.read_text(encoding="utf-8"))
    assert (found.returncode, found.stderr) == (0, "")


@pytest.mark.parametrize("newer", ["a?.b", "a ?? b", "try { a() } catch { b() }", "a ||= b", "1_000"])
def test_the_reader_refuses_what_came_later(newer: str) -> None:
    assert read(newer).returncode != 0
