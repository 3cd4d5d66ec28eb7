"""Tests that code outside the library uses every value of a content file."""

from __future__ import annotations

import ast
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import ModuleType

import pytest

from aftercare.language.approval import Approvals, LanguageApproval
from aftercare.library import clinic, devices, figures, modules, supply

# Values that the library itself turns into something else, which other code reads.
READ_IN_THE_LIBRARY = {
    "Applies.kinds": "Applies.fits compares it with the device",
    "Applies.nouns": "Applies.fits compares it with the device",
    "Applies.limbs": "Applies.fits compares it with the device",
    "Applies.extremities": "Applies.fits compares it with the device",
    "Applies.traits": "Applies.fits compares it with the device",
    "Advice.order": "load_library sorts the advice by it",
    "WarningSign.order": "load_library sorts the signs by it",
    "Device.loosens": "modules.traits makes a trait of it",
    "Device.checks": "Device.tips gives it",
}


def attributes_read(source: str) -> set[str]:
    """Names of the attributes that a module reads.

    Those of `self` and of what the module imports are left out: outside the library neither is a value of the library. A
    field whose name an unrelated type has as well counts as read where that one is.
    """
    tree = ast.parse(source)
    imported = {
        alias.asname or alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names
    }
    return {
        node.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and isinstance(node.ctx, ast.Load)
        and not (isinstance(node.value, ast.Name) and node.value.id in imported | {"self"})
    }


def fields_of(*sources: ModuleType | type) -> set[str]:
    """The fields of dataclasses, and of all that a module defines, as "Class.field"."""
    classes: list[type] = []
    for source in sources:
        if isinstance(source, type):
            classes.append(source)
        else:
            classes += [
                member for member in vars(source).values() if isinstance(member, type) and member.__module__ == source.__name__
            ]
    return {f"{kind.__name__}.{field.name}" for kind in classes if is_dataclass(kind) for field in fields(kind)}


def test_every_value_of_a_content_file_is_read_outside_the_library(checkout: Path) -> None:
    paths = [path for path in (checkout / "aftercare").rglob("*.py") if path.parent.name != "library"]
    read = {name for path in paths for name in attributes_read(path.read_text(encoding="utf-8"))}

    known = fields_of(clinic, devices, figures, modules, supply, Approvals, LanguageApproval)
    assert {"Device.weeks", "Figure.memory", "Clinic.approved_by", "Advice.sources", "LanguageApproval.role"} <= known
    assert {field for field in known if field.partition(".")[2] not in read} == READ_IN_THE_LIBRARY.keys()


def test_every_value_that_only_the_library_reads_is_read_there(checkout: Path) -> None:
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in (checkout / "aftercare" / "library").glob("*.py")]
    read = {node.attr for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Attribute)}

    assert {field for field in READ_IN_THE_LIBRARY if field.partition(".")[2] not in read} == set()


@pytest.mark.parametrize(
    ("source", "read"),
    [
        ("print(device.weeks)", {"weeks"}),
        ("device.weeks = 1", set()),
        ("self.weeks", set()),
        ("from aftercare.understanding import faces\nfaces.order", set()),
        ("'weeks'", set()),
    ],
)
def test_only_a_value_that_is_read_counts(source: str, read: set[str]) -> None:
    assert attributes_read(source) == read
