"""Upper body with one arm across it, and a child's trunk with both legs."""

from __future__ import annotations

from aftercare.library.body import FINGERS, Part
from aftercare.library.devices import Shape
from aftercare.page.pictures.cover import Layer, Look, Stretch, band, bandage
from aftercare.page.pictures.hand import Place, hand
from aftercare.page.pictures.ladder import Ladder, Rung
from aftercare.page.pictures.line import Line, Point, between, cap, closed, onto, ring, smooth
from aftercare.page.pictures.scene import Scene

Rows = tuple[tuple[float, Point, Point], ...]

# The right arm: outer (back) edge, inner (front) edge; upper arm down, forearm across the belly. Drawn by eye.
ARM: Rows = (
    (0, (78, 44), (96, 44)),
    (4, (72, 50), (94, 52)),
    (12, (68, 64), (90, 66)),
    (24, (66, 80), (88, 82)),
    (34, (64, 94), (86, 92)),
    (38, (64, 102), (88, 95)),
    (41, (70, 111), (92, 95)),
    (47, (84, 112), (98, 93)),
    (58, (108, 108), (112, 90)),
    (68, (128, 102), (129, 88)),
)


def body_view(*, child: bool) -> Scene:
    """Head to waist from the front, the right arm bent across."""
    head = 20 if child else 17
    place = Place(139, 93, 0.36, -8)
    drawn = hand(place, [row[2] for row in ARM[2:]], [row[1] for row in ARM[2:]], child=child)
    limb = Ladder((*(Rung(*row) for row in ARM), Rung(76, *drawn.wrist), Rung(87, place.point(46, 24), place.point(42, -23))))
    neck = smooth([(108, 28), (110, 42), (88, 44), (70, 52), (66, 72), (64, 98)])
    chest = onto(
        smooth([(110, 30), (110, 42), (92, 44), (72, 48), (66, 76), (66, 96), (80, 100), (84, 124)]),
        smooth([(160, 124), (164, 80), (174, 124)], ),
        close=False,
    )
    far = smooth([(84, 126), (88, 80), (86, 62)])
    body = closed(
        [(112, 30), (112, 40), (104, 43), (80, 46), (70, 54), (66, 76), (64, 100), (82, 118), (84, 126)],
        [(158, 126), (160, 76)],
        [(160, 76), (164, 100), (166, 126)],
        [(188, 126), (184, 80), (180, 54), (168, 46), (146, 43), (138, 40), (138, 30)],
    )
    face = ring((125, 22), head)
    skin = body + face + drawn.skin
    hair = smooth([(125 - head, 22), (125 - head, 8), (125, 12), (125 + head, 8), (125 + head, 22)])
    smile = smooth([(119, 28), (125, 32), (131, 28)]) + smooth([(119, 20), (119, 21)]) + smooth([(131, 20), (131, 21)])
    tip = place.point(112, 0)
    marks: dict[Part, tuple[Point, ...]] = {part: ((tip[0] + 4, tip[1]),) for part in (*FINGERS, Part.THUMB)}
    return Scene(limb, skin, hair + smile, drawn.digits, marks, place.point(41, -23), None, ((0, 36), (47, 75)))


# A child on its back: trunk, and the right leg below; outer edge, inner edge.
LEG: Rows = (
    (0, (84, 94), (84, 26)),
    (8, (118, 96), (118, 60)),
    (18, (134, 98), (132, 62)),
    (40, (168, 106), (164, 74)),
    (46, (178, 107), (173, 78)),
    (64, (202, 110), (198, 86)),
    (75, (216, 110), (213, 92)),
    (80, (222, 111), (218, 92)),
)


def trunk_view() -> Scene:
    """A child on its back from above, head to the left, legs apart; the right leg is the lower one."""
    limb = Ladder(tuple(Rung(*row) for row in LEG))
    leg = limb.rail(18, 80, 0), limb.rail(80, 18, 1)
    other = [(x, 120 - y) for x, y in leg[0]], [(x, 120 - y) for x, y in leg[1]]
    foot_in, foot_out = leg[1][0], leg[0][-1]
    start = onto(smooth([(60, 50), (72, 26), (100, 28), (118, 24), *other[0]]), cap(other[0][-1], other[1][0], (1, 0.1)), close=False)
    skin = onto(start, smooth([*other[1], (136, 60), *reversed(leg[1])]), cap(foot_in, foot_out, (1, 0.1)), smooth([*reversed(leg[0]), (118, 96), (100, 92), (72, 94), (60, 70)]))
    head = ring((40, 60), 24)
    face = smooth([(34, 52), (35, 52)]) + smooth([(34, 68), (35, 68)]) + smooth([(50, 54), (54, 60), (50, 66)])
    return Scene(limb, skin + head, face, {}, {Part.TOES: ((234, 100),)})


def draped(shape: Shape, scene: Scene, start: float, end: float) -> list[Layer]:
    """What hangs from the neck or goes round the trunk."""
    limb = scene.limb
    neck_near, neck_far = (112, 40), (140, 42)
    if shape is Shape.U_SLAB:
        on = Stretch(start, end)
        outer, inner = limb.rail(0, 41, 0, 1), limb.rail(41, 14, 1, 1)
        return [Layer(smooth([(96, 42), *outer, *inner]), Look.BELT), Layer(bandage(scene, Stretch(12, 40)), Look.CLOTH)]
    if shape is Shape.SPICA:
        return spica(scene, end)
    if shape is Shape.FIGURE_OF_EIGHT:
        return [Layer(smooth([(126, 64), (104, 50), (88, 40), (70, 56), (84, 76), (104, 62)]) + smooth([(126, 64), (146, 50), (164, 40), (182, 56), (168, 76), (146, 62)]), Look.BELT)]
    strap = Layer(smooth([limb.at(76, 0.5), (166, 60), neck_far]) + smooth([limb.at(44, 0.6), (96, 66), neck_near]), Look.BELT)
    if shape is Shape.COLLAR:
        return [Layer(smooth([limb.at(73, 0.5), (150, 60), neck_far]) + smooth([limb.at(73, 0.5), (120, 60), neck_near]), Look.BELT), Layer(band(limb, 70, 6), Look.CLOTH)]
    cradle = closed([limb.at(36, 1, 2), limb.at(50, 1, 6), limb.at(76, 1, 4)], [limb.at(80, 0.4), limb.at(76, 0, 3)], [limb.at(76, 0, 3), limb.at(58, 0, 5), limb.at(46, 0, 5), limb.at(40, 0, 4), limb.at(34, 0, 2)])
    found = [strap, Layer(cradle, Look.CLOTH)]
    if shape is Shape.BODY_BAND:
        found.append(Layer(closed([(64, 76), (125, 84), (186, 76)], [(186, 88), (125, 96), (64, 88)]), Look.STRAP))
    return found


def spica(scene: Scene, end: float) -> list[Layer]:
    """Trunk and both legs in one shell, open between the legs; the other leg to above its knee."""
    limb = scene.limb
    right = limb.rail(18, end, 0, 3), limb.rail(end, 18, 1, 3)
    left = [(x, 120 - y) for x, y in limb.rail(18, 40, 0, 3)], [(x, 120 - y) for x, y in limb.rail(40, 18, 1, 3)]
    shell = closed([(78, 28), (100, 25), (118, 22), *left[0]], [*left[1], (128, 60), *reversed(right[1])], [*reversed(right[0]), (118, 98), (100, 95), (78, 92)])
    return [Layer(shell, Look.SHELL, Stretch(0, 8))]
