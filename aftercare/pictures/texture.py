"""The texture of each family of material, drawn inside the outline of a shell with finer and lighter lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import NamedTuple

from aftercare.library.devices import Family
from aftercare.pictures.cover import Stretch, TexturedAreas
from aftercare.pictures.line import Line, Point, interpolate, moved, smooth
from aftercare.pictures.profile import Profile
from aftercare.pictures.style import THREAD, element

INSET = 0.03  # the part of a stretch's width that threads leave free at each edge
THREAD_SPACING, MOST_THREADS = 12.5, 12  # units between the threads of a knit, and how many a long cast may have


class Texture(NamedTuple):
    """How a family is drawn: the lines on a stretch of a limb, and the attributes of their path element."""

    draw: Callable[[Profile, Stretch], Line]
    paint: Mapping[str, str | float]


def draw_texture(family: Family, areas: TexturedAreas, mirror: float) -> str:
    """The texture of a family over stretches of a limb, as one path element; "" where there is no stretch."""
    if not areas:
        return ""
    texture = TEXTURES[family]
    line = sum((texture.draw(limb, stretch) for limb, stretch in areas), Line())
    return element("path", line=line.data(mirror, 0), **texture.paint)


def lines_across(apart: float) -> Callable[[Profile, Stretch], Line]:
    """A function that draws curves across the limb, `apart` units from each other: edges of bandage turns, or rows of holes."""

    def draw(limb: Profile, on: Stretch) -> Line:
        count = max(1, round(limb.length(on.start, on.end) / apart))
        step, drawn = (on.end - on.start) / count, Line()
        for turn in range(1, count):
            level, slant = on.start + step * turn, step * 0.3
            low, high = limb.at(level - slant, on.low), limb.at(level + slant, on.high)
            bulge = abs(complex(low[0] - high[0], low[1] - high[1])) * 0.16
            drawn += smooth([low, moved(interpolate(low, high, 0.5), limb.direction(level), bulge), high])
        return drawn

    return draw


def threads(limb: Profile, on: Stretch, ways: tuple[int, ...]) -> Line:
    """Slanting threads in one direction (1), the other (-1), or both; none where the limb bends sharply."""
    near, far = on.bend
    straight = (on.start, min(on.end, near)), (max(on.start, far), on.end)
    drawn = Line()
    for start, end in straight:
        if end - start > 3:
            for way in ways:
                drawn += parallel_threads(limb, replace(on, start=start, end=end), way)
    return drawn


def parallel_threads(limb: Profile, on: Stretch, way: int) -> Line:
    """Parallel threads over a straight stretch, at about 45 degrees, in direction `way` (1 or -1), cut off at its ends."""
    along, middle = limb.length(on.start, on.end), (on.start + on.end) / 2
    under, over = limb.edges(middle)
    slant = abs(complex(over[0] - under[0], over[1] - under[1])) * (on.high - on.low) / along
    step = 1 / min(MOST_THREADS, max(2, round(along / THREAD_SPACING)))
    thread, drawn = step - slant, Line()
    while thread < 1:
        begin, stop = max(0.0, -thread / slant), min(1.0, (1 - thread) / slant)
        if stop - begin > 0.15:  # shorter ones would be specks in a corner
            drawn += smooth(
                [_on_thread(limb, on, thread + part * slant, part if way > 0 else 1 - part) for part in (begin, stop)]
            )
        thread += step
    return drawn


def _on_thread(limb: Profile, on: Stretch, along: float, across: float) -> Point:
    """A point of a thread from its fractions of the stretch's length and width."""
    level = on.start + (on.end - on.start) * min(max(along, 0.02), 0.98)
    return limb.at(level, on.low + (INSET + across * (1 - 2 * INSET)) * (on.high - on.low))


def seams(limb: Profile, on: Stretch) -> Line:
    """A seam along each edge, as open lines."""
    inset = 0.12 * (on.high - on.low)
    return smooth(limb.along(on.start + 1, on.end - 1, on.low + inset)) + smooth(
        limb.along(on.start + 1, on.end - 1, on.high - inset)
    )


TEXTURES: Mapping[Family, Texture] = MappingProxyType(
    {
        Family.PLASTER: Texture(lines_across(30), {"stroke": THREAD, "stroke_width": 1.1}),
        Family.FIBERGLASS: Texture(lambda limb, on: threads(limb, on, (1, -1)), {"stroke": THREAD, "stroke_width": 0.9}),
        Family.SEMI_RIGID: Texture(lambda limb, on: threads(limb, on, (1,)), {"stroke": THREAD, "stroke_width": 0.9}),
        Family.SOFT: Texture(lines_across(13), {"stroke_width": 1.1}),
        Family.THERMOPLASTIC: Texture(lines_across(9), {"stroke": THREAD, "stroke_width": 2, "stroke_dasharray": ".1 8"}),
        Family.METAL: Texture(seams, {"stroke": THREAD, "stroke_width": 1.1}),
        Family.PREFABRICATED: Texture(seams, {"stroke": THREAD, "stroke_width": 1.1, "stroke_dasharray": "3 3"}),
    }
)
