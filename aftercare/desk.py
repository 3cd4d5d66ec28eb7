"""Everything that is loaded once, and the main paths: print_sheet, phone_page and publish. Start reading here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, nearest
from aftercare.files import read_optional
from aftercare.language.approval import Approvals, parse_approvals
from aftercare.language.extraction import wording_edition
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import Messages, read_messages
from aftercare.language.translate import SheetT, translate
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library, load_library
from aftercare.library.clinic import Clinic, Paper
from aftercare.library.devices import Device, Material
from aftercare.page.paper import Size, paper_page
from aftercare.page.phone import PhoneFrame, phone_page
from aftercare.page.printer import SheetPrinter
from aftercare.page.stylesheet import pictogram_rules
from aftercare.page.templates import Templates
from aftercare.places import Places, shown
from aftercare.sheet.address import address
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import arrange_all, settle
from aftercare.sheet.sheet import FullSheet, PatientSheet
from aftercare.sheet.validate import Picked, choose
from aftercare.site.pages import in_languages, patient_pages
from aftercare.site.publish import Published, publish
from aftercare.site.site_files import site_files, withdrawn


@dataclass(frozen=True, slots=True)
class Desk:
    """The content, translations, sheets and templates of one clinic, read once, and the printer with its cache of PDFs.

    `home` is the clinic's folder. `sheets` are the full sheets by the ids of device and material, `messages` the translations
    by language tag.
    """

    places: Places
    home: Path
    library: Library
    sheets: Mapping[tuple[str, str], FullSheet]
    messages: Mapping[str, Messages]
    approvals: Approvals
    frame: PhoneFrame
    printer: SheetPrinter

    @classmethod
    def open(cls, places: Places, home: Path | None = None, templates: Templates | None = None) -> Desk:
        """Read everything; `home` is the content folder by default, `templates` are read if not given.

        Raises Refused with the problems of the content files, of the clinic's languages, or of the sheets.
        """
        home = home or places.content
        library = load_library(places, home)
        _refuse_unknown_languages(library.clinic)
        sheets = arrange_all(library)
        messages = {tag: read_translations(places, home, tag) for tag in LANGUAGES if tag != SOURCE}
        path = home / "approvals.yaml"
        approvals = parse_approvals(read_optional(path) or "", shown(path, places.content))
        templates = templates or Templates(places.templates)
        return cls(
            places=places,
            home=home,
            library=library,
            sheets={(sheet.device.id, sheet.material.id): sheet for sheet in sheets},
            messages=messages,
            approvals=replace(approvals, wording=wording_edition(sheets)),
            frame=PhoneFrame.of(library, templates),
            printer=SheetPrinter(templates, pictogram_rules(library)),
        )

    def as_draft(self) -> Desk:
        """Return a desk with nothing approved, for checks: a sheet that fits with its draft marks also fits without them."""
        return replace(self, approvals=Approvals())

    @property
    def clinic(self) -> Clinic:
        """The clinic of the library."""
        return self.library.clinic

    @property
    def languages(self) -> tuple[str, ...]:
        """The tags of the languages of this desk: English, which replaces any other, then those that the clinic offers."""
        return tuple(dict.fromkeys((SOURCE, *self.clinic.languages)))

    # ---- the main paths ----

    def print_sheet(self, choices: Choices, tag: str, paper: Paper, size: Size = Size.REGULAR) -> bytes:
        """Print the take-home sheet as PDF. Raises Refused as `translate` and `SheetPrinter.sheet` do."""
        return self.print_translated(self.translate(choices, tag), paper, size)

    def phone_page(self, device: Device, material: Material, tag: str) -> str:
        """Render the page behind the QR code, for all patients with this device in this material. Raises Refused."""
        return phone_page(self.translate_sheet(self.sheets[device.id, material.id], tag), self.frame)

    def publish(
        self,
        site: Path,
        *,
        progress: Callable[[int, int], None] = lambda _done, _total: None,
        on_wait: Callable[[], None] = lambda: None,
    ) -> Published:
        """Write the phone site into a folder, atomically.

        `progress` is called with the number of rendered pages and of all pages, `on_wait` before waiting for another publisher.
        Raises Refused as `site.publish.publish` does, and where a sheet has problems in English.
        """
        sheets = tuple(in_languages(self.sheets.values(), self.clinic.languages, self.translate_sheet))
        total = sum(len(sheet.translated) for sheet in sheets)
        pages = []
        for page in patient_pages(sheets, self.frame):
            pages.append(page)
            progress(len(pages), total)
        files = (*pages, *site_files(sheets, pages, self.frame))
        published = publish(files, site, withdrawn=partial(withdrawn, sheets=sheets, frame=self.frame), on_wait=on_wait)
        return replace(published, untranslated=Counter(tag for sheet in sheets for tag in sheet.untranslated))

    # ---- their steps ----

    def choose(self, picked: Picked) -> Choices:
        """Validate what was picked. Raises Refused with every problem."""
        return choose(self.library, picked)

    def settle(self, choices: Choices) -> PatientSheet:
        """Return the sheet of one patient, untranslated. Raises Refused for a contradiction or a missing fact."""
        return settle(self.library, self.sheets[choices.device.id, choices.material.id], choices)

    def translate(self, choices: Choices, tag: str) -> TranslatedSheet[PatientSheet]:
        """Compose and translate the sheet of one patient. Raises Refused as `settle` and `translate_sheet` do."""
        return self.translate_sheet(self.settle(choices), tag)

    def translate_sheet(self, sheet: SheetT, tag: str) -> TranslatedSheet[SheetT]:
        """Translate a patient's sheet or a full one.

        Raises Refused for an unset clinic file, an unknown language, and every sentence that is untranslated or unsound.
        """
        if self.clinic.unset:
            raise Refused(self.clinic.unset)
        return translate(sheet, self.language(tag), self.messages.get(tag), self.clinic, self.approvals)

    def print_translated(self, translated: TranslatedSheet[PatientSheet], paper: Paper, size: Size = Size.REGULAR) -> bytes:
        """Print a translated sheet as PDF. Raises Refused as `SheetPrinter.sheet` does."""
        return self.printer.sheet(translated, self.address(translated), paper, size).pdf

    def paper_html(self, translated: TranslatedSheet[PatientSheet], size: Size = Size.REGULAR) -> str:
        """Render the HTML that `print_translated` prints, with all its reasons; the paper is in the stylesheet."""
        return paper_page(translated, self.address(translated), size, self.frame.templates)

    def address(self, translated: TranslatedSheet[PatientSheet]) -> str:
        """Return the address in the QR code of a sheet."""
        return address(self.clinic, translated.sheet.choices, translated.language.tag, translated.edition)

    def language_problems(self, sheet: FullSheet, tag: str) -> tuple[Problem, ...]:
        """Return the problems of a sheet in a language; empty where it can be printed in it."""
        try:
            self.translate_sheet(sheet, tag)
        except Refused as refused:
            return refused.problems
        return ()

    # ---- lookups by name ----

    def device(self, id_: str) -> Device:
        """Return a device by its id. Raises Refused for an unknown one."""
        return self.library.devices[_known("device", id_, self.library.devices, Fault.UNKNOWN_DEVICE)]

    def language(self, tag: str) -> Language:
        """Return a language of this desk by its tag. Raises Refused for any other."""
        if tag not in self.languages:
            raise Refused.one(
                Fault.UNKNOWN_LANGUAGE,
                "No language {} is offered here.",
                subject=(tag,),
                allowed=self.languages,
                suggestion=nearest(tag, self.languages),
                advice="Languages are named in the clinic file.",
            )
        return LANGUAGES[tag]

    def paper(self, name: str) -> Paper:
        """Return a paper by name, the clinic's for "". Raises Refused for an unknown one."""
        return Paper(_known("paper", name, Paper, Fault.UNKNOWN_NAME)) if name else self.clinic.paper

    def size(self, name: str) -> Size:
        """Return a text size by name, regular for "". Raises Refused for an unknown one."""
        return Size(_known("text size", name, Size, Fault.UNKNOWN_NAME)) if name else Size.REGULAR


