"""Paths as smooth curves through few points, and as SVG path data. Picture units: x to the right, y down, (0, 0) upper left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]  # (x, y); also a direction or an offset
Command = tuple[str, tuple[Point, ...]]  # an SVG path command (M, L, Q, C or Z) with absolute points


def interpolate(start: Point, end: Point, fraction: float) -> Point:
    """The point at `fraction` of the way from `start` to `end`; below 0 or above 1 it lies beyond them."""
    return start[0] + (end[0] - start[0]) * fraction, start[1] + (end[1] - start[1]) * fraction


def moved(point: Point, direction: Point, distance: float) -> Point:
    """The point `distance` units from `point` along `direction`, a vector of any length but zero."""
    length = abs(complex(*direction))
    return point[0] + direction[0] / length * distance, point[1] + direction[1] / length * distance


@dataclass(frozen=True, slots=True)
class Line:
    """A path, open or closed, of one or more parts; each part begins with M. As stored it shows the patient's right side."""

    commands: tuple[Command, ...] = ()

    def __add__(self, other: Line) -> Line:
        return Line(self.commands + other.commands)

    def reversed(self) -> Line:
        """The same open path of one part from its end to its start."""
        here = self.commands[0][1][-1]
        commands: list[Command] = []
        for letter, points in self.commands[1:]:
            commands.append((letter, (*reversed(points[:-1]), here)))
            here = points[-1]
        return Line((("M", (here,)), *reversed(commands)))

    def data(self, mirror_at: float = 0, decimals: int = 1) -> str:
        """The `d` attribute in relative commands, as short as possible.

        Not 0, `mirror_at` is the width within which the path is mirrored left to right. Coordinates are rounded to half units,
        or to whole units with `decimals=0`.
        """
        written: list[str] = []
        here, start, previous = (0.0, 0.0), (0.0, 0.0), ""
        for letter, points in self.commands:
            placed = [(_rounded(mirror_at - x if mirror_at else x, decimals), _rounded(y, decimals)) for x, y in points]
            # All points of one relative command count from where the command began.
            numbers = "".join(_number(point[axis] - here[axis], decimals) for point in placed for axis in (0, 1))
            command = letter.lower()
            written.append(numbers if command == previous and command != "m" else command + numbers.removeprefix(" "))
            here, previous = (placed[-1] if placed else start), command
            start = here if letter == "M" else start
        return "".join(written)


def _rounded(value: float, decimals: int) -> float:
    """To half units: finer than a line is wide, and every second one needs no decimal. To whole units for 0 decimals."""
    return round(value * 2) / 2 if decimals else round(value)


def _number(value: float, decimals: int) -> str:
    """A number of path data after its separator: a blank, or its own minus sign."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    text = text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text
    text = "0" if text in ("-0", "") else text
    return text if text.startswith("-") else f" {text}"


def smooth(points: Sequence[Point]) -> Line:
    """An open path from the first point to the last, curved toward each point between; straight when there is none.

    Quadratic curves with the inner points as controls, joined halfway between them.
    """
    commands: list[Command] = [("M", (points[0],))]
    inner = points[1:-1]
    for place, control in enumerate(inner):
        end = points[-1] if place == len(inner) - 1 else interpolate(control, inner[place + 1], 0.5)
        commands.append(("Q", (control, end)))
    if not inner and len(points) > 1:
        commands.append(("L", (points[-1],)))
    return Line(tuple(commands))


def cap(over: Point, under: Point, direction: Point) -> Line:
    """A round end like a fingertip, for `join` after a path that ends at `over`: a curve to `under`, bulging along `direction`.

    It is one C command without an M before it.
    """
    reach = abs(complex(over[0] - under[0], over[1] - under[1])) * 0.66  # two thirds of the width: close to a half circle
    return Line((("C", (moved(over, direction, reach), moved(under, direction, reach), under)),))


def join(*lines: Line, close: bool = True) -> Line:
    """One part from several, end to start, closed unless `close` is false.

    Where a line starts elsewhere than the last one ended, a straight stroke joins them.
    """
    commands: list[Command] = []
    here: Point | None = None
    for line in lines:
        for letter, points in line.commands:
            if letter in "ML":
                if here is not None and abs(complex(points[0][0] - here[0], points[0][1] - here[1])) < 0.05:
                    continue  # already there: 0.05 units are below what is written
                letter = "L" if commands else "M"
            commands.append((letter, points))
            here = points[-1] if points else here
    return Line((*commands, ("Z", ()))) if close else Line(tuple(commands))


def closed_shape(*sides: Sequence[Point]) -> Line:
    """A closed path of smooth sides, with corners only where two sides meet."""
    return join(*(smooth(side) for side in sides))


def circle(center: Point, radius: float) -> Line:
    """A circle of four C commands, so that it is mirrored like any line."""
    x, y = center
    r = radius
    k = radius * 0.55  # control distance of the usual cubic approximation of a quarter circle
    return Line(
        (
            ("M", ((x, y - r),)),
            ("C", ((x + k, y - r), (x + r, y - k), (x + r, y))),
            ("C", ((x + r, y + k), (x + k, y + r), (x, y + r))),
            ("C", ((x - k, y + r), (x - r, y + k), (x - r, y))),
            ("C", ((x - r, y - k), (x - k, y - r), (x, y - r))),
        )
    )
