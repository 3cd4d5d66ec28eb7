"""Drawn outlines as polygons, and whether a point lies inside: what the tests of pictures measure with."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from xml.etree import ElementTree

from aftercare.pictures.line import Line, Point, interpolate

_TAKES = {"m": 2, "l": 2, "q": 4, "c": 6, "z": 0}
_TOKEN = re.compile(r"[a-zA-Z]|-?(?:\d+\.?\d*|\.\d+)")


def polygon(line: Line, pieces: int = 8) -> list[Point]:
    """The corners of a path, its curves cut into short straight pieces (de Casteljau)."""
    found: list[Point] = []
    for _, points in line.commands:
        if len(points) == 1:
            found.append(points[0])
        elif points:
            found += [_on_curve((found[-1], *points), part / pieces) for part in range(1, pieces + 1)]
    return found


def _on_curve(controls: tuple[Point, ...], part: float) -> Point:
    while len(controls) > 1:
        controls = tuple(interpolate(one, two, part) for one, two in pairwise(controls))
    return controls[0]


def inside(point: Point, corners: list[Point]) -> bool:
    """Whether a point lies in a polygon: how often the polygon winds round it, as SVG's nonzero rule has it."""
    x, y = point
    winds = 0
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (ay <= y) != (by <= y) and x < ax + (y - ay) * (bx - ax) / (by - ay):  # the edge crosses the ray to the right
            winds += 1 if by > ay else -1
    return winds != 0


def paths(svg: str) -> Iterator[tuple[ElementTree.Element, list[Point]]]:
    """Every path element with the absolute points of its data, control points included."""
    for element in ElementTree.fromstring(svg).iter():
        if element.tag.endswith("path"):
            yield element, absolute(element.get("d", ""))


def absolute(data: str) -> list[Point]:
    """Path data of relative M, L, Q, C and Z commands as absolute points."""
    tokens = _TOKEN.findall(data)
    here, begun, found = (0.0, 0.0), (0.0, 0.0), []
    command, at = "", 0
    while at < len(tokens):
        if tokens[at].isalpha():
            command, at = tokens[at], at + 1
        numbers = [float(token) for token in tokens[at : at + _TAKES[command]]]
        at += len(numbers)
        points = [(here[0] + x, here[1] + y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        found += points
        here = points[-1] if points else begun
        begun = here if command == "m" else begun
    return found
