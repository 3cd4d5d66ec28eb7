"""Fixtures that tests of every area share."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.library.catalogue import Library, load_library
from aftercare.places import find_places
from tests.shell import Shell

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds pyproject.toml."""
    return ROOT


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped content, read once; it is frozen."""
    return load_library(find_places())


@pytest.fixture
def shell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Shell:
    """Runs commands for a folder of its own of the demo clinic."""
    from tests.desk_world import clinic_home  # only here: it brings in all of the web

    monkeypatch.delenv("AFTERCARE_HOME", raising=False)
    home = tmp_path / "home"
    home.mkdir()
    return Shell(clinic_home(home), monkeypatch, capsys)
