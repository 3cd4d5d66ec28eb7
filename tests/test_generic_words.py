"""No text, name, picture or file carries a brand: every word is an easy English word or a generic one listed here.

A list of brands would name them and never be whole. A new word fails until somebody has looked at it and added it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from importlib.resources import files
from pathlib import Path

import pytest

from aftercare.library.catalogue import Library, texts_of
from aftercare.library.text import Text


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Parts of the body, and what the trade calls devices, materials and how they lie.
TRADE = _words(
    """
    achilles aluminum ankle armpit artery backslab brace buddy bulky buttock cast circulation clavicle coaptation
    collarbone crease crutches cylinder digit dorsal elastic equinus extension fiberglass fingertip forearm fracture
    functional gauntlet gauze gutter humeral immobilizer infect infection intrinsic joint kneecap knuckles liner mallet
    mold muscle padding palm patellar plaster posterior prefabricated radial raynaud's rigid scaphoid semi shaft shin
    slab spica splint steroid stirrup tendon therapist thermoplastic thigh tong triangular ulcer ulnar volar wedge wrist
    """
)
# Plain words of the texts that the list of easy words happens to lack.
PLAIN = _words(
    """
    advice approve baby bloody calm central clinic clot cock code comfortable contact degree dementia details diabetes
    diaper differ disability disease dose draft droop dryer ease edition emergency exercise failure firm force fragile
    gently germ hottest include index injure injury interpreter inward itch label layer limit loosen lungs main moisten
    movement network neutral non normal numb object output partial patient pattern plus position prefer press prevent
    preview problem prop pus removable removal replace rinse risk scan shield shift shown slight smelly soapy soften
    special staff stain steady straighten supply support swollen text thinner tighten tilt total translation tuck type u
    underneath undo unroll usual warmth weekend weight withdrawn within
    """
)
# Names of files, besides the words above; not shown to patients.
IN_FILE_NAMES = _words("demo error exclusive figures incomplete labels storage topics")

# Endings under which an easy word is still itself, and what stands in their place.
ENDINGS = (
    ("s", ""),
    ("es", ""),
    ("ies", "y"),
    ("ied", "y"),
    ("ily", "y"),
    ("ed", ""),
    ("ed", "e"),
    ("ing", ""),
    ("ing", "e"),
    ("er", ""),
    ("er", "e"),
    ("ly", ""),
    ("n't", ""),
    ("'s", ""),
)


@pytest.fixture(scope="module")
def easy() -> frozenset[str]:
    """The list of about 3,000 easy English words by Dale and Chall, from the package textstat."""
    return frozenset(files("textstat").joinpath("resources/en/easy_words.txt").read_text(encoding="utf-8").lower().split())


def unknown(texts: Iterable[str], known: frozenset[str]) -> list[str]:
    """Every word that is in neither list, once."""
    used = {word for text in texts for word in re.findall(r"[a-z]+(?:'[a-z]+)*", re.sub(r"\{[^{}]*\}", " ", text).lower())}
    return sorted(word for word in used if not _known(word, known))


def _known(word: str, known: frozenset[str]) -> bool:
    known = known | TRADE | PLAIN
    if word in known:
        return True
    for ending, instead in ENDINGS:
        if word.endswith(ending):
            stem = word.removesuffix(ending)
            doubled = len(stem) > 2 and stem[-1] == stem[-2]  # stopped, getting
            if stem + instead in known or (doubled and stem[:-1] in known):
                return True
    return False


def patients_texts(library: Library) -> list[str]:
    return [text.message for text in texts_of(library)]


def staff_texts(library: Library) -> list[str]:
    devices, materials = library.devices.values(), library.materials.values()
    named: list[Text] = [*(m.name for m in materials), *(o.label for o in library.options.values())]
    named += [warning.title for warning in library.warnings]
    named += [note for material in materials for note in material.notes]
    named += [note for option in library.options.values() for note in option.notes]
    labels = [weight.label for weight in library.weights.values()]
    return [
        *(text.message for text in (*named, *labels)),
        *(device.position for device in devices),
        *(name for device in devices for name in device.also_called),
    ]


def test_every_word_for_patients_is_easy_or_generic(library: Library, easy: frozenset[str]) -> None:
    assert unknown(patients_texts(library), easy) == []


def test_every_word_for_staff_and_every_name_of_a_device_is_easy_or_generic(library: Library, easy: frozenset[str]) -> None:
    assert unknown(staff_texts(library), easy) == []


def test_staff_notes_below_a_material_or_an_option_are_easy_or_generic(checkout: Path, easy: frozenset[str]) -> None:
    paths = [path for kind in ("materials", "options") for path in (checkout / "content" / kind).glob("*.md")]
    notes = [path.read_text(encoding="utf-8").split("---", 2)[2] for path in paths]

    assert len(notes) > 20
    assert unknown(notes, easy) == []


def test_no_word_inside_a_sentence_begins_with_a_capital(library: Library) -> None:
    # A brand is a name and has a capital. The tendon's is Achilles; a slab may have the shape of the letter U.
    capitals = {
        word
        for text in (*patients_texts(library), *staff_texts(library))
        for word in re.findall(r"(?<=[a-z,;] )[A-Z][A-Za-z]*", text)
    }

    assert capitals <= {"Achilles", "U"}


def test_every_file_of_content_and_every_picture_has_a_generic_name(checkout: Path, easy: frozenset[str]) -> None:
    names = [path.stem for folder in ("content", "templates") for path in (checkout / folder).rglob("*.*")]
    words = {word for name in names for word in re.split(r"[^a-z]+", name.lower()) if word}

    assert len(names) > 100
    assert {"raise", "pale-cold", "wet-broken"} <= set(names)  # pictograms
    assert sorted(word for word in words - IN_FILE_NAMES if not _known(word, easy)) == []


def test_an_invented_brand_is_detected(easy: frozenset[str]) -> None:
    assert unknown(["Wrap it in Fixatexo tape.", "Use the sticky velquo straps."], easy) == ["fixatexo", "velquo"]
