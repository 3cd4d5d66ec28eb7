"""The layers that each shape of device is made of."""

from __future__ import annotations

from aftercare.library.body import LEVEL, Landmark, Limb, Part
from aftercare.library.devices import Device, Kind, Shape
from aftercare.pictures.cover import Layer, Look, Stretch, arc_across, band, bandage, rolled_edges, sleeve, surface, tube
from aftercare.pictures.drape import hanging_layers
from aftercare.pictures.line import Line, join, moved, smooth
from aftercare.pictures.profile import CrossSection, Profile
from aftercare.pictures.scene import Scene
from aftercare.pictures.style import PAD

# The part of the limb's width that an open shape covers, (low, high): 0 is the under edge, 1 the over edge.
COVERED_WIDTH: dict[Shape, tuple[float, float]] = {
    Shape.ULNAR: (0.0, 0.48),
    Shape.RADIAL: (0.48, 1.0),
    Shape.POSTERIOR: (0.0, 0.36),
    Shape.ANTERIOR: (0.64, 1.0),
    Shape.POSTERIOR_STIRRUP: (0.0, 0.36),
    Shape.VOLAR: (0.15, 0.85),
    Shape.DORSAL: (0.15, 0.85),
    Shape.SANDWICH: (0.15, 0.85),
    Shape.SUGAR_TONG: (0.15, 0.85),
    Shape.THUMB: (0.42, 1.0),
}
HANGING = (Shape.SLING, Shape.COLLAR, Shape.BODY_BAND, Shape.FIGURE_OF_EIGHT, Shape.U_SLAB)
BULKY_PAD = 7.0  # units from the skin to the outline of thick soft padding
BOOT_PAD = 5.0  # units from the skin to the shell of a boot
WRIST, ELBOW, TOE_ROOTS, TOE_TIPS = (
    LEVEL[mark] for mark in (Landmark.WRIST, Landmark.ELBOW, Landmark.TOE_ROOTS, Landmark.TOE_TIPS)
)


def layers(device: Device, scene: Scene) -> list[Layer]:
    """The layers of a device, from the skin outward."""
    start, end, shape = LEVEL[device.start], LEVEL[device.end], device.shape
    whole = Stretch(start, end)
    if device.limb is Limb.TRUNK or shape in HANGING:
        return hanging_layers(shape, scene, end)
    if shape is Shape.BUDDY and scene.pair:
        return buddy_tape(scene.pair)
    if device.limb is Limb.FINGER and Part.THIS_FINGER in scene.digits:
        return finger_splint(device, scene.limb, start, end)
    if shape is Shape.BULKY:
        return [Layer(sleeve(scene, whole, device.enclosed, BULKY_PAD), Look.CLOTH, surface(scene, whole, ()))]
    if shape in (Shape.BOOT, Shape.SHOE):
        return boot(scene, whole, shape is Shape.SHOE)
    if shape in (Shape.STIRRUP, Shape.POSTERIOR_STIRRUP):
        return stirrup(scene, whole, shape is Shape.POSTERIOR_STIRRUP, Look.STRAP if device.kind is Kind.BRACE else Look.CLOTH)
    if device.kind is Kind.CAST or shape not in COVERED_WIDTH:
        return closed_shell(device, scene, whole)
    slab = Stretch(start, end, *COVERED_WIDTH[shape])
    if shape is Shape.SUGAR_TONG:
        return sugar_tong(scene, slab)
    around = Look.STRAP if device.kind is Kind.BRACE else Look.CLOTH
    slab_and_bandage = [
        Layer(sleeve(scene, slab, device.enclosed), Look.SHELL, surface(scene, slab, device.enclosed)),
        Layer(bandage(scene, whole), around),
    ]
    if shape is Shape.SANDWICH:
        return [Layer(sleeve(scene, Stretch(start, WRIST), ()), behind=True), *slab_and_bandage]
    return slab_and_bandage


def closed_shell(device: Device, scene: Scene, whole: Stretch) -> list[Layer]:
    """A shell all the way around: a cast with its soft edges, or a ready-made brace with straps."""
    limb = scene.limb
    shells = [
        Layer(
            sleeve(scene, whole, device.enclosed),
            Look.SHELL,
            surface(scene, whole, device.enclosed, COVERED_WIDTH.get(device.shape, (0, 1))),
        )
    ]
    if device.shape is Shape.TOE_PLATE:
        roots = Stretch(whole.start, TOE_ROOTS)
        shells = [Layer(toe_plate(limb)), Layer(sleeve(scene, roots, ()), Look.SHELL, surface(scene, roots, ()))]
        whole = roots
    if device.weights and "none" not in device.weights:  # always walked on, so it has a walking sole
        shells.insert(0, Layer(sole(limb, 83, TOE_ROOTS + 1, PAD - 1, 8), Look.STRAP))
    if device.kind is Kind.BRACE:
        return [*shells, Layer(bandage(scene, whole), Look.STRAP)]
    free_end = not (set(device.enclosed) - {Part.THUMB})
    return [*shells, Layer(rolled_edges(scene, whole, (whole.start, whole.end) if free_end else (whole.start,)), Look.ROLL)]


