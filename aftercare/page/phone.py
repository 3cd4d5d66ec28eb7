"""The phone page of a sheet: one static HTML file that is complete without scripts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from aftercare.language.calendar import calendar_words
from aftercare.language.languages import LANGUAGES, Language
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library
from aftercare.library.modules import URGENT, Option, Weight
from aftercare.page.body import Labels, SectionHtml, SignGroupHtml, passage_html, sign_html
from aftercare.page.html import SheetRenderer, calls, draft, interpreter, value_html, value_link
from aftercare.page.phone_assets import PhoneAssets
from aftercare.page.templates import Templates
from aftercare.page.times import Wait, opening_hours_code, waits
from aftercare.pictures import device_picture, inline_pictogram
from aftercare.sheet.address import code
from aftercare.sheet.sheet import Condition, Conditional, FullSheet, Passage, Section, Sign, SignGroup


@dataclass(frozen=True, slots=True)
class ConditionCodes:
    """The codes of options (their bit) and weight orders (`w` and their digit) in the page's script, by id."""

    codes: Mapping[str, str]

    @classmethod
    def of(cls, options: Mapping[str, Option], weights: Mapping[str, Weight]) -> ConditionCodes:
        """Return the codes of a library's options and weight orders."""
        return cls(
            {option.id: str(option.bit) for option in options.values()}
            | {weight.id: f"w{weight.digit}" for weight in weights.values()}
        )

    def list(self, ids: Sequence[str]) -> str:
        """Return the codes of these ids, separated by spaces."""
        return " ".join(self.codes[id_] for id_ in ids)

    def when(self, condition: Condition) -> Markup:
        """Return a condition as attributes for `holds` in page.js: any of `data-o`, any of `data-w`, none of `data-n` is true.

        An empty part of the condition always holds and has no attribute.
        """
        attributes = (("o", condition.options), ("w", condition.weights), ("n", condition.without))
        # Needs no escaping: codes are digits and "w".
        return Markup("".join(f' data-{name}="{self.list(ids)}"' for name, ids in attributes if ids))


@dataclass(frozen=True, slots=True)
class PhoneFrame:
    """The values that all phone pages of a clinic share."""

    library: Library
    templates: Templates
    codes: ConditionCodes
    assets: PhoneAssets
    pictograms: Mapping[str, Markup]  # inline SVG by name, sized by the stylesheet; empty for the name ""

    @classmethod
    def of(cls, library: Library, templates: Templates) -> PhoneFrame:
        """Compute the values for a library and its templates."""
        pictograms = {name: Markup(inline_pictogram(svg, "p")) for name, svg in library.pictograms.items()}
        return cls(
            library=library,
            templates=templates,
            codes=ConditionCodes.of(library.options, library.weights),
            assets=PhoneAssets.of(templates),
            pictograms={"": Markup(""), **pictograms},
        )


def phone_page(translated: TranslatedSheet[FullSheet], frame: PhoneFrame, languages: Sequence[Language] = ()) -> str:
    """Render the page of a device in a material in one language; parts for some patients carry their condition.

    `languages` are those that the page links to, without those that have no translation of this sheet; by default all of the
    clinic's. Raises Refused as `waits` and `SheetRenderer.html` do.
    """
    renderer, sheet, clinic = SheetRenderer(translated, value_link), translated.sheet, frame.library.clinic
    codes, assets = frame.codes, frame.assets
    groups = tuple(_group(renderer, group, frame) for group in sheet.groups)
    name = renderer.plain(sheet.device.name)
    return frame.templates.render(
        "phone/page.html",
        part=frame.templates.part,
        labels=Labels(renderer),
        sheet=sheet,
        title=renderer.html(sheet.title),
        purpose=renderer.html(sheet.purpose),
        urgent=tuple(group for group in groups if group.tier in URGENT),
        later=tuple(group for group in groups if group.tier not in URGENT),
        sections=tuple(_section(renderer, section, frame) for section in sheet.sections),
        language=translated.language,
        languages=languages or tuple(LANGUAGES[tag] for tag in clinic.languages),
        code=code(sheet.device.code, sheet.material.code),
        edition=translated.edition,
        known_options=codes.list(tuple(frame.library.options)),
        known_weights=codes.list(sheet.device.weights),
        waits=tuple(_wait(wait, codes) for wait in waits(frame.library, sheet)),
        words=calendar_words(translated.language),
        event=renderer.plain(sheet.labels["phone_calendar_event"]),
        zone=clinic.time_zone.key,
        hours=opening_hours_code(clinic.hours),
        calls=calls(renderer),
        interpreter=interpreter(renderer),
        draft=draft(renderer),
        clinic_name=value_html(translated.values["clinic_name"]),
        picture=Markup(device_picture(sheet.device, sheet.material, None, name)),
        icons=frame.pictograms,
        style=Markup(assets.style),
        script=Markup(assets.script),
        policy=assets.policy,
        more=assets.deferred,
    )


@dataclass(frozen=True, slots=True)
class WaitHtml:
    """A `Wait` with its condition as attributes; `minutes` since application."""

    name: str
    minutes: int
    attributes: Markup
    whole_days: bool


def _wait(wait: Wait, codes: ConditionCodes) -> WaitHtml:
    return WaitHtml(wait.name, wait.minutes, codes.when(wait.condition), wait.whole_days)


def _group(renderer: SheetRenderer, group: SignGroup[Conditional[Sign]], frame: PhoneFrame) -> SignGroupHtml:
    signs = (
        sign_html(
            renderer,
            entry.item,
            pictogram=frame.pictograms[entry.item.picture],
            attributes=frame.codes.when(entry.condition),
            lead=entry.lead,
        )
        for entry in group.signs
    )
    return SignGroupHtml(group.tier, renderer.html(group.title), tuple(signs))


# Read by check.js, which repeats these passages where the check ends in going for help.
_MEANWHILE = Markup(" data-meanwhile")


def _section(renderer: SheetRenderer, section: Section[Conditional[Passage]], frame: PhoneFrame) -> SectionHtml:
    passages = tuple(
        passage_html(
            renderer,
            entry.item,
            attributes=frame.codes.when(entry.condition) + (_MEANWHILE if entry.item.meanwhile else Markup("")),
            lead=entry.lead,
        )
        for entry in section.passages
    )
    return SectionHtml(section.picture, frame.pictograms[section.picture], renderer.html(section.title), passages)
