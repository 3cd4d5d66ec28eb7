"""Layers of slings, of straps around neck and trunk, of the U-slab over a shoulder, and of the cast of trunk and legs."""

from __future__ import annotations

from aftercare.library.devices import Shape
from aftercare.pictures.cover import Layer, Look, Stretch, band, bandage
from aftercare.pictures.line import closed_shape, smooth
from aftercare.pictures.profile import CrossSection, Profile
from aftercare.pictures.scene import Scene
from aftercare.pictures.style import HEIGHT

# Where a strap passes over the shoulders: on the side of the arm in it, and on the other.
NECK_NEAR, NECK_FAR = (109, 43), (131, 43)


def hanging_layers(shape: Shape, scene: Scene, end: float) -> list[Layer]:
    """The layers of a device that hangs from the neck or goes around the trunk; a spica reaches the level `end` on its leg."""
    limb = scene.limb
    if shape is Shape.SPICA:
        return spica(scene, end)
    if shape is Shape.U_SLAB:
        outer, inner = limb.along(12, 42, 0, 1), limb.along(42, 16, 1, 1)
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
    cradle = closed_shape(
        [limb.at(36, 1, 3), limb.at(50, 1, 5), limb.at(79, 1, 4)],
        [limb.at(80, 0, 3), limb.at(58, 0, 5), limb.at(44, 0, 4), limb.at(40, 0, 6), limb.at(36, 0, 3)],
    )
    hung = [Layer(straps, Look.BELT), Layer(cradle, Look.CLOTH)]
    if shape is Shape.BODY_BAND:
        hung.append(Layer(closed_shape([(69, 70), (122, 78), (177, 70)], [(178, 81), (122, 89), (67, 81)]), Look.STRAP))
    return hung


def spica(scene: Scene, end: float) -> list[Layer]:
    """Trunk and legs in one shell, open between the legs: one leg to the level `end`, the other to level 40, above its knee."""
    limb = scene.limb
    other = Profile(
        tuple(
            CrossSection(
                section.level, (section.under[0], HEIGHT - section.under[1]), (section.over[0], HEIGHT - section.over[1])
            )
            for section in limb.sections
        )
    )
    trunk = Profile((CrossSection(0, (78, 92), (78, 28)), CrossSection(100, (118, 92), (118, 28))))
    shell = closed_shape(
        [trunk.at(0, 1), (100, 28), (112, 27), *other.along(18, 40, 0, 3)],
        [*other.along(40, 18, 1, 3), (116, 60), *limb.along(18, end, 1, 3)],
        [*limb.along(end, 18, 0, 3), (112, 93), (100, 92), trunk.at(0, 0)],
        [trunk.at(0, 0), (84, 60), trunk.at(0, 1)],
    )
    textured = ((trunk, Stretch(8, 100)), (limb, Stretch(16, end)), (other, Stretch(16, 40)))
    return [Layer(shell, Look.SHELL, textured), Layer(closed_shape([(120, 52), (150, 60), (120, 68)]), Look.CLOTH)]
