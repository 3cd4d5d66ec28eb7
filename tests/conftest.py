"""Fixtures that tests of every area share."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds pyproject.toml."""
    return ROOT
