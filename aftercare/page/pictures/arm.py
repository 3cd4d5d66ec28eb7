"""Arm views: forearm and hand, the whole arm bent at the elbow, and the hand close up."""

from __future__ import annotations

from aftercare.library.body import LEVEL, Landmark, Part
from aftercare.page.pictures.hand import Hand, Place, hand
from aftercare.page.pictures.ladder import Ladder, Point, Rung, between, closed
from aftercare.page.pictures.scene import Scene

# level, little-finger (back) edge, thumb (front) edge; drawn by eye
FOREARM = (
    (38, (-8, 90), (-8, 34)),
    (47, (24, 92), (24, 34)),
    (58, (66, 87), (66, 39)),
    (68, (104, 79), (104, 47)),
    (74, (128, 76), (128, 49)),
)
BENT = (
    (8, (18, -10), (62, -10)),
    (24, (15, 34), (56, 34)),
    (34, (13, 68), (54, 60)),
    (39, (17, 92), (57, 72)),
    (41, (24, 102), (60, 75)),
    (44, (38, 107), (66, 75)),
    (50, (62, 107), (78, 69)),
    (58, (90, 103), (96, 68)),
    (68, (122, 94), (122, 70)),
    (74, (141, 92), (141, 70)),
)
CLOSE = (
    (52, (-8, 92), (-8, 34)),
    (62, (30, 86), (30, 42)),
    (68, (56, 82), (56, 45)),
    (74, (80, 80), (80, 46)),
)


def arm_view(start: int, *, palm: bool, child: bool) -> Scene:
    """The view that shows a device beginning at level `start` best."""
    if start < LEVEL[Landmark.BELOW_ELBOW]:
        return _scene(BENT, hand(Place(148, 81, 0.77), child=child, palm=palm), palm)
    if start < LEVEL[Landmark.MID_FOREARM]:
        return _scene(FOREARM, hand(Place(134, 63, 0.9), child=child, palm=palm), palm)
    return _scene(CLOSE, hand(Place(88, 64, 1.3), child=child, palm=palm), palm)


def _scene(rows: tuple[tuple[float, Point, Point], ...], drawn: Hand, palm: bool) -> Scene:
    rungs = [Rung(level, under, over) for level, under, over in rows]
    index, little = drawn.digits[Part.INDEX], drawn.digits[Part.LITTLE]
    rungs += [
        Rung(LEVEL[Landmark.WRIST], drawn.heel[-1], drawn.edge[0][0]),
        Rung(LEVEL[Landmark.PALM_CREASE], drawn.heel[1], drawn.web),
        Rung(LEVEL[Landmark.KNUCKLES], little.at(87, 0), index.at(87, 1)),
    ]
    limb = Ladder(tuple(rungs))
    over = [rung.over for rung in rungs[:-2]]
    under = [rung.under for rung in reversed(rungs[:-3])]
    first, *middle, last = drawn.edge
    skin = closed([*over, *first[1:]], *middle, [*last, *under])
    marks = {part: beyond(ladder, 5) for part, ladder in drawn.digits.items()}
    return Scene(limb, skin, drawn.details, drawn.digits, marks, drawn.web, palm)


def beyond(ladder: Ladder, gap: float) -> Point:
    """A point off the tip of a digit, `gap` units clear of it."""
    tip, root = ladder.at(ladder.last, 0.5), ladder.at(ladder.first, 0.5)
    length = abs(complex(*tip) - complex(*root))
    return between(root, tip, 1 + (gap + 4) / length)
