"""The values of the desk's page for a form: what can be chosen, what is chosen, and the problems of each field."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from aftercare.desk import Desk
from aftercare.errors import Problem
from aftercare.language.languages import LANGUAGES, SOURCE, Direction
from aftercare.library.clinic import Paper
from aftercare.library.devices import Device, Family, Material, Removal
from aftercare.library.modules import Option
from aftercare.page.paper import Size
from aftercare.sheet.choices import Side
from aftercare.sheet.validate import Picked, options_for, weights_for
from aftercare.web.cards import Card, Group
from aftercare.web.form import CheckedForm, Form, waiting_count
from aftercare.web.problems import ShownProblem, desk_names, shown_problems
from aftercare.web.staff_text import staff_text

PAPERS = {Paper.LETTER: "Letter", Paper.A4: "A4"}
SIZES = {Size.REGULAR: "Regular", Size.LARGE: "Large print"}


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice of a field. `note` says what is known about it with this form; only an `enabled` one can be chosen."""

    value: str
    label: str
    chosen: bool
    note: str = ""
    enabled: bool = True
    lang: str = "en"
    direction: Direction = Direction.LTR


class Screen:
    """The values that the templates use, most of them computed on use.

    `problems` are those to show. `show_summary` lists them at the top as well; not while the nurse is choosing, when the
    page would jump. `reload_problems` say why the clinic's latest edit is not in use.
    """

    def __init__(
        self,
        desk: Desk,
        checked: CheckedForm,
        *,
        problems: tuple[Problem, ...],
        groups: tuple[Group, ...],
        show_summary: bool,
        reload_problems: tuple[Problem, ...],
    ) -> None:
        self._desk, self._checked, self.reload_problems = desk, checked, reload_problems
        self.groups, self.show_summary = groups, show_summary
        self.form: Form = checked.form
        self.ready: bool = checked.ready
        self.address: str = checked.address
        self.code: str = checked.code
        self.clinic = desk.clinic
        self.device: Device | None = desk.library.devices.get(checked.form.picked.device)
        self._material: Material | None = desk.library.materials.get(self._material_id)
        self._names = desk_names(desk.library)
        self.problems = shown_problems(sorted(problems, key=_field_order), self._names)

    @property
    def _picked(self) -> Picked:
        return self.form.picked

    @property
    def _material_id(self) -> str:
        if self.device and not self._picked.material and len(self.device.materials) == 1:
            return self.device.materials[0]
        return self._picked.material

    def problems_of(self, field: str) -> tuple[ShownProblem, ...]:
        """The problems to show beside a field."""
        return tuple(problem for problem in self.problems if problem.field == field)

    @cached_property
    def card(self) -> Card | None:
        """The card of the chosen device."""
        return next((card for group in self.groups for card in group.cards if card.id == self._picked.device), None)

    @property
    def materials(self) -> tuple[Choice, ...]:
        """The materials this device is made in; a single one counts as chosen."""
        known = self._desk.library.materials
        ids = self.device.materials if self.device else ()
        return tuple(Choice(id_, known[id_].name.message, id_ == self._material_id) for id_ in ids)

    @property
    def sides(self) -> tuple[Choice, ...]:
        """Left and right, if the device has a side."""
        if not self.device or not self.device.sided:
            return ()
        return tuple(Choice(side, side.value.capitalize(), side == self._picked.side) for side in Side)

    @property
    def weights(self) -> tuple[Choice, ...]:
        """The weight orders that can apply; none is chosen until the nurse chooses one."""
        if not self.device:
            return ()
        weights = weights_for(self._desk.library, self.device)
        return tuple(Choice(weight.id, weight.label.message, weight.id == self._picked.weight) for weight in weights)

    @property
    def options(self) -> tuple[Choice, ...]:
        """The options that can apply (in any material while none is chosen), and any other that is ticked, to untick it."""
        if not self.device:
            return ()
        known = self._desk.library.materials
        materials = (self._material,) if self._material else (known[id_] for id_ in self.device.materials)
        possible = {option.id for material in materials for option in options_for(self._desk.library, self.device, material)}
        return tuple(
            Choice(option.id, option.label.message, option.id in self._picked.options, self._note(option))
            for option in self._desk.library.options.values()
            if option.id in possible or option.id in self._picked.options
        )

    def _note(self, option: Option) -> str:
        """What an option cannot be combined with; for a ticked one also what staff should know of it."""
        notes = map(staff_text, option.notes) if option.id in self._picked.options else ()
        return " ".join(filter(None, (self._conflict_note(option), *notes)))

    def _conflict_note(self, option: Option) -> str:
        """Which of the choices an option cannot be combined with; "" if there is none."""
        chosen = {*self._picked.options, self._picked.weight} - {option.id, ""}
        options = self._desk.library.options
        conflicting = [
            id_ for id_ in chosen if id_ in option.conflicts or (id_ in options and option.id in options[id_].conflicts)
        ]
        names = " or ".join(f"“{self._names[id_]}”" for id_ in sorted(conflicting))
        return f"Not together with {names}." if names else ""

    @cached_property
    def languages(self) -> tuple[Choice, ...]:
        """The clinic's languages. One that lacks sentences of this sheet says how many, and is not enabled."""
        choices = []
        for tag in self._desk.languages:
            language, problems = LANGUAGES[tag], self._language_problems.get(tag, ())
            note = waiting_count(problems) if problems else ""
            chosen = tag == self.form.language
            choices.append(Choice(tag, language.own_name, chosen, note, not problems or chosen, tag, language.direction))
        return tuple(choices)

    @property
    def blocked_languages(self) -> tuple[tuple[str, tuple[ShownProblem, ...]], ...]:
        """Each language that lacks sentences of this sheet, by its English name, with a problem for each sentence."""
        return tuple(
            (LANGUAGES[tag].english_name, shown_problems(problems, {})) for tag, problems in self._language_problems.items()
        )

    @cached_property
    def _language_problems(self) -> dict[str, tuple[Problem, ...]]:
        """Why a sheet for the device and material cannot be had in a language; only languages with a problem."""
        if not self.device or not self._material or self._material.id not in self.device.materials:
            return {}
        full = self._desk.sheets[self.device.id, self._material.id]
        sound = {SOURCE, *([self.form.language] if self._checked.translated else [])}
        problems = {tag: self._desk.language_problems(full, tag) for tag in self._desk.languages if tag not in sound}
        return {tag: of_tag for tag, of_tag in problems.items() if of_tag}

    @property
    def hidden_fields(self) -> tuple[tuple[str, str], ...]:
        """Names and values of the fields that are not shown before a device is chosen, so that they are sent again."""
        form, picked = self.form, self._picked
        dates = (("applied", picked.applied), ("visit", picked.visit), ("removal", picked.removal))
        return (*dates, ("language", form.language), ("paper", form.paper), ("size", form.size))

    @property
    def papers(self) -> tuple[Choice, ...]:
        """Letter and A4."""
        return tuple(Choice(paper, label, paper == self.form.paper) for paper, label in PAPERS.items())

    @property
    def sizes(self) -> tuple[Choice, ...]:
        """Regular and large print."""
        return tuple(Choice(size, label, size == self.form.size) for size, label in SIZES.items())

    @property
    def draft_notices(self) -> tuple[str, ...]:
        """A sentence for each part of the sheet that is not approved."""
        translated = self._checked.translated
        sentences = []
        if translated.draft_wording if translated else not self.clinic.approved_edition:
            sentences.append("The clinic has not approved this wording yet.")
        if translated and translated.draft_language:
            sentences.append(f"No qualified person has approved the {translated.language.english_name} translation yet.")
        return tuple(sentences)

    @property
    def asks_removal(self) -> bool:
        """Whether to ask for a day to take it off at home: only if it may come off at home, or unrolls, or a day was given."""
        if self._picked.removal:
            return True
        unrolls = self._material is not None and self._material.family is Family.SEMI_RIGID
        return unrolls or (self.device is not None and self.device.removal is not Removal.NEVER)

    @property
    def visit_hint(self) -> str:
        """When the next visit should be: by the ticked options, else what is usual for the device; "" if neither is known."""
        days = self.device.first_visit_days if self.device else None
        return self._early_visit_hint or (f"Usually after {days[0]} to {days[1]} days." if days else "")

    @property
    def _early_visit_hint(self) -> str:
        schedule = self._checked.translated.sheet.schedule if self._checked.translated else None
        if not schedule or not schedule.visit_early or not schedule.early_from or not schedule.early_until:
            return ""
        return f"What is ticked asks for a look between {_moment(schedule.early_from)} and {_moment(schedule.early_until)}."


# The fields in the order of the page; problems that are about no field come first.
_FIELDS = ("", "device", "material", "side", "weight", "options", "applied", "visit", "removal", "language", "paper", "size")


def _field_order(problem: Problem) -> int:
    return _FIELDS.index(problem.field) if problem.field in _FIELDS else 0


def _moment(when: datetime) -> str:
    """A day and time for staff, such as "Fri Nov 27, 14:30"."""
    return f"{when:%a %b} {when.day}, {when:%H:%M}"
