"""What the desk's screen shows for a form: what can be chosen, what is chosen, and what is wrong where."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from aftercare.desk import Desk
from aftercare.errors import Problem, Refused
from aftercare.language.languages import LANGUAGES, SOURCE, Direction
from aftercare.library.clinic import Paper
from aftercare.library.devices import Device, Family, Material, Removal
from aftercare.library.modules import Option
from aftercare.page.paper import Size
from aftercare.sheet.choices import Choices, Side
from aftercare.sheet.validate import Picked, options_for, weights_for
from aftercare.web.cards import Card, Group
from aftercare.web.form import CheckedForm, Form, waiting
from aftercare.web.wording import in_words, names

PAPERS = {Paper.LETTER: "Letter", Paper.A4: "A4"}
SIZES = {Size.REGULAR: "Regular", Size.LARGE: "Large print"}


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose, with what there is to know about it now. A choice that is not `open` cannot be made."""

    value: str
    label: str
    chosen: bool
    note: str = ""
    open: bool = True
    lang: str = "en"
    direction: Direction = Direction.LTR


class Screen:
    """The values the templates ask for, each worked out when asked.

    `said` are the problems to show; where the nurse is still choosing, what is only missing yet is not among them.
    `summary` says whether they are also listed at the top: not in the middle of choosing, where the page would jump.
    `unread` says why the clinic's latest edit is not in use.
    """

    def __init__(
        self,
        desk: Desk,
        checked: CheckedForm,
        *,
        said: tuple[Problem, ...],
        groups: tuple[Group, ...],
        summary: bool,
        unread: tuple[Problem, ...],
    ) -> None:
        self._desk, self._checked, self.unread = desk, checked, unread
        self.groups, self.summary = groups, summary
        self.form: Form = checked.form
        self.ready: bool = checked.ready
        self.address: str = checked.address
        self.code: str = checked.code
        self.clinic = desk.clinic
        self.device: Device | None = desk.library.devices.get(checked.form.picked.device)
        self._material: Material | None = desk.library.materials.get(self._material_id)
        self._names = names(desk.library)
        self.problems: tuple[Problem, ...] = tuple(in_words(problem, self._names) for problem in sorted(said, key=_place))

    @property
    def _picked(self) -> Picked:
        return self.form.picked

    @property
    def _material_id(self) -> str:
        if self.device and not self._picked.material and len(self.device.materials) == 1:
            return self.device.materials[0]
        return self._picked.material

    def about(self, field: str) -> tuple[Problem, ...]:
        """The problems to show beside a field; "" for those that belong to none."""
        return tuple(problem for problem in self.problems if problem.field == field)

    @cached_property
    def card(self) -> Card | None:
        """The chosen device."""
        return next((card for group in self.groups for card in group.cards if card.id == self._picked.device), None)

    @property
    def materials(self) -> tuple[Choice, ...]:
        """Only those this device is made in; the only one counts as chosen."""
        known = self._desk.library.materials
        ids = self.device.materials if self.device else ()
        return tuple(Choice(id_, known[id_].name.message, id_ == self._material_id) for id_ in ids)

    @property
    def sides(self) -> tuple[Choice, ...]:
        """Left and right, where the device has a side."""
        if not self.device or not self.device.sided:
            return ()
        return tuple(Choice(side, side.value.capitalize(), side == self._picked.side) for side in Side)

    @property
    def weights(self) -> tuple[Choice, ...]:
        """The weight orders that can apply, none chosen beforehand."""
        if not self.device:
            return ()
        found = weights_for(self._desk.library, self.device)
        return tuple(Choice(weight.id, weight.label.message, weight.id == self._picked.weight) for weight in found)

    @property
    def options(self) -> tuple[Choice, ...]:
        """The options that can apply (in any material while none is chosen), and any other that was ticked, to untick it."""
        if not self.device:
            return ()
        known = self._desk.library.materials
        materials = (self._material,) if self._material else (known[id_] for id_ in self.device.materials)
        possible = {option.id for material in materials for option in options_for(self._desk.library, self.device, material)}
        return tuple(
            Choice(option.id, option.label.message, option.id in self._picked.options, self._against(option))
            for option in self._desk.library.options.values()
            if option.id in possible or option.id in self._picked.options
        )

    def _against(self, option: Option) -> str:
        """Why an option should not be ticked now."""
        chosen = {*self._picked.options, self._picked.weight} - {option.id, ""}
        options = self._desk.library.options
        against = [id_ for id_ in chosen if id_ in option.conflicts or (id_ in options and option.id in options[id_].conflicts)]
        return f"Not together with {' or '.join(f'“{self._names[id_]}”' for id_ in sorted(against))}." if against else ""

    @cached_property
    def languages(self) -> tuple[Choice, ...]:
        """What the clinic offers; a language some sentences of this sheet wait for says how many, and is closed."""
        found = []
        for tag in self._desk.languages:
            language = LANGUAGES[tag]
            blocked = self._desk.blocked(self._trial, tag) if self._trial and tag != SOURCE else ()
            note = waiting(blocked) if blocked else ""
            chosen = tag == self.form.language
            found.append(Choice(tag, language.own_name, chosen, note, not blocked or chosen, tag, language.direction))
        return tuple(found)

    @cached_property
    def waiting(self) -> tuple[tuple[str, tuple[Problem, ...]], ...]:
        """Each blocked language by its English name, with the sentences that wait."""
        if not self._trial:
            return ()
        return tuple(
            (LANGUAGES[choice.value].english_name, self._desk.blocked(self._trial, choice.value))
            for choice in self.languages
            if choice.note
        )

    @cached_property
    def _trial(self) -> Choices | None:
        """The choices, or as much of them as tells which sentences the sheet will hold."""
        if self._checked.choices:
            return self._checked.choices
        if not self.device or not self._material:
            return None
        weight = self._picked.weight or next(iter(self.device.weights), "")
        try:
            return self._desk.choose(Picked(self.device.id, self._material.id, options=self._picked.options, weight=weight))
        except Refused:
            return None  # what is wrong is said beside its field

    @property
    def kept(self) -> tuple[tuple[str, str], ...]:
        """The fields that no device needs, by name, for a form that has no device yet."""
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
    def drafts(self) -> tuple[str, ...]:
        """What nobody has approved yet, as sentences."""
        translated = self._checked.translated
        sentences = []
        if translated.draft_wording if translated else not self.clinic.approved_edition:
            sentences.append("The clinic has not approved this wording yet.")
        if translated and translated.draft_language:
            sentences.append(f"No qualified person has approved the {translated.language.english_name} translation yet.")
        return tuple(sentences)

    @property
    def takes_removal(self) -> bool:
        """Whether a day to take it off at home can be given: only what may come off at home, or unrolls, has one."""
        if self._picked.removal:
            return True
        unrolls = self._material is not None and self._material.family is Family.SEMI_RIGID
        return unrolls or (self.device is not None and self.device.removal is not Removal.NEVER)

    @property
    def visit_hint(self) -> str:
        """What is known of the next visit: what the ticked options ask, else what is usual."""
        days = self.device.first_visit_days if self.device else None
        return self._early_visit or (f"Usually after {days[0]} to {days[1]} days." if days else "")

    @property
    def _early_visit(self) -> str:
        schedule = self._checked.translated.sheet.schedule if self._checked.translated else None
        if not schedule or not schedule.visit_early or not schedule.early_from or not schedule.early_until:
            return ""
        return f"What is ticked asks for a look between {_moment(schedule.early_from)} and {_moment(schedule.early_until)}."


# The fields as they stand on the page; what is about none of them comes first.
_PLACES = ("", "device", "material", "side", "weight", "options", "applied", "visit", "removal", "language", "paper", "size")


def _place(problem: Problem) -> int:
    return _PLACES.index(problem.field) if problem.field in _PLACES else 0


def _moment(when: datetime) -> str:
    return f"{when:%a %b} {when.day}, {when:%H:%M}"
