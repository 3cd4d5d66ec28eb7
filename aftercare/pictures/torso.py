"""Views of the trunk: the upper body with the right arm bent across it, and a child on its back with both legs."""

from __future__ import annotations

from aftercare.library.body import FINGERS, Part
from aftercare.pictures.hand import Placement, hand
from aftercare.pictures.line import Line, Point, cap, circle, closed_shape, join, smooth
from aftercare.pictures.profile import CrossSection, Profile, Rows
from aftercare.pictures.scene import BodyLine, Pointer, Scene
from aftercare.pictures.style import HEIGHT

# The right arm, upper arm down, forearm across the belly: level, under edge (outer), over edge (inner), in picture units; drawn
# by eye.
ARM: Rows = (
    (4, (78, 51), (100, 62)),
    (12, (72, 60), (98, 72)),
    (24, (69, 80), (93, 84)),
    (34, (67, 95), (91, 92)),
    (38, (67, 103), (92, 94)),
    (42, (73, 114), (95, 94)),
    (48, (87, 115), (100, 93)),
    (58, (106, 110), (109, 91)),
    (68, (122, 104), (124, 90)),
)
SPANS = ((0, 36), (48, 75))  # levels of upper arm and forearm


def body_view(*, child: bool, plain: bool = False) -> Scene:
    """Head to waist from the front, the right arm bent across; `plain` draws the hand without fingers, for thumbnails."""
    place = Placement(134, 95, 0.4, -6)
    over, under = [row[2] for row in ARM[1:]], [(90, 48), *(row[1] for row in ARM)]
    drawn = hand(place, over, under, child=child)
    limb = Profile(
        (
            *(CrossSection(*row) for row in ARM),
            CrossSection(76, *drawn.wrist),
            CrossSection(87, place.point(46, 24), place.point(42, -23)),
        )
    )
    arm = Line(drawn.skin.commands[:-1])  # open: its shoulder belongs to the body
    if plain:
        mitt = place.point(60, -20), place.point(60, 20)
        arm = join(smooth([*over, mitt[0]]), cap(mitt[0], mitt[1], (1, -0.1)), smooth([mitt[1], *reversed(under)]), close=False)
    body = join(
        smooth([(112, 34), (112, 45), (98, 47), (90, 48), (76, 60), (88, 126)]),
        smooth([(178, 126), (176, 90), (172, 54), (158, 49), (142, 47), (128, 45), (128, 34)]),
    )
    top = closed_shape(
        [(102, 47), (103, 66), (90, 76)],
        [(90, 126), (158, 126)],
        [(160, 76), (137, 66), (138, 47)],
        [(132, 46), (132, 62), (120, 62), (108, 62), (108, 46)],
    )
    far = smooth([(160, 76), (163, 96), (161, 126)])
    skin = (
        BodyLine(body, "skin"),
        BodyLine(top, "shirt"),
        BodyLine(far),
        *head((120, 23), 20 if child else 17, (0, 1)),
        BodyLine(arm, "skin"),
    )
    pointer = Pointer(place.point(107, 2), (1, 0))  # one for the whole hand, which is too small for five
    pointers = dict.fromkeys((*FINGERS, Part.THUMB), (pointer,))
    return Scene(limb, skin, Line(), drawn.digits, pointers, place.point(41, -23), None, SPANS)


def head(center: Point, radius: float, down: Point) -> tuple[BodyLine, ...]:
    """A smiling face with hair; its chin points along `down`, a unit vector."""
    across = (down[1], -down[0])

    def at(right: float, low: float) -> Point:
        x, y = (center[axis] + radius * (right * across[axis] + low * down[axis]) for axis in (0, 1))
        return x, y

    hair = closed_shape(
        [at(-1, 0.15), at(-1.15, -1.1), at(0, -1.1), at(1.15, -1.1), at(1, 0.15)],
        [at(1, 0.15), at(0.7, -0.6), at(-0.7, -0.4), at(-1, 0.15)],
    )
    eyes = smooth([at(-0.35, 0.1), at(-0.35, 0.16)]) + smooth([at(0.35, 0.1), at(0.35, 0.16)])
    smile = smooth([at(-0.35, 0.45), at(0, 0.75), at(0.35, 0.45)])
    return BodyLine(circle(center, radius), "skin"), BodyLine(hair, "hair"), BodyLine(eyes + smile)


# The right leg of a child on its back, the lower one in the picture: level, under edge (outer), over edge (inner). Levels 0 to
# 8 are the trunk.
LEG: Rows = (
    (0, (78, 90), (78, 60)),
    (8, (112, 90), (112, 62)),
    (18, (130, 96), (128, 65)),
    (40, (164, 107), (168, 78)),
    (52, (182, 109), (184, 84)),
    (75, (208, 112), (210, 92)),
    (82, (217, 113), (218, 94)),
)


def trunk_view() -> Scene:
    """A child on its back seen from above, head to the left, legs apart; the right leg is the lower one."""
    limb = Profile(tuple(CrossSection(*row) for row in LEG))
    outer, inner = limb.along(18, 82, 0), limb.along(82, 18, 1)
    trunk = [(60, 74), (66, 88), (84, 90), (112, 90)]
    leg = join(smooth([*trunk, *outer]), cap(outer[-1], inner[0], (1, 0.15)), smooth([*inner, (120, 60)]), close=False)
    arm = join(
        smooth([(64, 72), (66, 92), (82, 104)]),
        cap((82, 104), (96, 94), (0.8, 1)),
        smooth([(96, 94), (84, 82), (72, 72)]),
        close=False,
    )
    toes = smooth([(224, 98), (220, 99)]) + smooth([(225, 103), (221, 103)]) + smooth([(224, 108), (220, 107)])
    skin = (
        BodyLine(arm + mirrored(arm), "skin"),
        BodyLine(join(leg, mirrored(leg).reversed()), "skin"),
        BodyLine(toes + mirrored(toes)),
        *head((36, 60), 26, (1, 0)),
    )
    return Scene(limb, skin, Line(), {}, {Part.TOES: (Pointer((222, 88), (0.2, -1)),)})


def mirrored(line: Line) -> Line:
    """The line mirrored top to bottom within the picture: the same on the child's left side."""
    return Line(tuple((letter, tuple((x, HEIGHT - y) for x, y in points)) for letter, points in line.commands))
