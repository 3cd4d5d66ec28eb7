"""Drawn lines: soft curves from a few points, and the shortest path data that says them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
Step = tuple[str, tuple[Point, ...]]  # an SVG path command (M, L, Q, C or Z) with absolute points


def between(one: Point, other: Point, part: float) -> Point:
    """The point a `part` (0 to 1) of the way from one to the other; beyond either for other values."""
    return one[0] + (other[0] - one[0]) * part, one[1] + (other[1] - one[1]) * part


def moved(point: Point, toward: Point, length: float) -> Point:
    """`point` pushed `length` units along the direction `toward` (any length but zero)."""
    size = abs(complex(*toward))
    return point[0] + toward[0] / size * length, point[1] + toward[1] / size * length


@dataclass(frozen=True, slots=True)
class Line:
    """A path, right side of the patient; written mirrored for the left."""

    steps: tuple[Step, ...] = ()

    def __add__(self, other: Line) -> Line:
        return Line(self.steps + other.steps)

    @property
    def points(self) -> tuple[Point, ...]:
        """Every point of the path, control points included."""
        return tuple(point for _, points in self.steps for point in points)

    def data(self, mirror_at: float = 0, decimals: int = 1) -> str:
        """The `d` attribute in relative commands; `mirror_at` is the width to mirror within, 0 for none."""
        written: list[str] = []
        here, begun, before = (0.0, 0.0), (0.0, 0.0), ""
        for letter, points in self.steps:
            placed = [(_near(mirror_at - x if mirror_at else x, decimals), _near(y, decimals)) for x, y in points]
            # every point of one relative command counts from where the command began
            numbers = "".join(_number(point[axis] - here[axis], decimals) for point in placed for axis in (0, 1))
            command = letter.lower()
            written.append(numbers if command == before and command != "m" else command + numbers.removeprefix(" "))
            here, before = (placed[-1] if placed else begun), command
            begun = here if letter == "M" else begun
        return "".join(written)


def _near(value: float, decimals: int) -> float:
    """Half units are finer than the line is wide, and half of them need no decimal."""
    return round(value * 2) / 2 if decimals else round(value)


def _number(value: float, decimals: int) -> str:
    """One number with the separator it needs before it: a blank, or its own minus sign."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    text = text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text
    text = "0" if text in ("-0", "") else text
    return text if text.startswith("-") else f" {text}"


def smooth(points: Sequence[Point], *, on: bool = False) -> Line:
    """A soft line from the first point to the last, drawn toward those between; `on` continues a line begun before."""
    steps: list[Step] = [("L" if on else "M", (points[0],))]
    inner = points[1:-1]
    for place, control in enumerate(inner):
        end = points[-1] if place == len(inner) - 1 else between(control, inner[place + 1], 0.5)
        steps.append(("Q", (control, end)))
    if not inner and len(points) > 1:
        steps.append(("L", (points[-1],)))
    return Line(tuple(steps))


def cap(over: Point, under: Point, onward: Point) -> Line:
    """Round a soft end like a fingertip: from `over` (where the line is) to `under`, bulging along `onward`."""
    reach = abs(complex(over[0] - under[0], over[1] - under[1])) * 0.66  # two thirds: a cubic's closest half circle
    return Line((("C", (moved(over, onward, reach), moved(under, onward, reach), under)),))


def onto(*lines: Line, close: bool = True) -> Line:
    """Lines joined end to end into one shape; a new line's move becomes a straight stroke, or nothing when already there."""
    steps: list[Step] = []
    here: Point | None = None
    for line in lines:
        for letter, points in line.steps:
            if letter in "ML":
                if here is not None and abs(complex(points[0][0] - here[0], points[0][1] - here[1])) < 0.05:
                    continue
                letter = "L" if steps else "M"
            steps.append((letter, points))
            here = points[-1] if points else here
    return Line((*steps, ("Z", ()))) if close else Line(tuple(steps))


def closed(*pieces: Sequence[Point]) -> Line:
    """A closed shape of soft lines with corners only where two pieces meet."""
    return onto(*(smooth(piece) for piece in pieces))


def ring(center: Point, radius: float) -> Line:
    """A circle from four soft bows, so that it mirrors like any line."""
    x, y = center
    k = radius * 0.55  # the usual cubic approximation of a quarter circle
    r = radius
    return Line(
        (
            ("M", ((x, y - r),)),
            ("C", ((x + k, y - r), (x + r, y - k), (x + r, y))),
            ("C", ((x + r, y + k), (x + k, y + r), (x, y + r))),
            ("C", ((x - k, y + r), (x - r, y + k), (x - r, y))),
            ("C", ((x - r, y - k), (x - k, y - r), (x, y - r))),
        )
    )
