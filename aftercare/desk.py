"""All that is loaded once, and the two main paths: print_sheet and phone_page. Begin reading here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed
from aftercare.files import read_optional
from aftercare.language.approval import Approvals, parse_approvals
from aftercare.language.extraction import wording_edition
from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.messages import Messages, read_messages
from aftercare.language.translate import translate
from aftercare.language.translated import TranslatedSheet
from aftercare.library.catalogue import Library, load_library
from aftercare.library.clinic import Clinic, Paper
from aftercare.library.devices import Device, Material
from aftercare.page.paper import Size, paper_page
from aftercare.page.phone import phone_page
from aftercare.page.press import Press
from aftercare.places import Places, shown
from aftercare.sheet.address import address
from aftercare.sheet.choices import Choices
from aftercare.sheet.compose import compose
from aftercare.sheet.sheet import Sheet
from aftercare.sheet.validate import Picked, choose
from aftercare.site.pages import all_sheets, patient_pages
from aftercare.site.publish import Published, publish
from aftercare.site.site_files import site_files, withdrawn


@dataclass(frozen=True, slots=True)
class Desk:
    """The content, the translations and the press of one clinic."""

    places: Places
    home: Path
    library: Library
    messages: Mapping[str, Messages]
    approvals: Approvals
    press: Press

    @classmethod
    def open(cls, places: Places, home: Path | None = None) -> Desk:
        """Reads everything once; raises Refused with every problem, here and not on the first patient."""
        home = home or places.content
        library = load_library(places, home)
        _refuse_unknown(library.clinic)
        messages = {tag: read_translations(places, home, tag) for tag in LANGUAGES if tag != SOURCE}
        path = home / "approvals.yaml"
        approvals = parse_approvals(read_optional(path) or "", shown(path, places.content))
        approvals = replace(approvals, wording=wording_edition(library))
        return cls(places, home, library, messages, approvals, Press(places.templates))

    @property
    def clinic(self) -> Clinic:
        """The clinic of this desk."""
        return self.library.clinic

    @property
    def languages(self) -> tuple[str, ...]:
        """The tags a sheet can be asked for in: English, which stands in for any other, then what the clinic offers."""
        return tuple(dict.fromkeys((SOURCE, *self.clinic.languages)))

    # ---- the two main paths ----

    def print_sheet(self, choices: Choices, tag: str, paper: Paper, size: Size = Size.REGULAR) -> bytes:
        """The take-home sheet as PDF. Raises Refused rather than print anything unsound.

        A sheet too long with all its reasons is printed with fewer; one still too long is refused.
        """
        translated = self.translate(choices, tag)
        return self.press.sheet(translated, self.address(translated), paper, size).pdf

    def phone_page(self, device: Device, material: Material, tag: str) -> str:
        """The static page behind the QR code, for everyone with this device in this material."""
        translated = self.translate(Choices(device, material, everyone=True), tag)
        return phone_page(translated, self.library, self.places.templates)

    def publish(self, site: Path, *, jobs: int = 1, progress: Callable[[int, int], None] | None = None) -> Published:
        """The phone site as a folder of static files, all or nothing. `jobs` is how many processes make pages."""
        sheets = tuple(all_sheets(self.library, self.say))
        templates = self.places.templates
        pages = tuple(patient_pages(sheets, self.library, templates))
        files = (*pages, *site_files(sheets, pages, templates, self.clinic.phone_site))
        gone = partial(withdrawn, sheets=sheets, templates=templates)
        return publish(files, site, withdrawn=gone, jobs=jobs, progress=progress)

    # ---- their steps ----

    def choose(self, picked: Picked) -> Choices:
        """What was picked, checked."""
        return choose(self.library, picked)

    def translate(self, choices: Choices, tag: str) -> TranslatedSheet:
        """The sheet in a language; refuses with every sentence that is missing or unsound there."""
        return self.say(compose(self.library, choices), tag)

    def say(self, sheet: Sheet, tag: str) -> TranslatedSheet:
        """A composed sheet in a language; refuses as `speak` does."""
        if self.clinic.unset:
            raise Refused(self.clinic.unset)
        return translate(sheet, self.language(tag), self.messages.get(tag), self.clinic, self.approvals)

    def blocked(self, choices: Choices, tag: str) -> tuple[Problem, ...]:
        """Why the sheet cannot be had in a language; empty when it can."""
        try:
            self.translate(choices, tag)
        except Refused as refused:
            return refused.problems
        return ()

    def address(self, translated: TranslatedSheet) -> str:
        """The address behind the QR code of a sheet."""
        return address(self.clinic, translated.sheet.choices, translated.language.tag, translated.edition)

    def paper_html(self, choices: Choices, tag: str, paper: Paper, size: Size = Size.REGULAR) -> str:
        """The page that print_sheet lays out."""
        translated = self.translate(choices, tag)
        return paper_page(translated, self.address(translated), paper, size, self.places.templates)

    # ---- words to things ----

    def device(self, word: str) -> Device:
        """A device by its id. Raises Refused for an unknown one."""
        return self.library.devices[_known("device", word, self.library.devices, Fault.UNKNOWN_DEVICE)]

    def language(self, tag: str) -> Language:
        """English, or another language this clinic offers."""
        if tag not in self.languages:
            what = f"No language '{tag}' is offered here."
            advice = did_you_mean(tag, self.languages) or "Languages are named in the clinic file."
            raise Refused([Problem(Fault.UNKNOWN_LANGUAGE, what, listed(self.languages), advice)])
        return LANGUAGES[tag]

    def paper(self, word: str) -> Paper:
        """A paper by name; the clinic's own where none is given. Raises Refused for an unknown one."""
        return Paper(_known("paper", word, Paper, Fault.UNKNOWN_PAPER)) if word else self.clinic.paper

    def size(self, word: str) -> Size:
        """A text size by name; regular where none is given. Raises Refused for an unknown one."""
        return Size(_known("text size", word, Size, Fault.UNKNOWN_SIZE)) if word else Size.REGULAR


def _known(kind: str, word: str, known: Iterable[str], fault: Fault) -> str:
    """The word. Raises Refused where it is not one of those known."""
    names = tuple(known)
    if word not in names:
        raise Refused([Problem(fault, f"No {kind} is called '{word}'.", listed(names), did_you_mean(word, names))])
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
            f"'languages' says '{tag}', which is no language we print.",
            listed(LANGUAGES),
            did_you_mean(tag, LANGUAGES),
            clinic.where,
        )
        for tag in clinic.languages
        if tag not in LANGUAGES
    ]
    if problems:
        raise Refused(problems)
