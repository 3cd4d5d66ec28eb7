"""Which layers each shape of device is made of."""

from __future__ import annotations

from aftercare.library.body import LEVEL, Landmark, Limb, Part
from aftercare.library.devices import Device, Kind, Shape
from aftercare.pictures.cover import Layer, Look, Stretch, band, bandage, bow, rolls, sleeve, surface, tube
from aftercare.pictures.drape import draped
from aftercare.pictures.ladder import Ladder, Rung
from aftercare.pictures.line import Line, moved, onto, smooth
from aftercare.pictures.scene import Scene
from aftercare.pictures.style import PAD

# How much of the limb's width an open shape covers, from the under side (0) to the over side (1).
COVER: dict[Shape, tuple[float, float]] = {
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
DRAPED = (Shape.SLING, Shape.COLLAR, Shape.BODY_BAND, Shape.FIGURE_OF_EIGHT, Shape.U_SLAB)
PLUMP = 7.0  # how far thick soft padding stands off
WALL = 5.0  # how far a boot's shell stands off
WRIST, ELBOW, TOE_ROOTS, TOE_TIPS = (
    LEVEL[mark] for mark in (Landmark.WRIST, Landmark.ELBOW, Landmark.TOE_ROOTS, Landmark.TOE_TIPS)
)


def layers(device: Device, scene: Scene) -> list[Layer]:
    """The device as layers, from the skin outward."""
    start, end, shape = LEVEL[device.start], LEVEL[device.end], device.shape
    whole = Stretch(start, end)
    if device.limb is Limb.TRUNK or shape in DRAPED:
        return draped(shape, scene, end)
    if shape is Shape.BUDDY and scene.pair:
        return buddy(scene.pair)
    if device.limb is Limb.FINGER and Part.THIS_FINGER in scene.digits:
        return on_finger(device, scene.limb, start, end)
    if shape is Shape.BULKY:
        return [Layer(sleeve(scene, whole, device.enclosed, PLUMP), Look.CLOTH, surface(scene, whole, ()))]
    if shape in (Shape.BOOT, Shape.SHOE):
        return boot(scene, whole, shape is Shape.SHOE)
    if shape in (Shape.STIRRUP, Shape.POSTERIOR_STIRRUP):
        return stirrup(scene, whole, shape is Shape.POSTERIOR_STIRRUP, Look.STRAP if device.kind is Kind.BRACE else Look.CLOTH)
    if device.kind is Kind.CAST or shape not in COVER:
        return closed_shell(device, scene, whole)
    slab = Stretch(start, end, *COVER[shape])
    if shape is Shape.SUGAR_TONG:
        return sugar_tong(scene, slab)
    around = Look.STRAP if device.kind is Kind.BRACE else Look.CLOTH
    found = [
        Layer(sleeve(scene, slab, device.enclosed), Look.SHELL, surface(scene, slab, device.enclosed)),
        Layer(bandage(scene, whole), around),
    ]
    if shape is Shape.SANDWICH:
        found.insert(0, Layer(sleeve(scene, Stretch(start, WRIST), ()), behind=True))
    return found


def closed_shell(device: Device, scene: Scene, whole: Stretch) -> list[Layer]:
    """All the way round: a cast with its soft edges, or a ready-made brace with straps."""
    limb = scene.limb
    found = [
        Layer(
            sleeve(scene, whole, device.enclosed),
            Look.SHELL,
            surface(scene, whole, device.enclosed, COVER.get(device.shape, (0, 1))),
        )
    ]
    if device.shape is Shape.TOE_PLATE:
        roots = Stretch(whole.start, TOE_ROOTS)
        found = [Layer(plate(limb)), Layer(sleeve(scene, roots, ()), Look.SHELL, surface(scene, roots, ()))]
        whole = roots
    if device.weights and "none" not in device.weights:  # always walked on, so it has a walking sole
        found.insert(0, Layer(sole(limb, 83, TOE_ROOTS + 1, PAD - 1, 8), Look.STRAP))
    if device.kind is Kind.BRACE:
        return [*found, Layer(bandage(scene, whole), Look.STRAP)]
    free_end = not (set(device.enclosed) - {Part.THUMB})
    return [*found, Layer(rolls(scene, whole, (whole.start, whole.end) if free_end else (whole.start,)), Look.ROLL)]


def sugar_tong(scene: Scene, slab: Stretch) -> list[Layer]:
    """A long U round the elbow: its near leg face on; a second one if it begins above it."""
    limb = scene.limb
    near = Stretch(52, slab.end, slab.low, slab.high)
    turn = [limb.at(41, 0, PAD), limb.at(39, 0, PAD + 2), limb.at(37, 0, PAD)]
    front = onto(
        smooth(limb.rail(near.start, near.end, near.high)),
        bow(limb, near.end, near.high, near.low),
        smooth([*limb.rail(near.end, near.start, near.low), *turn, limb.at(near.start, near.high)]),
    )
    found = [Layer(front, Look.SHELL, ((limb, near),))]
    if slab.start < ELBOW - 4:
        upper = Stretch(slab.start, 37, 0.22, 0.8)
        below = [limb.at(42.5, 0, PAD), limb.at(44, 0, PAD + 1), limb.at(46, 0, PAD)]
        second = onto(
            smooth([*below, *limb.rail(upper.end, upper.start, upper.high)]),
            bow(limb, upper.start, upper.high, upper.low),
            smooth([*limb.rail(upper.start, upper.end, upper.low), below[0]]),
        )
        found.append(Layer(second, Look.SHELL, ((limb, upper),)))
    return [*found, Layer(bandage(scene, slab), Look.CLOTH)]


def stirrup(scene: Scene, whole: Stretch, backed: bool, around: Look) -> list[Layer]:
    """A U under the heel, and a slab behind the leg under it if `backed`."""
    limb, low, high = scene.limb, 0.28, 0.74
    under = [limb.at(88, 0, PAD), limb.at(87, 0, PAD + 1), limb.at(85.2, 0, PAD)]
    strap = onto(
        smooth([*limb.rail(whole.start, 76, high), under[0]]),
        smooth(under),
        smooth([under[-1], *limb.rail(76, whole.start, low)]),
        bow(limb, whole.start, low, high),
    )
    found = [Layer(strap, Look.SHELL, ((limb, Stretch(whole.start, 76, low, high)),))]
    end = whole.end if backed else 77
    if backed:
        back = Stretch(whole.start, whole.end, *COVER[Shape.POSTERIOR_STIRRUP])
        found.insert(0, Layer(sleeve(scene, back, ()), Look.SHELL, ((limb, back),)))
    return [*found, Layer(bandage(scene, Stretch(whole.start, end)), around)]


def boot(scene: Scene, whole: Stretch, low_cut: bool) -> list[Layer]:
    """A shell with straps on a rocker sole, the toes in sight."""
    limb = scene.limb
    shell = Stretch(max(whole.start, limb.first) + (2.5 if low_cut else 0), TOE_ROOTS - 1)
    return [
        Layer(sole(limb, 83, TOE_TIPS, WALL - 2, 9), Look.STRAP),
        Layer(tube(limb, shell, WALL), Look.SHELL),
        Layer(bow(limb, shell.start, 0, 1, WALL), Look.ROLL),
        Layer(bandage(scene, shell), Look.STRAP),
    ]


def sole(limb: Ladder, start: float, end: float, near: float, thick: float) -> Line:
    """A plate along the sole, `near` units off the skin and `thick` units through, rising toward the toes."""
    heel, toe = limb.at(start, 0, near), limb.at(end, 0, near)
    outer = [
        limb.at(level, 0, near + thick * part) for level, part in ((end, 0.4), (93, 1.1), (87, 1.3), (85, 1.2), (start, 0.6))
    ]
    onward = limb.onward(end)
    return onto(smooth([heel, limb.at(86, 0, near), moved(toe, onward, 5)]), smooth([moved(outer[0], onward, 5), *outer[1:]]))


def plate(limb: Ladder) -> Line:
    """A cast's sole going on under the toes."""
    inner, outer = limb.rail(TOE_ROOTS - 1, TOE_TIPS, 0, -1), limb.rail(TOE_TIPS, TOE_ROOTS - 3, 0, 6)
    onward = limb.onward(TOE_TIPS)
    return onto(
        smooth([*inner, moved(inner[-1], onward, 4)]),
        smooth([moved(outer[0], onward, 4), *outer, limb.at(TOE_ROOTS - 5, 0, PAD)]),
    )


def buddy(pair: tuple[Ladder, Ladder]) -> list[Layer]:
    """Two bands of tape round two neighboring digits, their joints left free."""
    one, two = pair
    both = Ladder(tuple(Rung(a.level, b.under, a.over) for a, b in zip(one.rungs, two.rungs, strict=True)))
    return [Layer(band(both, 89.5, 1.8, 1.5) + band(both, 93, 1.8, 1.5), Look.CLOTH)]


def on_finger(device: Device, finger: Ladder, start: float, end: float) -> list[Layer]:
    """A strip along one finger seen from the side, held by tape; a guard goes round the tip."""
    shape = device.shape
    start = max(start, finger.first + 2)
    if shape is Shape.GUARD:
        outer, inner = finger.rounded(start, end, 7), finger.rounded(start, end)
        strip = onto(outer, Line(tuple(reversed_steps(inner))))
        found = [Layer(strip)]
    elif shape in (Shape.DORSAL, Shape.VOLAR):
        across = 1 if shape is Shape.DORSAL else 0
        found = [Layer(onto(smooth(finger.rail(start, end, across)), smooth(finger.rail(end, start, across, 7))))]
    else:
        on = Stretch(start, end)
        found = [Layer(tube(finger, on), Look.SHELL, ((finger, on),))]
    tape = Line()
    for level in (start + (end - start) * 0.2, start + (end - start) * 0.7):
        tape += band(finger, level, (end - start) * 0.14, 9)
    return [*found, Layer(tape, Look.CLOTH)]


def reversed_steps(line: Line) -> list[tuple[str, tuple[tuple[float, float], ...]]]:
    """A line drawn the other way round."""
    points = [line.steps[0][1][-1]]
    steps: list[tuple[str, tuple[tuple[float, float], ...]]] = []
    for letter, given in line.steps[1:]:
        steps.insert(0, (letter, (*reversed(given[:-1]), points[-1])))
        points.append(given[-1])
    return [("M", (points[-1],)), *steps]
