"""A view of a limb: what the drawing of a device needs to know of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from aftercare.library.body import Part
from aftercare.pictures.line import Line, Point
from aftercare.pictures.profile import Profile

Span = tuple[float, float]  # from level to level


@dataclass(frozen=True, slots=True)
class BodyLine:
    """One line of the body and the name of its fill in `device.SURFACES`; "" for a line without a fill."""

    line: Line
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where the arrow to a tip stands: its point `at`, and the direction `out` from there to its tail."""

    at: Point
    out: Point


@dataclass(frozen=True, slots=True)
class Scene:
    """One view of a limb, in picture units.

    - `limb`: the profile that a device is laid on
    - `skin`: the lines of the body, the farthest from the viewer first
    - `details`: nails and creases
    - `digits`: the profiles of the digits that a device may enclose
    - `pointers`: the arrows to the tips that may have to be checked
    - `web`: the fold between thumb and index finger
    - `pair`: two neighboring digits that may be taped together
    - `spans`: the levels between which a bandage can go around
    - `bend`: the levels between which elbow or heel turn too sharply for threads
    - `shows_left`: whether it shows a left limb as stored, where all others show a right one
    """

    limb: Profile
    skin: tuple[BodyLine, ...]
    details: Line
    digits: Mapping[Part, Profile] = field(default_factory=dict)
    pointers: Mapping[Part, tuple[Pointer, ...]] = field(default_factory=dict)
    web: Point | None = None
    pair: tuple[Profile, Profile] | None = None
    spans: tuple[Span, ...] = ((0, 100),)
    bend: Span = (0, 0)
    shows_left: bool = False
