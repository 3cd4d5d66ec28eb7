"""Views of the arm: forearm and hand, the whole arm bent at the elbow, and the hand close up."""

from __future__ import annotations

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.hand import Placement, hand
from aftercare.pictures.line import moved
from aftercare.pictures.profile import CrossSection, Profile, Rows, thickened
from aftercare.pictures.scene import BodyLine, Pointer, Scene

# Level, under edge (little finger, back), over edge (thumb, front), in picture units; drawn by eye.
FOREARM: Rows = (
    (38, (-8, 92), (-8, 32)),
    (47, (24, 93), (24, 33)),
    (58, (62, 88), (62, 38)),
    (68, (98, 79), (98, 46)),
)
BENT: Rows = (
    (8, (20, -10), (64, -10)),
    (32, (13, 58), (55, 54)),
    (39, (12, 90), (56, 71)),
    (42, (22, 105), (62, 74)),
    (46, (42, 109), (70, 71)),
    (52, (66, 107), (82, 66)),
    (68, (120, 94), (120, 67)),
)
CLOSE: Rows = (
    (54, (-8, 92), (-8, 36)),
    (62, (22, 89), (22, 40)),
    (69, (50, 84), (50, 45)),
)
SPANS = ((0, 36), (49, 75), (79, 84))  # levels of upper arm, forearm, and the palm short of the knuckles


def arm_view(start: int, *, palm: bool, child: bool) -> Scene:
    """The view for a device that begins at the level `start`: the closest one that shows all of it."""
    if start < LEVEL[Landmark.BELOW_ELBOW]:
        return _scene(BENT, Placement(139, 80, 0.8, -2), palm, child)
    if start < LEVEL[Landmark.MID_FOREARM]:
        return _scene(FOREARM, Placement(122, 63, 0.95), palm, child)
    return _scene(CLOSE, Placement(80, 65, 1.28), palm, child)


def _scene(rows: Rows, place: Placement, palm: bool, child: bool) -> Scene:
    rows = thickened(rows) if child else rows
    drawn = hand(place, [row[2] for row in rows], [row[1] for row in rows], child=child, palm=palm)
    index, little = drawn.digits[Part.INDEX], drawn.digits[Part.LITTLE]
    limb = Profile(
        (
            *(CrossSection(*row) for row in rows),
            CrossSection(LEVEL[Landmark.WRIST], *drawn.wrist),
            CrossSection(LEVEL[Landmark.PALM_CREASE], drawn.heel, drawn.web),
            CrossSection(LEVEL[Landmark.KNUCKLES], little.at(87, 0), index.at(87, 1)),
        )
    )
    pointers: dict[Part, tuple[Pointer, ...]] = {part: (pointer_beyond(profile, 5),) for part, profile in drawn.digits.items()}
    pointers[Part.THIS_FINGER] = pointers[Part.MIDDLE] + pointers[Part.RING]
    pointers[Part.OTHER_FINGERS] = pointers[Part.INDEX] + pointers[Part.LITTLE]
    pair = drawn.digits[Part.MIDDLE], drawn.digits[Part.RING]
    return Scene(
        limb, (BodyLine(drawn.skin, "skin"),), drawn.details, drawn.digits, pointers, drawn.web, pair, SPANS, (38, 45), palm
    )


def pointer_beyond(profile: Profile, gap: float) -> Pointer:
    """The pointer to the tip of a digit, `gap` units clear of it."""
    direction = profile.direction(profile.last)
    return Pointer(moved(profile.at(profile.last, 0.5), direction, gap), direction)
