"""Slings, straps round neck and trunk, the U over a shoulder, and the cast of trunk and legs."""

from __future__ import annotations

from aftercare.library.devices import Shape
from aftercare.pictures.cover import Layer, Look, Stretch, band, bandage
from aftercare.pictures.ladder import Ladder, Rung
from aftercare.pictures.line import closed, smooth
from aftercare.pictures.scene import Scene

NECK_NEAR, NECK_FAR = (109, 43), (131, 43)  # where a strap passes over the shoulders beside the neck


def draped(shape: Shape, scene: Scene, end: float) -> list[Layer]:
    """What hangs from the neck or goes round the trunk."""
    limb = scene.limb
    if shape is Shape.SPICA:
        return spica(scene, end)
    if shape is Shape.U_SLAB:
        outer, inner = limb.rail(12, 42, 0, 1), limb.rail(42, 16, 1, 1)
        return [
            Layer(smooth([(104, 46), (88, 47), *outer, *inner]), Look.TONG),
            Layer(bandage(scene, Stretch(13, 40)), Look.CLOTH),
        ]
    if shape is Shape.FIGURE_OF_EIGHT:
        return [
            Layer(
                smooth([(104, 45), (84, 54), (84, 70), (98, 74)]) + smooth([(136, 45), (162, 54), (162, 70), (148, 74)]),
                Look.BELT,
            )
        ]
    if shape is Shape.COLLAR:
        wrist = limb.at(73, 0.6)
        return [
            Layer(smooth([NECK_NEAR, (114, 70), wrist]) + smooth([NECK_FAR, (132, 70), wrist]), Look.BELT),
            Layer(band(limb, 71, 4), Look.CLOTH),
        ]
    straps = smooth([limb.at(44, 0.8), (96, 70), NECK_NEAR]) + smooth([limb.at(74, 0.9), (138, 66), NECK_FAR])
    cradle = closed(
        [limb.at(36, 1, 3), limb.at(50, 1, 5), limb.at(79, 1, 4)],
        [limb.at(80, 0, 3), limb.at(58, 0, 5), limb.at(44, 0, 4), limb.at(40, 0, 6), limb.at(36, 0, 3)],
    )
    found = [Layer(straps, Look.BELT), Layer(cradle, Look.CLOTH)]
    if shape is Shape.BODY_BAND:
        found.append(Layer(closed([(69, 70), (122, 78), (177, 70)], [(178, 81), (122, 89), (67, 81)]), Look.STRAP))
    return found


def spica(scene: Scene, end: float) -> list[Layer]:
    """Trunk and both legs in one shell, open between the legs; the other leg to above its knee."""
    limb = scene.limb
    other = Ladder(
        tuple(Rung(rung.level, (rung.under[0], 120 - rung.under[1]), (rung.over[0], 120 - rung.over[1])) for rung in limb.rungs)
    )
    trunk = Ladder((Rung(0, (78, 92), (78, 28)), Rung(100, (118, 92), (118, 28))))
    shell = closed(
        [trunk.at(0, 1), (100, 28), (112, 27), *other.rail(18, 40, 0, 3)],
        [*other.rail(40, 18, 1, 3), (116, 60), *limb.rail(18, end, 1, 3)],
        [*limb.rail(end, 18, 0, 3), (112, 93), (100, 92), trunk.at(0, 0)],
        [trunk.at(0, 0), (84, 60), trunk.at(0, 1)],
    )
    woven = ((trunk, Stretch(8, 100)), (limb, Stretch(16, end)), (other, Stretch(16, 40)))
    return [Layer(shell, Look.SHELL, woven), Layer(closed([(120, 52), (150, 60), (120, 68)]), Look.CLOTH)]
