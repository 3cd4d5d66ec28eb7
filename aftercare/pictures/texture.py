"""The surface of each family of material, drawn inside the shell: finer and lighter than the outline."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import NamedTuple

from aftercare.library.devices import Family
from aftercare.pictures.cover import Stretch, Woven
from aftercare.pictures.ladder import Ladder
from aftercare.pictures.line import Line, between, moved, smooth
from aftercare.pictures.style import THREAD, element

INSET = 0.03  # threads keep this much of the width clear of the edge
STITCH, MOST = 12.5, 12  # units between the threads of a knit, and how many a long cast may have


class Texture(NamedTuple):
    """How a family is drawn: lines on a stretch of limb, and their paint."""

    draw: Callable[[Ladder, Stretch], Line]
    paint: Mapping[str, str | float]


def textured(family: Family, woven: Woven, mirror: float) -> str:
    """The texture of a family over stretches of limb, as one element; nothing where there is no stretch."""
    if not woven:
        return ""
    texture = TEXTURES[family]
    line = sum((texture.draw(limb, stretch) for limb, stretch in woven), Line())
    return element("path", line=line.data(mirror, 0), **texture.paint)


def turns(apart: float) -> Callable[[Ladder, Stretch], Line]:
    """The edges of the turns a roll leaves, `apart` units from each other."""

    def draw(limb: Ladder, on: Stretch) -> Line:
        count = max(1, round(limb.length(on.start, on.end) / apart))
        step, drawn = (on.end - on.start) / count, Line()
        for turn in range(1, count):
            level, slant = on.start + step * turn, step * 0.3
            one, two = limb.at(level - slant, on.low), limb.at(level + slant, on.high)
            bulge = abs(complex(one[0] - two[0], one[1] - two[1])) * 0.16
            drawn += smooth([one, moved(between(one, two, 0.5), limb.onward(level), bulge), two])
        return drawn

    return draw


def threads(limb: Ladder, on: Stretch, ways: tuple[int, ...]) -> Line:
    """Slanting threads, one way round (1), the other (-1), or both; none where the limb bends sharply."""
    near, far = on.bend
    straight = (on.start, min(on.end, near)), (max(on.start, far), on.end)
    drawn = Line()
    for start, end in straight:
        if end - start > 3:
            for way in ways:
                drawn += one_way(limb, replace(on, start=start, end=end), way)
    return drawn


def one_way(limb: Ladder, on: Stretch, way: int) -> Line:
    """Parallel threads over a straight stretch, at about 45 degrees, cut off at its ends."""
    along, middle = limb.length(on.start, on.end), (on.start + on.end) / 2
    under, over = limb.edges(middle)
    slant = abs(complex(over[0] - under[0], over[1] - under[1])) * (on.high - on.low) / along
    step = 1 / min(MOST, max(2, round(along / STITCH)))
    thread, drawn = step - slant, Line()
    while thread < 1:
        begin, stop = max(0.0, -thread / slant), min(1.0, (1 - thread) / slant)
        if stop - begin > 0.15:  # shorter ones would be specks in a corner
            drawn += smooth(
                [_on_thread(limb, on, thread + part * slant, part if way > 0 else 1 - part) for part in (begin, stop)]
            )
        thread += step
    return drawn


def _on_thread(limb: Ladder, on: Stretch, along: float, across: float) -> tuple[float, float]:
    level = on.start + (on.end - on.start) * min(max(along, 0.02), 0.98)
    return limb.at(level, on.low + (INSET + across * (1 - 2 * INSET)) * (on.high - on.low))


def seams(limb: Ladder, on: Stretch) -> Line:
    """A stitched line along both edges."""
    inset = 0.12 * (on.high - on.low)
    return smooth(limb.rail(on.start + 1, on.end - 1, on.low + inset)) + smooth(
        limb.rail(on.start + 1, on.end - 1, on.high - inset)
    )


TEXTURES: Mapping[Family, Texture] = MappingProxyType(
    {
        Family.PLASTER: Texture(turns(30), {"stroke": THREAD, "stroke_width": 1.1}),
        Family.FIBERGLASS: Texture(lambda limb, on: threads(limb, on, (1, -1)), {"stroke": THREAD, "stroke_width": 0.9}),
        Family.SEMI_RIGID: Texture(lambda limb, on: threads(limb, on, (1,)), {"stroke": THREAD, "stroke_width": 0.9}),
        Family.SOFT: Texture(turns(13), {"stroke_width": 1.1}),
        Family.THERMOPLASTIC: Texture(turns(9), {"stroke": THREAD, "stroke_width": 2, "stroke_dasharray": ".1 8"}),
        Family.METAL: Texture(seams, {"stroke": THREAD, "stroke_width": 1.1}),
        Family.PREFABRICATED: Texture(seams, {"stroke": THREAD, "stroke_width": 1.1, "stroke_dasharray": "3 3"}),
    }
)
