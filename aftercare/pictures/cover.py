"""The outlines that devices are made of: a sleeve, a tube, a bandage, each computed from levels on a profile."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from aftercare.library.body import FINGERS, LEVEL, Landmark, Part
from aftercare.pictures.line import Line, Point, cap, interpolate, join, moved, smooth
from aftercare.pictures.profile import Profile
from aftercare.pictures.scene import Scene, Span
from aftercare.pictures.style import PAD

WRIST, CREASE, KNUCKLES = LEVEL[Landmark.WRIST], LEVEL[Landmark.PALM_CREASE], LEVEL[Landmark.KNUCKLES]
LAST, TIPS, TOE_ROOTS = LEVEL[Landmark.TIP_JOINTS], LEVEL[Landmark.FINGERTIPS], LEVEL[Landmark.TOE_ROOTS]
TURN = 27  # units from one turn of a bandage to the next: the width of the bandage and of the gap after it
HOLE = 91.7  # level on the thumb of the hole in a cast: the thumb's base joint, where the web begins


class Look(StrEnum):
    """How a layer is painted."""

    SHELL = "shell"  # rigid: light, full outline
    CLOTH = "cloth"  # bandage, tape, sling
    STRAP = "strap"  # buckled straps and soles: darker
    ROLL = "roll"  # soft rolled edge along a line
    BELT = "belt"  # a cloth strap drawn as one wide line
    TONG = "tong"  # a rigid strip drawn as one wide line


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a profile that a shell covers: from level `start` to `end`, from `low` to `high` across (0 under, 1 over).

    `bend` are the levels between which the limb turns too sharply for threads.
    """

    start: float
    end: float
    low: float = 0.0
    high: float = 1.0
    bend: Span = (0, 0)


