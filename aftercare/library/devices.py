"""Types of devices and materials; no code names a single device."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from aftercare.errors import Where
from aftercare.library.body import DIGITS, EXTREMITY, PARTS, Extremity, Landmark, Limb, Part
from aftercare.library.text import Text


class Kind(StrEnum):
    """Construction of a device: all the way round, open on one side, ready-made, tape, or hanging."""

    CAST = "cast"
    SPLINT = "splint"
    BRACE = "brace"
    STRAPPING = "strapping"
    SLING = "sling"


class Shape(StrEnum):
    """Position of the device on the limb; with its start and end it determines the drawing."""

    TUBE = "tube"  # all the way round
    VOLAR = "volar"  # slab on the palm side
    DORSAL = "dorsal"  # slab on the back of the hand or finger
    SANDWICH = "sandwich"  # slabs on both
    ULNAR = "ulnar"  # gutter on the little-finger side
    RADIAL = "radial"  # gutter on the index-finger side
    THUMB = "thumb"  # forearm and round the thumb
    SUGAR_TONG = "sugar-tong"  # long U round the elbow
    U_SLAB = "u-slab"  # U over the shoulder and under the elbow
    POSTERIOR = "posterior"  # slab behind the limb
    ANTERIOR = "anterior"  # slab in front
    STIRRUP = "stirrup"  # U under the heel
    POSTERIOR_STIRRUP = "posterior-stirrup"
    TOE_PLATE = "toe-plate"  # tube with a plate under the toes
    BOOT = "boot"
    SHOE = "shoe"
    BUDDY = "buddy"  # two digits taped together
    GUARD = "guard"  # fingertip guard
    SLING = "sling"
    COLLAR = "collar"
    BODY_BAND = "body-band"
    FIGURE_OF_EIGHT = "figure-of-eight"
    BULKY = "bulky"
    SPICA = "spica"


class Removal(StrEnum):
    """Whether the patient may take the device off at home."""

    NEVER = "never"
    TOLD = "told"  # only when and how the clinic said
    YES = "yes"


@dataclass(frozen=True, slots=True)
class Device:
    """A device, as a file in content/devices describes it.

    `first_visit_days` and `weeks` (the time in the device) are the usual (low, high), each with its source; None, and "" as
    the source, where none is usual.
    `checks` are the digits to look at where those are not all free ones; `sided` is False for a device without a side.
    `weights` are the ids of weight orders that can apply; empty on the upper extremity.
    """

    id: str
    code: str
    name: Text
    purpose: Text
    kind: Kind
    noun: str
    limb: Limb
    start: Landmark
    end: Landmark
    shape: Shape
    held: tuple[Part, ...]
    enclosed: tuple[Part, ...]
    materials: tuple[str, ...]
    removal: Removal
    loosens: bool
    weights: tuple[str, ...]
    first_visit_days: tuple[int, int] | None
    first_visit_source: str
    weeks: tuple[int, int] | None
    weeks_source: str
    position: str
    checks: tuple[Part, ...]
    sided: bool
    also_called: tuple[str, ...]
    where: Where

    @property
    def extremity(self) -> Extremity:
        """Upper or lower."""
        return EXTREMITY[self.limb]

    @property
    def moving(self) -> tuple[Part, ...]:
        """The parts left free, which the patient should keep moving, from the trunk outward."""
        return tuple(part for part in PARTS[self.limb] if part not in self.held and part not in self.enclosed)

    @property
    def tips(self) -> tuple[Part, ...]:
        """The digits whose tips are visible, to be checked for color, warmth and feeling."""
        return self.checks or tuple(part for part in self.moving if part in DIGITS)


class Family(StrEnum):
    """Materials that react alike to water, heat and time."""

    PLASTER = "plaster"
    FIBERGLASS = "fiberglass"
    SEMI_RIGID = "semi-rigid"
    THERMOPLASTIC = "thermoplastic"
    METAL = "metal"
    SOFT = "soft"
    PREFABRICATED = "prefabricated"


@dataclass(frozen=True, slots=True)
class Material:
    """The material of a device.

    `dry_after` and `walk_after` are ids of figures, or None where the material needs no wait. `notes` are for staff only.
    """

    id: str
    code: str
    name: Text
    family: Family
    dry_after: str | None
    walk_after: str | None
    notes: tuple[Text, ...]
    where: Where
