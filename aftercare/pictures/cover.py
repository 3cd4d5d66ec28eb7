"""The shape of a device laid over a limb: from its levels, its shape and what it encloses."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from aftercare.library.body import FINGERS, LEVEL, Landmark, Part
from aftercare.pictures.ladder import Ladder
from aftercare.pictures.line import Line, Point, between, cap, moved, onto, smooth
from aftercare.pictures.scene import Scene, Span
from aftercare.pictures.style import PAD

WRIST, CREASE, KNUCKLES = LEVEL[Landmark.WRIST], LEVEL[Landmark.PALM_CREASE], LEVEL[Landmark.KNUCKLES]
LAST, TIPS, TOE_ROOTS = LEVEL[Landmark.TIP_JOINTS], LEVEL[Landmark.FINGERTIPS], LEVEL[Landmark.TOE_ROOTS]
TURN = 27  # units from one turn of bandage to the next: about a bandage and its gap
HOLE = 91.7  # the thumb hole of a cast lies about the thumb's base joint, just where the web begins


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
    """The part of a ladder a shell covers: from level to level, from one place across to another.

    `bend` is where the limb turns so sharply that threads would bunch.
    """

    start: float
    end: float
    low: float = 0.0
    high: float = 1.0
    bend: Span = (0, 0)


Woven = tuple[tuple[Ladder, Stretch], ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """One painted shape; `woven` is where its material's texture goes, `behind` puts it behind the limb."""

    line: Line
    look: Look = Look.SHELL
    woven: Woven = ()
    behind: bool = False


def sleeve(scene: Scene, on: Stretch, enclosed: tuple[Part, ...], pad: float = PAD) -> Line:
    """A shell over a stretch, with the enclosed digits inside; `pad` is how far it stands off at the limb's edges."""
    if scene.web is None:
        return tube(scene.limb, on, pad)
    limb, reach = scene.limb, min(on.end, WRIST)
    fingers = [scene.digits[part] for part in FINGERS if part in enclosed]
    parts = [smooth(limb.rail(on.start, reach, on.high, edge(on.high, pad)))]
    if on.end > WRIST and on.high == 1:
        parts.append(past_thumb(scene, scene.web, on.end, enclosed, pad))
    if fingers:
        parts.append(round_fingers(fingers, max(on.end, 90.0), pad))
    elif on.high == 1 and on.low > 0 and on.end > WRIST:
        parts.append(smooth([limb.at(reach + 2, on.low)]))
    else:
        parts += [smooth(limb.rail(reach, on.end, on.high))] if on.high < 1 else []
        parts.append(bow(limb, on.end, on.high, on.low, pad))
    back = WRIST if (fingers and Part.LITTLE not in enclosed) or (on.low > 0 and on.high == 1) else min(on.end, KNUCKLES - 1)
    parts.append(smooth(limb.rail(back, on.start, on.low, edge(on.low, pad))))
    return onto(*parts, bow(limb, on.start, on.low, on.high, pad))


def surface(scene: Scene, on: Stretch, enclosed: tuple[Part, ...], palm: tuple[float, float] = (0, 1)) -> Woven:
    """Where the texture of a sleeve goes: the limb, not the digits.

    `palm` is how far across the hand the sleeve reaches where it goes on round some of the fingers.
    """
    end, limb = min(on.end, CREASE if scene.web is not None else scene.limb.last), scene.limb
    gutter = (
        bool(set(enclosed) & set(FINGERS)) and Part.LITTLE not in enclosed
    )  # leaves the little-finger side of the palm bare
    if gutter:
        end = min(end, WRIST)
    found = [(limb, replace(on, start=max(on.start, limb.first), end=end, bend=scene.bend))]
    if gutter:
        found.append((limb, Stretch(WRIST + 2, KNUCKLES, *palm)))
    return tuple(found)


def tube(limb: Ladder, on: Stretch, pad: float = PAD) -> Line:
    """A shell over a stretch of a plain limb."""
    over, under = (
        limb.rail(on.start, on.end, on.high, edge(on.high, pad)),
        limb.rail(on.end, on.start, on.low, edge(on.low, pad)),
    )
    return onto(smooth(over), bow(limb, on.end, on.high, on.low, pad), smooth(under), bow(limb, on.start, on.low, on.high, pad))


def edge(across: float, pad: float) -> float:
    """Only the limb's own edges are padded."""
    return pad if across in (0, 1) else 0


def bow(limb: Ladder, level: float, first: float, last: float, pad: float = PAD) -> Line:
    """A soft line across the limb, bulging toward the tips so that it looks round."""
    one, two = limb.at(level, first, edge(first, pad)), limb.at(level, last, edge(last, pad))
    width = abs(complex(one[0] - two[0], one[1] - two[1]))
    return smooth([one, moved(between(one, two, 0.5), limb.onward(level), width * 0.14), two])


def past_thumb(scene: Scene, web: Point, end: float, enclosed: tuple[Part, ...], pad: float) -> Line:
    """On along the hand's thumb side: round the thumb, or across its hole, and down into the `web`."""
    thumb = scene.digits[Part.THUMB]
    if Part.THUMB not in enclosed:
        rim = moved(thumb.at(HOLE, 0.5), thumb.onward(HOLE), pad)
        return onto(smooth([thumb.at(HOLE, 1, pad), rim, thumb.at(HOLE, 0)]), smooth([web]), close=False)
    over, under, onward = thumb.end(max(min(end, TIPS), LAST), pad)
    fold = [] if Part.INDEX in enclosed else [web]  # covered on both sides, the web disappears
    return onto(
        smooth([thumb.at(91, 1, pad), over]),
        cap(over, under, onward),
        smooth([under, thumb.at(93.5, 0, pad), *fold]),
        close=False,
    )


def round_fingers(fingers: list[Ladder], end: float, pad: float) -> Line:
    """Round several neighboring fingers as one, index side first."""
    first, last = fingers[0], fingers[-1]
    tips: list[Point] = [moved(finger.at(end, 0.5), finger.onward(end), pad) for finger in fingers]
    corners = moved(first.at(end, 1, pad), first.onward(end), pad), moved(last.at(end, 0, pad), last.onward(end), pad)
    out, home = first.rail(KNUCKLES + pad / 2, end - 2, 1, pad), last.rail(end - 2, KNUCKLES, 0, pad)
    return smooth([*out, corners[0], *tips[1:-1], corners[1], *home])


def rolls(scene: Scene, on: Stretch, ends: tuple[float, ...]) -> Line:
    """The soft padding that shows at the ends of a cast."""
    drawn = Line()
    for level in ends:
        drawn += bow(scene.limb, level, on.low, on.high)
    return drawn


def bandage(scene: Scene, on: Stretch, limb: Ladder | None = None) -> Line:
    """Turns of bandage round limb and slab with the skin showing between them."""
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


def band(limb: Ladder, level: float, width: float, pad: float = PAD + 1) -> Line:
    """One turn across the limb, slanting a little, as it is wound; `width` in levels."""
    far, slant = level + width, width * 0.3
    near_over, far_over = limb.at(level + slant, 1, pad), limb.at(far + slant, 1, pad)
    near_under, far_under = limb.at(level, 0, pad), limb.at(far, 0, pad)
    bulge = abs(complex(near_over[0] - near_under[0], near_over[1] - near_under[1])) * 0.12
    onward = limb.onward(level + width / 2)
    one, two = (
        moved(between(near_over, near_under, 0.5), onward, bulge),
        moved(between(far_over, far_under, 0.5), onward, bulge),
    )
    return onto(smooth([near_under, one, near_over]), smooth([far_over, two, far_under]))
