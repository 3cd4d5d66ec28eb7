"""Fixtures that tests of every area share."""

from __future__ import annotations

from pathlib import Path

import pytest

from aftercare.library.catalogue import Library, load_library
from aftercare.places import find_places

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds pyproject.toml."""
    return ROOT


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped content, read once; it is frozen."""
    return load_library(find_places())
