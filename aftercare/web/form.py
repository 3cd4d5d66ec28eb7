"""What the nurse's form says, and whether a sheet can be made of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from werkzeug.datastructures import MultiDict

from aftercare.desk import Desk
from aftercare.errors import Fault, Problem, Refused, did_you_mean, listed
from aftercare.language.languages import LANGUAGES, SOURCE
from aftercare.language.translated import TranslatedSheet
from aftercare.library.clinic import Paper
from aftercare.page.paper import Size
from aftercare.page.qr import qr_svg
from aftercare.sheet.choices import Choices
from aftercare.sheet.validate import Picked


@dataclass(frozen=True, slots=True)
class Form:
    """The form's words as they came; kept as they are whatever is wrong with them."""

    picked: Picked
    language: str
    paper: str
    size: str


@dataclass(frozen=True, slots=True)
class CheckedForm:
    """A form with every problem found in it.

    `choices` and `translated` are None until all is well with them; `address`, of the phone page, and `code`, the QR code of
    it as SVG, are empty as long.
    """

    form: Form
    problems: tuple[Problem, ...]
    choices: Choices | None = None
    translated: TranslatedSheet | None = None
    address: str = ""
    code: str = ""

    @property
    def ready(self) -> bool:
        """Whether a sheet can be printed."""
        return not self.problems

    def worth_saying(self) -> tuple[Problem, ...]:
        """The problems to show while the nurse is still choosing: what is wrong, but not what is only missing yet."""
        return tuple(problem for problem in self.problems if problem.fault is not Fault.NEEDED)


def empty_form(desk: Desk, now: datetime) -> Form:
    """A new form: put on just now by the clinic's own clock, in English, on the clinic's paper."""
    applied = now.astimezone(desk.clinic.time_zone).strftime("%Y-%m-%dT%H:%M")
    return Form(Picked("", applied=applied), SOURCE, desk.clinic.paper, Size.REGULAR)


def read_form(fields: MultiDict[str, str]) -> Form:
    """The posted form; what is absent is empty."""

    def one(name: str) -> str:
        return fields.get(name, "").strip()

    picked = Picked(
        device=one("device"),
        material=one("material"),
        side=one("side"),
        options=tuple(fields.getlist("options")),
        weight=one("weight"),
        applied=one("applied"),
        visit=one("visit"),
        removal=one("removal"),
    )
    return Form(picked, one("language"), one("paper"), one("size"))


def check_form(desk: Desk, form: Form) -> CheckedForm:
    """Every problem of the form; and where there is none, the choices and the sheet in its language."""
    choices, problems = _choices(desk, form.picked)
    problems += _one_of("language", form.language, desk.languages, Fault.UNKNOWN_LANGUAGE)
    problems += _one_of("paper", form.paper, tuple(Paper), Fault.UNKNOWN_PAPER)
    problems += _one_of("size", form.size, tuple(Size), Fault.UNKNOWN_SIZE)
    if choices is None or problems:
        return CheckedForm(form, tuple(problems), choices)
    if form.language != SOURCE and (blocked := desk.blocked(choices, form.language)):
        return CheckedForm(form, (_blocked(form.language, blocked),), choices)
    try:
        translated = desk.translate(choices, form.language)
        address = desk.address(translated)
        code = qr_svg(address, f"Code that opens {address}")
    except Refused as refused:
        return CheckedForm(form, refused.problems, choices)
    return CheckedForm(form, (), choices, translated, address, code)


def _choices(desk: Desk, picked: Picked) -> tuple[Choices | None, list[Problem]]:
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


def _one_of(field: str, word: str, allowed: tuple[str, ...], fault: Fault) -> list[Problem]:
    if word in allowed:
        return []
    what = f"No {field} is called '{word}'." if word else f"No {field} was chosen."
    return [Problem(fault, what, listed(allowed), did_you_mean(word, allowed), field=field)]


def waiting(problems: Sequence[Problem]) -> str:
    """How much keeps a sheet from a language."""
    count = len(problems)
    return "1 sentence waits" if count == 1 else f"{count} sentences wait"


def _blocked(tag: str, problems: Sequence[Problem]) -> Problem:
    what = f"This sheet cannot be printed in {LANGUAGES[tag].english_name}: {waiting(problems)} for translation."
    return Problem(
        Fault.UNTRANSLATED, what, advice="Print it in English and go through it with an interpreter.", field="language"
    )
