"""Arm views: forearm and hand, the whole arm bent at the elbow, and the hand close up."""

from __future__ import annotations

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.pictures.hand import Place, hand
from aftercare.pictures.ladder import Ladder, Rows, Rung, plump
from aftercare.pictures.line import moved
from aftercare.pictures.scene import Paint, Pointer, Scene

# level, little-finger (back) edge, thumb (front) edge, in picture units; drawn by eye
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
SPANS = ((0, 36), (49, 75), (79, 84))  # upper arm, forearm, and the palm short of the knuckles


def arm_view(start: int, *, palm: bool, child: bool) -> Scene:
    """The view that shows a device beginning at level `start` best."""
    if start < LEVEL[Landmark.BELOW_ELBOW]:
        return _scene(BENT, Place(139, 80, 0.8, -2), palm, child)
    if start < LEVEL[Landmark.MID_FOREARM]:
        return _scene(FOREARM, Place(122, 63, 0.95), palm, child)
    return _scene(CLOSE, Place(80, 65, 1.28), palm, child)


def _scene(rows: Rows, place: Place, palm: bool, child: bool) -> Scene:
    rows = plump(rows) if child else rows
    drawn = hand(place, [row[2] for row in rows], [row[1] for row in rows], child=child, palm=palm)
    index, little = drawn.digits[Part.INDEX], drawn.digits[Part.LITTLE]
    limb = Ladder(
        (
            *(Rung(*row) for row in rows),
            Rung(LEVEL[Landmark.WRIST], *drawn.wrist),
            Rung(LEVEL[Landmark.PALM_CREASE], drawn.heel, drawn.web),
            Rung(LEVEL[Landmark.KNUCKLES], little.at(87, 0), index.at(87, 1)),
        )
    )
    marks: dict[Part, tuple[Pointer, ...]] = {part: (beyond(ladder, 5),) for part, ladder in drawn.digits.items()}
    marks[Part.THIS_FINGER] = marks[Part.MIDDLE] + marks[Part.RING]
    marks[Part.OTHER_FINGERS] = marks[Part.INDEX] + marks[Part.LITTLE]
    pair = drawn.digits[Part.MIDDLE], drawn.digits[Part.RING]
    return Scene(limb, (Paint(drawn.skin, "skin"),), drawn.details, drawn.digits, marks, drawn.web, pair, SPANS, (38, 45), palm)


def beyond(ladder: Ladder, gap: float) -> Pointer:
    """The pointer to the tip of a digit, `gap` units clear of it."""
    onward = ladder.onward(ladder.last)
    return Pointer(moved(ladder.at(ladder.last, 0.5), onward, gap), onward)