def sugar_tong(scene: Scene, slab: Stretch) -> list[Layer]:
    """A long U around the elbow, whose near branch shows; a second one on the upper arm where it begins above the elbow."""
    limb = scene.limb
    near = Stretch(52, slab.end, slab.low, slab.high)
    turn = [limb.at(41, 0, PAD), limb.at(39, 0, PAD + 2), limb.at(37, 0, PAD)]
    front = join(
        smooth(limb.along(near.start, near.end, near.high)),
        arc_across(limb, near.end, near.high, near.low),
        smooth([*limb.along(near.end, near.start, near.low), *turn, limb.at(near.start, near.high)]),
    )
    shells = [Layer(front, Look.SHELL, ((limb, near),))]
    if slab.start < ELBOW - 4:
        upper = Stretch(slab.start, 37, 0.22, 0.8)
        below = [limb.at(42.5, 0, PAD), limb.at(44, 0, PAD + 1), limb.at(46, 0, PAD)]
        second = join(
            smooth([*below, *limb.along(upper.end, upper.start, upper.high)]),
            arc_across(limb, upper.start, upper.high, upper.low),
            smooth([*limb.along(upper.start, upper.end, upper.low), below[0]]),
        )
        shells.append(Layer(second, Look.SHELL, ((limb, upper),)))
    return [*shells, Layer(bandage(scene, slab), Look.CLOTH)]


def stirrup(scene: Scene, whole: Stretch, backed: bool, around: Look) -> list[Layer]:
    """A U under the heel, over a slab behind the leg if `backed`; `around` is the look of the bandage that holds it."""
    limb, low, high = scene.limb, 0.28, 0.74
    under = [limb.at(88, 0, PAD), limb.at(87, 0, PAD + 1), limb.at(85.2, 0, PAD)]
    strap = join(
        smooth([*limb.along(whole.start, 76, high), under[0]]),
        smooth(under),
        smooth([under[-1], *limb.along(76, whole.start, low)]),
        arc_across(limb, whole.start, low, high),
    )
    shells = [Layer(strap, Look.SHELL, ((limb, Stretch(whole.start, 76, low, high)),))]
    end = whole.end if backed else 77
    if backed:
        back = Stretch(whole.start, whole.end, *COVERED_WIDTH[Shape.POSTERIOR_STIRRUP])
        shells.insert(0, Layer(sleeve(scene, back, ()), Look.SHELL, ((limb, back),)))
    return [*shells, Layer(bandage(scene, Stretch(whole.start, end)), around)]


def boot(scene: Scene, whole: Stretch, low_cut: bool) -> list[Layer]:
    """A shell with straps on a rocker sole, the toes free; `low_cut` for a shoe."""
    limb = scene.limb
    shell = Stretch(max(whole.start, limb.first) + (2.5 if low_cut else 0), TOE_ROOTS - 1)
    return [
        Layer(sole(limb, 83, TOE_TIPS, BOOT_PAD - 2, 9), Look.STRAP),
        Layer(tube(limb, shell, BOOT_PAD), Look.SHELL),
        Layer(arc_across(limb, shell.start, 0, 1, BOOT_PAD), Look.ROLL),
        Layer(bandage(scene, shell), Look.STRAP),
    ]


def sole(limb: Profile, start: float, end: float, near: float, thick: float) -> Line:
    """The closed outline of a sole from level to level, `near` units from the skin, about `thick` units thick."""
    heel, toe = limb.at(start, 0, near), limb.at(end, 0, near)
    outer = [
        limb.at(level, 0, near + thick * part) for level, part in ((end, 0.4), (93, 1.1), (87, 1.3), (85, 1.2), (start, 0.6))
    ]
    direction = limb.direction(end)
    return join(
        smooth([heel, limb.at(86, 0, near), moved(toe, direction, 5)]), smooth([moved(outer[0], direction, 5), *outer[1:]])
    )


def toe_plate(limb: Profile) -> Line:
    """The closed outline of a cast's sole that continues under the toes."""
    inner, outer = limb.along(TOE_ROOTS - 1, TOE_TIPS, 0, -1), limb.along(TOE_TIPS, TOE_ROOTS - 3, 0, 6)
    direction = limb.direction(TOE_TIPS)
    return join(
        smooth([*inner, moved(inner[-1], direction, 4)]),
        smooth([moved(outer[0], direction, 4), *outer, limb.at(TOE_ROOTS - 5, 0, PAD)]),
    )


def buddy_tape(pair: tuple[Profile, Profile]) -> list[Layer]:
    """Two bands of tape around two neighboring digits, the joints left free."""
    first, second = pair
    both = Profile(tuple(CrossSection(a.level, b.under, a.over) for a, b in zip(first.sections, second.sections, strict=True)))
    return [Layer(band(both, 89.5, 1.8, 1.5) + band(both, 93, 1.8, 1.5), Look.CLOTH)]


def finger_splint(device: Device, finger: Profile, start: float, end: float) -> list[Layer]:
    """A strip along one finger seen from the side, held by two bands of tape; a guard goes around the tip."""
    shape = device.shape
    start = max(start, finger.first + 2)
    if shape is Shape.GUARD:
        outer, inner = finger.rounded_cover(start, end, 7), finger.rounded_cover(start, end)
        strip = join(outer, inner.reversed())
        splint = [Layer(strip)]
    elif shape in (Shape.DORSAL, Shape.VOLAR):
        across = 1 if shape is Shape.DORSAL else 0
        splint = [Layer(join(smooth(finger.along(start, end, across)), smooth(finger.along(end, start, across, 7))))]
    else:
        on = Stretch(start, end)
        splint = [Layer(tube(finger, on), Look.SHELL, ((finger, on),))]
    tape = Line()
    for level in (start + (end - start) * 0.2, start + (end - start) * 0.7):
        tape += band(finger, level, (end - start) * 0.14, 9)
    return [*splint, Layer(tape, Look.CLOTH)]
