"""Types of advice, warning signs, options and weight orders, and when each applies."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from aftercare.errors import Where
from aftercare.library.devices import Device, Material, Removal
from aftercare.library.text import Block, Text


class Tier(StrEnum):
    """How soon a warning sign must be acted on, the most urgent first."""

    CALL_EMERGENCY = "call-emergency"
    GO_NOW = "go-now"
    SAME_DAY = "same-day"
    OFFICE_HOURS = "office-hours"


# The tiers in the danger box at the top of a sheet; the others follow the advice.
URGENT = (Tier.CALL_EMERGENCY, Tier.GO_NOW)


class Trait(StrEnum):
    """A property that an `applies:` header may require of a device beyond its name, kind and limb; see `traits`."""

    NEVER_REMOVED = "never-removed"
    REMOVED_AS_TOLD = "removed-as-told"
    REMOVABLE = "removable"
    LOOSENS = "loosens"
    TIPS_VISIBLE = "tips-visible"
    HOLDS_NOTHING = "holds-nothing"
    BEARS_WEIGHT = "bears-weight"


@dataclass(frozen=True, slots=True)
class Applies:
    """When a module is on a sheet: AND across keys, OR inside one; an empty key requires nothing.

    The keys from `devices` to `traits` are about what was put on; `options` and `weights` are about this patient
    and become the condition of the passage on the phone page.
    """

    devices: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    nouns: tuple[str, ...] = ()
    limbs: tuple[str, ...] = ()
    extremities: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    families: tuple[str, ...] = ()
    traits: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    weights: tuple[str, ...] = ()

    def fits(self, device: Device, material: Material) -> bool:
        """Whether the device and material meet every requirement from `devices` to `traits`."""
        requirements = (
            (self.devices, device.id),
            (self.kinds, device.kind),
            (self.nouns, device.noun),
            (self.limbs, device.limb),
            (self.extremities, device.extremity),
            (self.materials, material.id),
            (self.families, material.family),
        )
        if any(allowed and value not in allowed for allowed, value in requirements):
            return False
        return not self.traits or not traits(device).isdisjoint(self.traits)

    @property
    def about_patient(self) -> bool:
        """Whether anything is required of this patient."""
        return bool(self.options or self.weights)

    @property
    def about_device(self) -> bool:
        """Whether anything is required of what was put on."""
        return any(
            (self.devices, self.kinds, self.nouns, self.limbs, self.extremities, self.materials, self.families, self.traits)
        )


def traits(device: Device) -> set[str]:
    """Derive the traits of a device from its data."""
    derived: set[str] = {
        {
            Removal.NEVER: Trait.NEVER_REMOVED,
            Removal.TOLD: Trait.REMOVED_AS_TOLD,
            Removal.YES: Trait.REMOVABLE,
        }[device.removal]
    }
    if device.loosens:
        derived.add(Trait.LOOSENS)
    if device.tips:
        derived.add(Trait.TIPS_VISIBLE)
    if not device.held:
        derived.add(Trait.HOLDS_NOTHING)
    if any(weight != "none" for weight in device.weights):
        derived.add(Trait.BEARS_WEIGHT)
    return derived


@dataclass(frozen=True, slots=True)
class Advice:
    """One module of home-care text on one topic. `covers` names the required facts it states (sheet/required.py).

    `meanwhile`: whether it also applies on the way to help; the phone page repeats it where its check advises going there.
    """

    id: str
    topic: str
    order: int
    title: Text
    blocks: tuple[Block, ...]
    why: Text | None
    applies: Applies
    unless: Applies
    covers: tuple[str, ...]
    meanwhile: bool
    sources: tuple[str, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class WarningSign:
    """One sign, its tier and its reason.

    `title` names it for staff only; `sign` is what the patient reads. `picture` names a pictogram or is "".
    """

    id: str
    tier: Tier
    order: int
    title: Text
    sign: Text
    why: Text
    picture: str
    applies: Applies
    unless: Applies
    covers: tuple[str, ...]
    sources: tuple[str, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class Option:
    """A fact about this patient that changes the sheet.

    `label` is the text that the nurse ticks, `condition` that on the phone page ("If you had a nerve block"), `bit` its
    permanent bit in the options code, `conflicts` the options and weight orders it cannot be combined with, `early_visit`
    whether the next visit moves to 24-48 hours, `child` whether the drawing has a child's proportions, `needs_removal`
    whether the sheet must give the day on which the device comes off at home. `notes` are for staff only.
    """

    id: str
    bit: int
    label: Text
    condition: Text
    applies: Applies
    unless: Applies
    conflicts: tuple[str, ...]
    early_visit: bool
    child: bool
    needs_removal: bool
    notes: tuple[Text, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class Topic:
    """A section of the sheet: its heading and its pictogram. Sections are in the order of the file."""

    id: str
    title: Text
    picture: str


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight order; `digit` is its permanent digit in the options code, `walks` whether any weight is allowed."""

    id: str
    digit: int
    label: Text
    condition: Text
    walks: bool
    where: Where


@dataclass(frozen=True, slots=True)
class ExclusiveModules:
    """Modules of which a sheet may have at most one, and why."""

    modules: tuple[str, ...]
    why: str
    where: Where
