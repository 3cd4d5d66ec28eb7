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
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library
from aftercare.library.modules import URGENT, Option, Weight
from aftercare.page.html import SheetRenderer, calls, environment, interpreter, runs, value_html, value_link
from aftercare.page.paper import draft
from aftercare.page.pieces import Pieces
from aftercare.page.times import opening, waits
from aftercare.pictures import device_picture, pictogram
from aftercare.sheet.address import code
from aftercare.sheet.sheet import Condition


@dataclass(frozen=True, slots=True)
class ConditionCodes:
    """How the script on the page names options and weight orders: an option by its bit, a weight order by `w` and its digit."""

    codes: Mapping[str, str]

    @classmethod
    def of(cls, options: Mapping[str, Option], weights: Mapping[str, Weight]) -> ConditionCodes:
        """The codes of a library's options and weight orders."""
        return cls(
            {option.id: str(option.bit) for option in options.values()}
            | {weight.id: f"w{weight.digit}" for weight in weights.values()}
        )

    def list(self, ids: Sequence[str]) -> str:
        """The codes of these ids, a blank between."""
        return " ".join(self.codes[id_] for id_ in ids)

    def when(self, condition: Condition) -> Markup:
        """A condition as data attributes: any of `data-o`, any of `data-w`, none of `data-n`; absent asks nothing."""
        asked = (("o", condition.options), ("w", condition.weights), ("n", condition.without))
        return Markup("").join(Markup(' data-{}="{}"').format(name, self.list(ids)) for name, ids in asked if ids)


def phone_page(
    translated: TranslatedSheet,
    library: Library,
    templates: Path,
    languages: Sequence[Language] = (),
    pieces: Pieces | None = None,
) -> str:
    """The page for everyone who has this device in this material, in one language.

    `translated.sheet` was composed with `everyone`, so each optional passage carries its condition. `languages` are those the
    page leads to; all of the clinic's where none are named. Those in which this sheet waits for a translation must not be.
    `pieces` are those of the other pages of a publication in this language.
    """
    renderer, sheet = SheetRenderer(translated, value_link), translated.sheet
    device, material = sheet.choices.device, sheet.choices.material
    codes = ConditionCodes.of(library.options, library.weights)
    style, script = asset(templates, "page.css"), asset(templates, "page.js")
    name = renderer.plain(sheet.name)
    return (
        environment(templates)
        .get_template("phone/page.html")
        .render(
            sheet=sheet,
            language=translated.language,
            languages=languages or tuple(LANGUAGES[tag] for tag in library.clinic.languages),
            code=code(device.code, material.code),
            edition=translated.edition,
            html=renderer.html,
            label=renderer.label,
            plain=renderer.plain,
            runs=runs,
            reasons=True,
            kept=(pieces or Pieces()).of(translated),
            when=codes.when,
            known_options=codes.list(tuple(library.options)),
            known_weights=codes.list(device.weights),
            waits=waits(library, sheet),
            condition_codes=codes.list,
            words=calendar_words(translated.language),
            zone=library.clinic.time_zone.key,
            hours=opening(library.clinic.hours),
            urgent_tiers=URGENT,
            calls=calls(renderer),
            interpreter=interpreter(renderer),
            draft=draft(renderer),
            clinic_name=value_html(translated.values["clinic_name"]),
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
class DeferredScript:
    """The script that stands beside the pages. `path` is from the root of the site and holds its hash, so that browsers may
    keep it for good and each earlier page finds its own; `integrity` is for the page that loads it.
    """

    path: str
    integrity: str
    text: str


# What a page can do without until it is on the screen, in the order it is read.
DEFERRED = ("kept.js", "check.js", "dates.js", "more.js")


@cache
def more(templates: Path) -> DeferredScript:
    """The script a page loads once it is on the screen."""
    text = "\n".join(asset(templates, name) for name in DEFERRED)
    return DeferredScript(f"more-{hashlib.sha256(text.encode()).hexdigest()[:12]}.js", _hash(text), text)


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
