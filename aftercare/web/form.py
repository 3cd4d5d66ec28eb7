"""Reads the nurse's form and checks it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from werkzeug.datastructures import MultiDict

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused, nearest
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.page.qr import qr_svg
from aftercare.sheet.choices import Choices
from aftercare.sheet.sheet import PatientSheet
from aftercare.sheet.validate import Picked

# A form with every option ticked is under 2 kB; a larger request is no form of the desk.
MAX_FORM_BYTES = 16_384


@dataclass(frozen=True, slots=True)
class Form:
    """The values of the form as they were sent, right or wrong."""

    picked: Picked
    language: str
    paper: str
    size: str


@dataclass(frozen=True, slots=True)
class CheckedForm:
    """A form with every problem found in it.

    `choices` is None if the choices are wrong or incomplete. `translated` is None, and `address` and `code` are empty, unless
    there is no problem. `address` is that of the phone page, and `code` its QR code as SVG.
    """

    form: Form
    problems: tuple[Problem, ...]
    choices: Choices | None = None
    translated: TranslatedSheet[PatientSheet] | None = None
    address: str = ""
    code: str = ""

    @property
    def ready(self) -> bool:
        """Whether the sheet can be printed."""
        return self.translated is not None

    def problems_while_choosing(self) -> tuple[Problem, ...]:
        """The problems to show before the nurse wants to print: what is wrong, without what is only missing yet."""
        return tuple(problem for problem in self.problems if problem.fault is not Fault.NEEDED)


def empty_form(desk: Desk, now: datetime) -> Form:
    """A new form: put on `now` (an aware moment) in the clinic's time zone, in English, on the clinic's paper."""
    applied = now.astimezone(desk.clinic.time_zone).strftime("%Y-%m-%dT%H:%M")
    return Form(Picked("", applied=applied), SOURCE, desk.clinic.paper, Size.REGULAR)


def read_form(fields: MultiDict[str, str]) -> Form:
    """The posted form; an absent field is empty."""

    def value(name: str) -> str:
        return fields.get(name, "").strip()

    picked = Picked(
        device=value("device"),
        material=value("material"),
        side=value("side"),
        options=tuple(fields.getlist("options")),
        weight=value("weight"),
        applied=value("applied"),
        visit=value("visit"),
        removal=value("removal"),
    )
    return Form(picked, value("language"), value("paper"), value("size"))


def check_form(desk: Desk, form: Form) -> CheckedForm:
    """Checks the whole form; without a problem the result holds the sheet in its language."""
    choices, problems = _check_choices(desk, form.picked)
    problems += _check_word("language", form.language, desk.languages, Fault.UNKNOWN_LANGUAGE)
    problems += _check_word("paper", form.paper, tuple(Paper), Fault.UNKNOWN_NAME)
    problems += _check_word("size", form.size, tuple(Size), Fault.UNKNOWN_NAME)
    if choices is None or problems:
        return CheckedForm(form, tuple(problems), choices)
    try:
        sheet = desk.settle(choices)
    except Refused as refused:
        return CheckedForm(form, refused.problems, choices)
    try:
        translated = desk.translate_sheet(sheet, form.language)
    except Refused as refused:
        in_english = form.language == SOURCE
        problems = [*refused.problems] if in_english else [_language_problem(form.language, refused.problems)]
        return CheckedForm(form, tuple(problems), choices)
    try:
        address = desk.address(translated)
        code = qr_svg(address, f"Code that opens {address}")
    except Refused as refused:
        return CheckedForm(form, refused.problems, choices)
    return CheckedForm(form, (), choices, translated, address, code)


def _check_choices(desk: Desk, picked: Picked) -> tuple[Choices | None, list[Problem]]:
    """The choices, or None, and every problem of them."""
    device = desk.library.devices.get(picked.device)
    if not picked.device:
        return None, [Problem(Fault.NEEDED, "No device was chosen.", advice="Choose what was put on.", field="device")]
    problems: list[Problem] = []
    if device and device.sided and not picked.side:
        problems.append(Problem(Fault.NEEDED, "No side was chosen.", advice="Choose left or right.", field="side"))
    try:
        choices = desk.choose(picked)
    except Refused as refused:
        return None, [*refused.problems, *problems]
    return choices, problems


def _check_word(field: str, word: str, allowed: tuple[str, ...], fault: Fault) -> list[Problem]:
    """The problem of a field whose value is not one of those allowed."""
    if word in allowed:
        return []
    if not word:
        return [Problem(fault, f"No {field} was chosen.", allowed=allowed, field=field)]
    what = f"No {field} is called {{}}."
    return [Problem(fault, what, subject=(word,), allowed=allowed, suggestion=nearest(word, allowed), field=field)]


def waiting_count(problems: Sequence[Problem]) -> str:
    """How many sentences of a sheet have no sound translation, in words."""
    count = len(problems)
    return "1 sentence waits" if count == 1 else f"{count} sentences wait"


def _language_problem(tag: str, problems: Sequence[Problem]) -> Problem:
    """The problem of a language that has no sound translation of the sheet; `problems` has one for each sentence."""
    what = f"This sheet cannot be printed in {LANGUAGES[tag].english_name}: {waiting_count(problems)} for translation."
    return Problem(
        Fault.UNTRANSLATED, what, advice="Print it in English and go through it with an interpreter.", field="language"
    )
