"""Runs commands of the program in this process, as a shell would, for one clinic's folder."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from aftercare.cli import main


@dataclass(frozen=True)
class Ended:
    """How a command ended: its exit code (0 is success), and its output on each stream."""

    code: int
    out: str
    error: str


class Shell:
    """Runs commands for one clinic's folder."""

    def __init__(self, home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.home, self._monkeypatch, self._capsys = home, monkeypatch, capsys

    def __call__(self, *words: str | Path, home: bool = True) -> Ended:
        extra = ("--home", str(self.home)) if home else ()
        self._monkeypatch.setattr(sys, "argv", ["aftercare", *map(str, words), *extra])
        with pytest.raises(SystemExit) as ended:
            main()
        output = self._capsys.readouterr()
        return Ended(int(ended.value.code or 0), output.out, output.err)