TexturedAreas = tuple[tuple[Profile, Stretch], ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """One shape of a device. `textured` are the areas that get its material's texture; `behind` puts it behind the limb."""

    line: Line
    look: Look = Look.SHELL
    textured: TexturedAreas = ()
    behind: bool = False


def sleeve(scene: Scene, on: Stretch, enclosed: tuple[Part, ...], pad: float = PAD) -> Line:
    """The closed outline of a shell over a stretch and the enclosed digits; `pad` is its distance in units from the skin."""
    if scene.web is None:
        return tube(scene.limb, on, pad)
    limb, reach = scene.limb, min(on.end, WRIST)
    fingers = [scene.digits[part] for part in FINGERS if part in enclosed]
    parts = [smooth(limb.along(on.start, reach, on.high, edge_pad(on.high, pad)))]
    if on.end > WRIST and on.high == 1:
        parts.append(around_thumb(scene, scene.web, on.end, enclosed, pad))
    if fingers:
        parts.append(around_fingers(fingers, max(on.end, 90.0), pad))
    elif on.high == 1 and on.low > 0 and on.end > WRIST:
        parts.append(smooth([limb.at(reach + 2, on.low)]))
    else:
        parts += [smooth(limb.along(reach, on.end, on.high))] if on.high < 1 else []
        parts.append(arc_across(limb, on.end, on.high, on.low, pad))
    back = WRIST if (fingers and Part.LITTLE not in enclosed) or (on.low > 0 and on.high == 1) else min(on.end, KNUCKLES - 1)
    parts.append(smooth(limb.along(back, on.start, on.low, edge_pad(on.low, pad))))
    return join(*parts, arc_across(limb, on.start, on.low, on.high, pad))


def surface(scene: Scene, on: Stretch, enclosed: tuple[Part, ...], palm: tuple[float, float] = (0, 1)) -> TexturedAreas:
    """The areas of a sleeve that get its texture: the limb, not the digits.

    `palm` is the part across the hand, (low, high), that the sleeve covers where it encloses some of the fingers.
    """
    end, limb = min(on.end, CREASE if scene.web is not None else scene.limb.last), scene.limb
    # A gutter on the index side leaves the little-finger side of the palm free.
    gutter = bool(set(enclosed) & set(FINGERS)) and Part.LITTLE not in enclosed
    if gutter:
        end = min(end, WRIST)
    areas = [(limb, replace(on, start=max(on.start, limb.first), end=end, bend=scene.bend))]
    if gutter:
        areas.append((limb, Stretch(WRIST + 2, KNUCKLES, *palm)))
    return tuple(areas)


def tube(limb: Profile, on: Stretch, pad: float = PAD) -> Line:
    """The closed outline of a shell over a stretch of a limb without branches."""
    over, under = (
        limb.along(on.start, on.end, on.high, edge_pad(on.high, pad)),
        limb.along(on.end, on.start, on.low, edge_pad(on.low, pad)),
    )
    return join(
        smooth(over),
        arc_across(limb, on.end, on.high, on.low, pad),
        smooth(under),
        arc_across(limb, on.start, on.low, on.high, pad),
    )


def edge_pad(across: float, pad: float) -> float:
    """The distance of an edge of a shell from the skin: `pad` at the edges of the limb (0 and 1), none on its surface."""
    return pad if across in (0, 1) else 0


def arc_across(limb: Profile, level: float, first: float, last: float, pad: float = PAD) -> Line:
    """A curve across the limb at a level, from place `first` to `last`; it bulges toward the tips, as on a round limb."""
    start, end = limb.at(level, first, edge_pad(first, pad)), limb.at(level, last, edge_pad(last, pad))
    width = abs(complex(start[0] - end[0], start[1] - end[1]))
    return smooth([start, moved(interpolate(start, end, 0.5), limb.direction(level), width * 0.14), end])


def around_thumb(scene: Scene, web: Point, end: float, enclosed: tuple[Part, ...], pad: float) -> Line:
    """The thumb side of a sleeve over the hand, an open line: around the thumb or across its hole, then into the `web`."""
    thumb = scene.digits[Part.THUMB]
    if Part.THUMB not in enclosed:
        rim = moved(thumb.at(HOLE, 0.5), thumb.direction(HOLE), pad)
        return join(smooth([thumb.at(HOLE, 1, pad), rim, thumb.at(HOLE, 0)]), smooth([web]), close=False)
    over, under, direction = thumb.rounded_end(max(min(end, TIPS), LAST), pad)
    fold = [] if Part.INDEX in enclosed else [web]  # a cover over thumb and index finger hides the web
    return join(
        smooth([thumb.at(91, 1, pad), over]),
        cap(over, under, direction),
        smooth([under, thumb.at(93.5, 0, pad), *fold]),
        close=False,
    )


def around_fingers(fingers: list[Profile], end: float, pad: float) -> Line:
    """An open line around neighboring fingers as one, from the index side over the tips to the little-finger side."""
    first, last = fingers[0], fingers[-1]
    tips: list[Point] = [moved(finger.at(end, 0.5), finger.direction(end), pad) for finger in fingers]
    corners = moved(first.at(end, 1, pad), first.direction(end), pad), moved(last.at(end, 0, pad), last.direction(end), pad)
    out, back = first.along(KNUCKLES + pad / 2, end - 2, 1, pad), last.along(end - 2, KNUCKLES, 0, pad)
    return smooth([*out, corners[0], *tips[1:-1], corners[1], *back])


def rolled_edges(scene: Scene, on: Stretch, ends: tuple[float, ...]) -> Line:
    """The soft padding that shows at the ends of a cast: a line across the limb at each of the levels `ends`."""
    drawn = Line()
    for level in ends:
        drawn += arc_across(scene.limb, level, on.low, on.high)
    return drawn


def bandage(scene: Scene, on: Stretch, limb: Profile | None = None) -> Line:
    """Turns of a bandage around the limb within its spans, at most four in each, with gaps between them."""
    limb = limb or scene.limb
    drawn = Line()
    for low, high in scene.spans:
        first, last = max(on.start + 1, low), min(on.end - 0.5, high)
        if last - first < 3:
            continue
        turns = max(1, min(4, round(limb.length(first, last) / TURN)))
        step = (last - first) / turns
        for turn in range(turns):
            drawn += band(limb, first + step * (turn + 0.25), step * 0.5)
    return drawn


def band(limb: Profile, level: float, width: float, pad: float = PAD + 1) -> Line:
    """One turn of a bandage from `level` on, `width` levels wide: a closed outline across the limb, slanting as it is wound."""
    far, slant = level + width, width * 0.3
    near_over, far_over = limb.at(level + slant, 1, pad), limb.at(far + slant, 1, pad)
    near_under, far_under = limb.at(level, 0, pad), limb.at(far, 0, pad)
    bulge = abs(complex(near_over[0] - near_under[0], near_over[1] - near_under[1])) * 0.12
    direction = limb.direction(level + width / 2)
    near_middle = moved(interpolate(near_over, near_under, 0.5), direction, bulge)
    far_middle = moved(interpolate(far_over, far_under, 0.5), direction, bulge)
    return join(smooth([near_under, near_middle, near_over]), smooth([far_over, far_middle, far_under]))