def _known(kind: str, name: str, known: Iterable[str], fault: Fault) -> str:
    """Return `name`. Raises Refused where it is not one of `known`."""
    names = tuple(known)
    if name not in names:
        what = f"No {kind} is called {{}}."
        raise Refused.one(fault, what, subject=(name,), allowed=names, suggestion=nearest(name, names))
    return name


def read_translations(places: Places, home: Path, tag: str) -> Messages:
    """Read the program's translations into a language, with the clinic's own translations in their place where it has any.

    Raises Refused for a file that cannot be read; other problems are in `Messages.problems`.
    """
    path, clinic_path = places.translations / f"{tag}.po", home / "translations" / f"{tag}.po"
    messages = read_messages(read_optional(path) or "", shown(path, places.content))
    clinic_text = read_optional(clinic_path)
    if clinic_text is None:
        return messages
    return messages.overridden_by(read_messages(clinic_text, shown(clinic_path, places.content)))


def _refuse_unknown_languages(clinic: Clinic) -> None:
    """Raise Refused for the languages in the clinic file that this program does not have."""
    problems = [
        Problem(
            Fault.UNKNOWN_LANGUAGE,
            "{} says {}, which is no language of this program.",
            subject=("languages", tag),
            allowed=tuple(LANGUAGES),
            suggestion=nearest(tag, LANGUAGES),
            where=clinic.where,
        )
        for tag in clinic.languages
        if tag not in LANGUAGES
    ]
    if problems:
        raise Refused(problems)
