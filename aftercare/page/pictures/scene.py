"""What a view of a limb hands to the device drawing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from aftercare.library.body import Part
from aftercare.page.pictures.ladder import Ladder, Line, Point


@dataclass(frozen=True, slots=True)
class Scene:
    """One view of a limb in picture units, the right side of the patient.

    `limb` carries the levels a device is laid between; `digits` the ladders of what may be enclosed; `marks` the places
    where a tip is to be checked; `web` the fold beside the thumb; `palm` whether the palm faces us (then right is mirrored).
    """

    limb: Ladder
    skin: Line
    details: Line
    digits: Mapping[Part, Ladder] = field(default_factory=dict)
    marks: Mapping[Part, Point] = field(default_factory=dict)
    web: Point | None = None
    palm: bool = False
    behind: Line = Line(())
