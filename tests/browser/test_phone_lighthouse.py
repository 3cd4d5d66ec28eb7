"""Lighthouse in the mobile setting, on three pages behind a real web server. How fast they are stands in the benchmark."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lighthouse import lighthouse, scores
from tests.nginx import Nginx, nginx
from tests.phone_world import ARM, LEG, SPLINT, path_of, publish_demo, sheets

PAGES = ((*ARM, "en"), (*SPLINT, "es"), (*LEG, "ar"))


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Nginx]:
    folder: Path = tmp_path_factory.mktemp("lighthouse")
    publish_demo(folder / "site", sheets())
    with nginx(folder / "site", folder / "nginx") as server:
        yield server


def test_accessibility_and_best_practices_are_full(host: Nginx) -> None:
    """One page after the other: two of these at once are in each other's way."""
    for page in PAGES:
        report = lighthouse(host.address + path_of(*page), "accessibility", "best-practices")
        assert scores(report) == {"accessibility": 100, "best-practices": 100}, page
