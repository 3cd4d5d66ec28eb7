"""Upper body with the arm across it, and a child's trunk with legs."""

from __future__ import annotations

from aftercare.library.body import Part
from aftercare.page.pictures.ladder import Ladder, Line, Rung, closed, smooth
from aftercare.page.pictures.scene import Scene

ARM = (
    (4, (70, 52), (88, 46)),
    (12, (64, 70), (86, 66)),
    (24, (60, 88), (82, 86)),
    (34, (58, 100), (80, 96)),
    (41, (62, 112), (84, 99)),
    (47, (76, 116), (92, 98)),
    (58, (104, 110), (106, 94)),
    (76, (140, 100), (138, 86)),
    (100, (166, 94), (164, 80)),
)
LEG = (
    (0, (60, 96), (60, 30)),
    (8, (108, 96), (108, 34)),
    (18, (128, 60), (124, 28)),
    (46, (178, 40), (172, 12)),
    (75, (214, 30), (210, 8)),
    (100, (238, 26), (236, 2)),
)


def body_view() -> Scene:
    """Head to waist, the arm bent across."""
    body = smooth([(60, 124), (64, 52), (104, 42), (108, 30), (104, 4), (136, 4), (132, 30), (136, 42), (176, 52), (180, 124)])
    limb = Ladder(tuple(Rung(*row) for row in ARM))
    skin = body + closed(limb.rail(4, 100, 1), limb.rail(100, 4, 0))
    return Scene(limb, skin, Line(()), {}, {part: (174, 86) for part in (Part.MIDDLE,)})


def trunk_view() -> Scene:
    """A child on its back, legs apart."""
    limb = Ladder(tuple(Rung(*row) for row in LEG))
    skin = closed(limb.rail(0, 100, 1), limb.rail(100, 0, 0))
    return Scene(limb, skin, Line(()), {}, {Part.TOES: (234, 40)})
