"""The phone face: one static HTML file with everything inside it, complete without scripts."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from markupsafe import Markup

from aftercare.language.calendar import calendar_words
from aftercare.language.languages import LANGUAGES, Language
from aftercare.language.spoken import SpokenSheet
from aftercare.library.catalogue import Library
from aftercare.library.modules import URGENT, Option, Weight
from aftercare.page.html import Speaker, calls, environment, interpreter, runs, value_html, value_link
from aftercare.page.paper import draft
from aftercare.page.pictures import device_picture, pictogram
from aftercare.page.pieces import Pieces
from aftercare.page.times import opening, waits
from aftercare.sheet.address import code
from aftercare.sheet.sheet import Condition


@dataclass(frozen=True, slots=True)
class Marks:
    """How the script on the page names options and weight orders: an option by its bit, a weight order by `w` and its digit."""

    marks: Mapping[str, str]

    @classmethod
    def of(cls, options: Mapping[str, Option], weights: Mapping[str, Weight]) -> Marks:
        """The marks of a library's options and weight orders."""
        return cls(
            {option.id: str(option.bit) for option in options.values()}
            | {weight.id: f"w{weight.digit}" for weight in weights.values()}
        )

    def list(self, ids: Sequence[str]) -> str:
        """The marks of these ids, a blank between."""
        return " ".join(self.marks[id_] for id_ in ids)

    def when(self, condition: Condition) -> Markup:
        """A condition as data attributes: any of `data-o`, any of `data-w`, none of `data-n`; absent asks nothing."""
        asked = (("o", condition.options), ("w", condition.weights), ("n", condition.without))
        return Markup("").join(Markup(' data-{}="{}"').format(name, self.list(ids)) for name, ids in asked if ids)


def phone_page(
    spoken: SpokenSheet, library: Library, templates: Path, languages: Sequence[Language] = (), pieces: Pieces | None = None
) -> str:
    """The page for everyone who has this device in this material, in one language.

    `spoken.sheet` was composed with `everyone`, so each optional passage carries its condition. `languages` are those the
    page leads to; all of the clinic's where none are named. Those in which this sheet waits for a translation must not be.
    `pieces` are those of the other pages of a publication in this language.
    """
    speaker, sheet = Speaker(spoken, value_link), spoken.sheet
    device, material = sheet.choices.device, sheet.choices.material
    marks = Marks.of(library.options, library.weights)
    style, script = asset(templates, "page.css"), asset(templates, "page.js")
    name = speaker.plain(sheet.name)
    return (
        environment(templates)
        .get_template("phone/page.html")
        .render(
            sheet=sheet,
            language=spoken.language,
            languages=languages or tuple(LANGUAGES[tag] for tag in library.clinic.languages),
            code=code(device.code, material.code),
            edition=spoken.edition,
            say=speaker.say,
            label=speaker.label,
            plain=speaker.plain,
            runs=runs,
            reasons=True,
            kept=(pieces or Pieces()).of(spoken),
            when=marks.when,
            known_options=marks.list(tuple(library.options)),
            known_weights=marks.list(device.weights),
            waits=waits(library, sheet),
            marks=marks.list,
            words=calendar_words(spoken.language),
            zone=library.clinic.time_zone.key,
            hours=opening(library.clinic.hours),
            urgent_tiers=URGENT,
            calls=calls(speaker),
            interpreter=interpreter(speaker),
            draft=draft(speaker),
            clinic_name=value_html(spoken.values["clinic_name"]),
            picture=Markup(device_picture(device, material, None, name)),
            pictogram=inline_pictogram,
            style=Markup(style),
            script=Markup(script),
            policy=policy(style, script),
            more=more(templates),
        )
    )


@cache
def inline_pictogram(name: str) -> Markup:
    """A pictogram in the page itself, its strokes left to the stylesheet, which says them once; nothing for no name."""
    return Markup(_OPENING.sub(r'<svg class="p"\1 aria-hidden="true">', pictogram(name))) if name else Markup("")


_OPENING = re.compile(r"<svg [^>]*?( viewBox=\"[^\"]*\")[^>]*>")


@cache
def asset(templates: Path, name: str) -> str:
    """The style or script of every phone page, without comments and indentation: readable here, light on the phone."""
    text = (templates / "phone" / name).read_text(encoding="utf-8")
    if name.endswith(".css"):
        text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
        return re.sub(r"\s*([{};,>])\s*|(:)\s+", r"\1\2", re.sub(r"\s+", " ", text)).replace(";}", "}").strip()
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def policy(style: str, script: str) -> str:
    """The content security policy: our own style and inline script by hash, our own files beside them, nothing else."""
    return (
        f"default-src 'none'; style-src '{_hash(style)}'; script-src 'self' '{_hash(script)}'; img-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
    )


@dataclass(frozen=True, slots=True)
class Beside:
    """The script that stands beside the pages. `path` is from the root of the site and holds its hash, so that browsers may
    keep it for good and each earlier page finds its own; `integrity` is for the page that loads it.
    """

    path: str
    integrity: str
    text: str


# What a page can do without until it is on the screen, in the order it is read.
BESIDE = ("kept.js", "check.js", "dates.js", "more.js")


@cache
def more(templates: Path) -> Beside:
    """The script a page loads once it is on the screen."""
    text = "\n".join(asset(templates, name) for name in BESIDE)
    return Beside(f"more-{hashlib.sha256(text.encode()).hexdigest()[:12]}.js", _hash(text), text)


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
