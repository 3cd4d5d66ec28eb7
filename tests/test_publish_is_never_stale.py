"""Tests that after any change publishing over the old site gives the bytes of a new publication."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.phone_world import demo_desk

# Publishes the clinic in `home` of the checkout this runs in: over a copy of the old site, and into an empty folder.
PUBLISH = """
import sys
from pathlib import Path
from aftercare.desk import Desk
from aftercare.places import find_places
desk = Desk.open(find_places(), Path("home"))
for folder in sys.argv[1:]:
    desk.publish(Path(folder))
"""
PARTS = ("aftercare", "content", "templates", "translations")

ENGLISH = ("home/clinic.md", "[en, es]", "[en]")

# A change of each kind of input, each of its edits as (file, old text, new text); None removes the file.
CHANGES: dict[str, tuple[tuple[str, str | None, str], ...]] = {
    "code of the schedule": (("aftercare/sheet/schedule.py", '"hour": timedelta(hours=1)', '"hour": timedelta(hours=2)'),),
    "code of a value": (("aftercare/language/values.py", "name[0][0] * 3, pattern", "name[0][0] * 4, pattern"),),
    "figure": (("content/figures.yaml", "value: [2, 3], unit: day", "value: [3, 3], unit: day"),),
    "weight order": (("content/weights.yaml", 'floor only", walks: true', 'floor only", walks: false'),),
    "option": (("content/options/swelling-risk.md", "early-visit: true", "early-visit: false"),),
    "language's own name": (("aftercare/language/languages.py", '"Español"', '"Español de EE. UU."'),),
    "language's locale": (("aftercare/language/languages.py", '"es_US"', '"es_ES"'),),
    "translation": (("translations/es.po", 'msgstr "Guardar"', 'msgstr "Guardar ahora"'),),
    "device": (("content/devices/mallet-splint.md", "checks: [this-finger]\n", ""),),
    "device that is gone": (("content/devices/figure-of-eight-strap.md", None, ""),),
    "label": (("content/labels.yaml", "Sheet no longer in use", "Sheet not in use any more"), ENGLISH),
    "template": (("templates/_sheet.html", '<div class="passage"', '<div class="passage new"'),),
    "script": (("templates/phone/more.js", "'use strict';", "'use strict'; window.changed = true;"),),
    "style": (("templates/phone/page.css", "body", "body,.changed"),),
    "drawing": (("aftercare/pictures/style.py", 'SKIN = "#f0cfae"', 'SKIN = "#e0c0a0"'),),
    "pictogram": (("content/pictograms/ice.svg", "M16 3v26", "M16 4v25"),),
    "phone of the clinic": (("home/clinic.md", "555-0143", "555-0144"),),
    "opening hours of the clinic": (("home/clinic.md", "08:00-16:30", "08:00-17:00"),),
    "time zone of the clinic": (("home/clinic.md", "America/New_York", "America/Chicago"),),
    "languages of the clinic": (ENGLISH,),
    "approval of the clinic": (("home/clinic.md", "paper: letter", "paper: letter\napproved: {edition: EDITION}"),),
}


def publish(checkout: Path, *folders: Path) -> None:
    """Publish the clinic of a checkout into each folder, in a process of its own."""
    command = [sys.executable, "-c", PUBLISH, *map(str, folders)]
    done = subprocess.run(command, cwd=checkout, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr


def copy_checkout(folder: Path) -> Path:
    """A copy of the program and its content, with the demo clinic in two of its languages as home."""
    for part in PARTS:
        shutil.copytree(ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__"))
    (folder / "home").mkdir()
    clinic = (ROOT / "content" / "demo-clinic.md").read_text(encoding="utf-8")
    (folder / "home" / "clinic.md").write_text(clinic.replace("[en, es, ar]", "[en, es]"), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def old_site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The site as it was published before any change."""
    folder = tmp_path_factory.mktemp("before")
    publish(copy_checkout(folder / "checkout"), folder / "site")
    yield folder / "site"
    shutil.rmtree(folder)


def files(site: Path) -> Mapping[str, bytes]:
    """Every published file by its path, without those of the publisher."""
    paths = (path for path in site.rglob("*") if path.is_file() and ".publish" not in path.parts)
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in paths}


def change(checkout: Path, name: str, old: str | None, new: str) -> None:
    """Make one change to a file of the checkout."""
    path = checkout / name
    if old is None:
        path.unlink()
        return
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{name} no longer holds: {old}"
    path.write_text(text.replace(old, new.replace("EDITION", wording_edition())), encoding="utf-8")


def wording_edition() -> str:
    """The edition of the English wording as shipped, which the demo clinic does not change."""
    return demo_desk().approvals.wording or ""


def is_allowed_besides(path: str, content: bytes) -> bool:
    """Whether a file may stand beside those of a fresh publication: an earlier edition, a withdrawn page, what these load."""
    loaded = path.startswith(("archive/", "more-")) or path.endswith(("worker.js", "manifest.webmanifest"))
    return loaded or b' data-edition="" ' in content  # the edition of a page that says that its code is no longer in use


@pytest.mark.parametrize("kind", CHANGES)
def test_publishing_over_the_old_site_gives_what_a_fresh_publication_gives(old_site: Path, tmp_path: Path, kind: str) -> None:
    checkout = copy_checkout(tmp_path / "checkout")
    for edit in CHANGES[kind]:
        change(checkout, *edit)
    shutil.copytree(old_site, tmp_path / "over")

    publish(checkout, tmp_path / "over", tmp_path / "fresh")

    over, fresh, before = files(tmp_path / "over"), files(tmp_path / "fresh"), files(old_site)
    assert [path for path, content in fresh.items() if over.get(path) != content] == []
    besides = {path: content for path, content in over.items() if path not in fresh}
    assert [path for path, content in besides.items() if not is_allowed_besides(path, content)] == []
    assert fresh != before, "the change changes no page, so that this test would not see a stale one"
    shutil.rmtree(tmp_path)
