"""The surface of each family of material, drawn inside the shell: faint enough to sit behind the outline."""

from __future__ import annotations

from collections.abc import Callable

from aftercare.library.devices import Family
from aftercare.page.pictures.cover import Stretch
from aftercare.page.pictures.ladder import Ladder
from aftercare.page.pictures.line import Line, between, moved, smooth
from aftercare.page.pictures.style import THREAD, element

INSET = 0.05  # textures keep this much of the width clear of the edge
STITCH, MOST = 15, 12  # units between the threads of a knit, and how many a long cast may have


Woven = tuple[tuple[Ladder, Stretch], ...]


def textured(family: Family, woven: Woven, mirror: float) -> str:
    """The texture of a family over stretches of limb, as one element; nothing where there is no stretch."""
    if not woven:
        return ""
    draw, attributes = TEXTURES[family]
    line = sum((draw(limb, stretch) for limb, stretch in woven), Line())
    return element("path", line=line.data(mirror, 0), **attributes)


def turns(limb: Ladder, stretch: Stretch, apart: float) -> Line:
    """The edges of the turns a roll leaves."""
    start, end, low, high = stretch.start, stretch.end, stretch.low, stretch.high
    count = max(1, round(limb.length(start, end) / apart))
    drawn = Line()
    for turn in range(1, count):
        level = start + (end - start) * turn / count
        slant = (end - start) / count * 0.3
        one, two = limb.at(level - slant, low), limb.at(level + slant, high)
        wide = abs(complex(one[0] - two[0], one[1] - two[1]))
        drawn += smooth([one, moved(between(one, two, 0.5), limb.onward(level), wide * 0.16), two])
    return drawn


def weave(limb: Ladder, stretch: Stretch, way: int) -> Line:
    """Slanting threads one way round."""
    start, end, low, high = stretch.start, stretch.end, stretch.low, stretch.high
    along = limb.length(start, end)
    rise = abs(complex(*limb.at((start + end) / 2, 0)) - complex(*limb.at((start + end) / 2, 1))) * (high - low) / along
    count = min(MOST, max(2, round(along / STITCH)))
    drawn = Line()
    step, thread = 1 / count, -rise
    while thread < 1:
        thread += step
        begin, stop = max(0.0, -thread / rise), min(1.0, (1 - thread) / rise)
        if stop - begin < 0.15:
            continue
        ends = []
        for part in (begin, stop):
            across = part if way > 0 else 1 - part
            across = low + (INSET + across * (1 - 2 * INSET)) * (high - low)
            ends.append(limb.at(start + (end - start) * min(max(thread + part * rise, 0.02), 0.98), across))
        drawn += smooth(ends)
    return drawn


def seams(limb: Ladder, stretch: Stretch) -> Line:
    """A stitched line along both edges."""
    start, end, low, high = stretch.start, stretch.end, stretch.low, stretch.high
    inset = 0.12 * (high - low)
    return smooth(limb.rail(start + 1, end - 1, low + inset)) + smooth(limb.rail(start + 1, end - 1, high - inset))


def knit(limb: Ladder, stretch: Stretch) -> Line:
    """Threads both ways."""
    return weave(limb, stretch, 1) + weave(limb, stretch, -1)


TEXTURES: dict[Family, tuple[Callable[[Ladder, Stretch], Line], dict[str, str | float]]] = {
    Family.PLASTER: (lambda limb, stretch: turns(limb, stretch, 30), {"stroke": THREAD, "stroke_width": 1.1}),
    Family.FIBERGLASS: (knit, {"stroke": THREAD, "stroke_width": 0.9}),
    Family.SEMI_RIGID: (lambda limb, stretch: weave(limb, stretch, 1), {"stroke": THREAD, "stroke_width": 0.9}),
    Family.SOFT: (lambda limb, stretch: turns(limb, stretch, 13), {"stroke_width": 1.1}),
    Family.THERMOPLASTIC: (lambda limb, stretch: turns(limb, stretch, 9), {"stroke": THREAD, "stroke_width": 2, "stroke_dasharray": ".1 8"}),
    Family.METAL: (lambda limb, stretch: seams(limb, stretch), {"stroke": THREAD, "stroke_width": 1.1}),
    Family.PREFABRICATED: (lambda limb, stretch: seams(limb, stretch), {"stroke": THREAD, "stroke_width": 1.1, "stroke_dasharray": "3 3"}),
}
