"""All that is loaded once, and the two main paths: print_sheet and phone_page. Begin reading here."""

from __future__ import annotations

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
    """The content, translations, sheets and templates of one clinic, all read once, and the printer that keeps finished sheets.

    `sheets` are the full sheets by the ids of their device and material.
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
        """Reads everything once; raises Refused with every problem, here and not on the first patient.

        `templates`, where they have been read already, are used instead of reading them again.
        """
        home = home or places.content
        library = load_library(places, home)
        _refuse_unknown(library.clinic)
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
        """The same desk with nothing approved. A sheet that fits with its draft marks still fits when they go."""
        return replace(self, approvals=Approvals())

    @property
    def clinic(self) -> Clinic:
        """The clinic of this desk."""
        return self.library.clinic

    @property
    def languages(self) -> tuple[str, ...]:
        """The tags a sheet can be asked for in: English, which stands in for any other, then what the clinic offers."""
        return tuple(dict.fromkeys((SOURCE, *self.clinic.languages)))

    # ---- the main paths ----

    def print_sheet(self, choices: Choices, tag: str, paper: Paper, size: Size = Size.REGULAR) -> bytes:
        """The take-home sheet as PDF. Raises Refused rather than print anything unsound.

        A sheet too long with all its reasons is printed with fewer; one still too long is refused.
        """
        return self.print_translated(self.translate(choices, tag), paper, size)

    def phone_page(self, device: Device, material: Material, tag: str) -> str:
        """The static page behind the QR code, for everyone with this device in this material."""
        return phone_page(self.translate_full(self.sheets[device.id, material.id], tag), self.frame)

    def publish(
        self,
        site: Path,
        *,
        progress: Callable[[int, int], None] = lambda _done, _total: None,
        waiting: Callable[[], None] = lambda: None,
    ) -> Published:
        """The phone site as a folder of static files, all or nothing.

        `progress` is called with how many pages of how many are rendered, `waiting` where another publisher holds the folder.
        """
        sheets = tuple(in_languages(self.sheets.values(), self.clinic.languages, self.translate_full))
        total = sum(len(sheet.translated) for sheet in sheets)
        pages = []
        for page in patient_pages(sheets, self.frame):
            pages.append(page)
            progress(len(pages), total)
        files = (*pages, *site_files(sheets, pages, self.frame))
        return publish(files, site, withdrawn=partial(withdrawn, sheets=sheets, frame=self.frame), waiting=waiting)

    # ---- their steps ----

    def choose(self, picked: Picked) -> Choices:
        """What was picked, checked."""
        return choose(self.library, picked)

    def settle(self, choices: Choices) -> PatientSheet:
        """The sheet of one patient, in no language yet. Raises Refused for a contradiction or a fact that is missing."""
        return settle(self.library, self.sheets[choices.device.id, choices.material.id], choices)

    def translate(self, choices: Choices, tag: str) -> TranslatedSheet[PatientSheet]:
        """The sheet of one patient in a language; refuses with every sentence that is missing or unsound there."""
        return self.translate_patient(self.settle(choices), tag)

    def translate_patient(self, sheet: PatientSheet, tag: str) -> TranslatedSheet[PatientSheet]:
        """A patient's sheet in a language; refuses as `translate` does."""
        return self._translate(sheet, tag)

    def translate_full(self, sheet: FullSheet, tag: str) -> TranslatedSheet[FullSheet]:
        """A full sheet in a language; refuses as `translate` does."""
        return self._translate(sheet, tag)

    def _translate(self, sheet: SheetT, tag: str) -> TranslatedSheet[SheetT]:
        if self.clinic.unset:
            raise Refused(self.clinic.unset)
        return translate(sheet, self.language(tag), self.messages.get(tag), self.clinic, self.approvals)

    def print_translated(self, translated: TranslatedSheet[PatientSheet], paper: Paper, size: Size = Size.REGULAR) -> bytes:
        """The PDF of a sheet that has been translated. Raises Refused as `print_sheet` does."""
        return self.printer.sheet(translated, self.address(translated), paper, size).pdf

    def paper_html(self, translated: TranslatedSheet[PatientSheet], size: Size = Size.REGULAR) -> str:
        """The page that `print_translated` lays out, with all its reasons; its stylesheet knows the paper."""
        return paper_page(translated, self.address(translated), size, self.frame.templates)

    def address(self, translated: TranslatedSheet[PatientSheet]) -> str:
        """The address behind the QR code of a sheet."""
        return address(self.clinic, translated.sheet.choices, translated.language.tag, translated.edition)

    def language_problems(self, sheet: FullSheet, tag: str) -> tuple[Problem, ...]:
        """Why a sheet cannot be had in a language; empty when it can."""
        try:
            self.translate_full(sheet, tag)
        except Refused as refused:
            return refused.problems
        return ()

    # ---- words to things ----

    def device(self, word: str) -> Device:
        """A device by its id. Raises Refused for an unknown one."""
        return self.library.devices[_known("device", word, self.library.devices, Fault.UNKNOWN_DEVICE)]

    def language(self, tag: str) -> Language:
        """English, or another language this clinic offers."""
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

    def paper(self, word: str) -> Paper:
        """A paper by name; the clinic's own where none is given. Raises Refused for an unknown one."""
        return Paper(_known("paper", word, Paper, Fault.UNKNOWN_NAME)) if word else self.clinic.paper

    def size(self, word: str) -> Size:
        """A text size by name; regular where none is given. Raises Refused for an unknown one."""
        return Size(_known("text size", word, Size, Fault.UNKNOWN_NAME)) if word else Size.REGULAR


def _known(kind: str, word: str, known: Iterable[str], fault: Fault) -> str:
    """The word. Raises Refused where it is not one of those known."""
    names = tuple(known)
    if word not in names:
        what = f"No {kind} is called {{}}."
        raise Refused.one(fault, what, subject=(word,), allowed=names, suggestion=nearest(word, names))
    return word


def read_translations(places: Places, home: Path, tag: str) -> Messages:
    """The program's translations with the clinic's own after them, for sentences the clinic wrote itself."""
    path, own = places.translations / f"{tag}.po", home / "translations" / f"{tag}.po"
    messages = read_messages(read_optional(path) or "", shown(path, places.content))
    added = read_optional(own)
    return messages if added is None else messages.under(read_messages(added, shown(own, places.content)))


def _refuse_unknown(clinic: Clinic) -> None:
    """Raises Refused for a language in the clinic file that no sheet can be printed in."""
    problems = [
        Problem(
            Fault.UNKNOWN_LANGUAGE,
            "{} says {}, which is no language we print.",
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
