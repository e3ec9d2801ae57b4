"""Points and outlines: the geometry that every plate is built of. x runs right and y runs down, in units of the 320 × 240 sheet."""

import math
import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from random import Random

Point = tuple[float, float]
Points = Sequence[Point]


def number(value: float) -> str:
    """A coordinate to a tenth of a unit, as short as it can be written.

    >>> number(12.0), number(3.14159), number(-0.04)
    ('12', '3.1', '0')
    """
    text = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


# Points of a path lie on a grid of half units: nobody sees it on the sheet, and the files are a fifth shorter.
GRID = 2


def _short(value: float) -> str:
    """A number of path data, which may begin with its point.

    >>> _short(0.5), _short(-0.5), _short(12.0)
    ('.5', '-.5', '12')
    """
    return number(value).replace("0.", ".", 1) if abs(value) < 1 else number(value)


def _joined(numbers: Iterable[str]) -> str:
    """Numbers, or runs of them, one after the other; a minus parts them as well as a space does, and so does a second point.

    >>> _joined(["1.5", ".5", "-2", "3", ".5"])
    '1.5.5-2 3 .5'
    """
    text, last = "", ""
    for said in numbers:
        apart = text == "" or said.startswith("-") or (said.startswith(".") and "." in last)
        text += said if apart else " " + said
        last = re.split("[ -]", said)[-1]
    return text


def _start(point: Point, grid: int = GRID) -> str:
    return _joined(_short(round(value * grid) / grid) for value in point)


def _steps(points: Iterable[Point], start: Point, grid: int = GRID) -> list[Point]:
    """The points as steps on the grid, from `start`: rounded before they are taken apart, so that no error adds up."""
    found: list[Point] = []
    sx, sy = round(start[0] * grid), round(start[1] * grid)
    for x, y in points:
        ex, ey = round(x * grid), round(y * grid)
        found.append(((ex - sx) / grid, (ey - sy) / grid))
        sx, sy = ex, ey
    return found


def poly(points: Points, closed: bool = True) -> str:
    """The path data of straight lines through the points; after the first, steps from point to point, which are short to write.

    >>> poly([(0, 0), (10, 0), (10, 5)])
    'M0 0h10v5Z'
    >>> poly([(0, 0), (10, 0), (12, 5)], closed=False)
    'M0 0l10 0 2 5'
    """
    steps = _steps(points[1:], points[0])
    if all(x == 0 or y == 0 for x, y in steps):
        lines = "".join(f"v{_short(y)}" if x == 0 else f"h{_short(x)}" for x, y in steps)
    else:
        lines = "l" + _joined(_short(value) for step in steps for value in step)
    return f"M{_start(points[0])}{lines}" + ("Z" if closed else "")


def smooth(points: Points, closed: bool = False, grid: int = GRID) -> str:
    """The path data of a smooth curve through the points (each bend leans on the neighbours of its point).

    >>> smooth([(0, 0), (6, 0)])
    'M0 0c1 0 5 0 6 0'
    >>> smooth([(0, 0), (6, 0), (12, 0)])
    'M0 0c1 0 4 0 6 0s5 0 6 0'
    """
    around = [points[-1], *points, *points[:2]] if closed else [points[0], *points, points[-1]]
    said: list[str] = []
    for (ax, ay), (bx, by), (cx, cy), (dx, dy) in zip(around, around[1:], around[2:], around[3:], strict=False):
        # In a curve the two leaning points and the end all count from its beginning. Every bend but the first leaves its point
        # as the one before came to it, so that its first leaning point need not be said.
        bend = [(bx + (cx - ax) / 6, by + (cy - ay) / 6), (cx - (dx - bx) / 6, cy - (dy - by) / 6), (cx, cy)]
        steps = (step for point in bend[1 if said else 0 :] for step in _steps([point], (bx, by), grid))
        said.append(_joined(_short(value) for step in steps for value in step))
    rest = "s" + _joined(said[1:]) if said[1:] else ""
    return f"M{_start(points[0], grid)}c{said[0]}{rest}" + ("Z" if closed else "")


def rect(x: float, y: float, width: float, height: float) -> list[Point]:
    """The corners of an upright rectangle, from the top left on, clockwise."""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def oval(centre: Point, rx: float, ry: float | None = None, steps: int = 28) -> list[Point]:
    """The points of an oval (of a circle, if only one radius is given)."""
    turns = (2 * math.pi * i / steps for i in range(steps))
    return [(centre[0] + rx * math.cos(t), centre[1] + (rx if ry is None else ry) * math.sin(t)) for t in turns]


def disc(centre: Point, rx: float, ry: float | None = None) -> str:
    """The path data of a round or oval shape, truly round and short to write.

    >>> disc((10, 10), 4)
    'M6 10a4 4 0 1 0 8 0a4 4 0 1 0-8 0Z'
    """
    wide, high = number(rx), number(rx if ry is None else ry)
    half = f"a{wide} {high} 0 1 0"
    return f"M{number(centre[0] - rx)} {number(centre[1])}{half} {number(2 * rx)} 0{half}{number(-2 * rx)} 0Z"


def arc(centre: Point, rx: float, ry: float, start: float, end: float, steps: int = 24) -> list[Point]:
    """The points of a part of an oval from one angle to another, in degrees; 0 points right and 90 points up.

    >>> [(round(x), round(y)) for x, y in arc((0, 0), 10, 10, 0, 90, 1)]
    [(10, 0), (0, -10)]
    """
    turns = (math.radians(start + (end - start) * i / steps) for i in range(steps + 1))
    return [(centre[0] + rx * math.cos(t), centre[1] - ry * math.sin(t)) for t in turns]


def moved(points: Iterable[Point], dx: float, dy: float = 0.0) -> list[Point]:
    """The points shifted."""
    return [(x + dx, y + dy) for x, y in points]


def turned(points: Iterable[Point], about: Point, degrees: float) -> list[Point]:
    """The points turned about a point; a positive angle lifts what lies to the right.

    >>> [(round(x), round(y)) for x, y in turned([(10, 0)], (0, 0), 90)]
    [(0, -10)]
    """
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    ox, oy = about
    return [(ox + (x - ox) * cos + (y - oy) * sin, oy - (x - ox) * sin + (y - oy) * cos) for x, y in points]


def mirrored(points: Iterable[Point], x: float) -> list[Point]:
    """The points mirrored left to right about the upright line at `x`."""
    return [(2 * x - px, py) for px, py in points]


def bounds(points: Points) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def along(points: Points, step: float) -> list[tuple[Point, Point]]:
    """Places every `step` units along a line of points, each with the unit direction there.

    >>> along([(0, 0), (10, 0)], 5)
    [((2.5, 0.0), (1.0, 0.0)), ((7.5, 0.0), (1.0, 0.0))]
    """
    found: list[tuple[Point, Point]] = []
    wait = step / 2
    for (ax, ay), (bx, by) in pairwise(points):
        length = math.hypot(bx - ax, by - ay)
        if length == 0:
            continue
        ux, uy = (bx - ax) / length, (by - ay) / length
        while wait <= length:
            found.append(((ax + ux * wait, ay + uy * wait), (ux, uy)))
            wait += step
        wait -= length
    return found


def beside(points: Points, distance: float) -> list[Point]:
    """The line that runs beside a line of points, `distance` to its left as one walks along it (above it, from left to right)."""
    found = []
    for i, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = points[max(i - 1, 0)], points[min(i + 1, len(points) - 1)]
        length = math.hypot(bx - ax, by - ay) or 1.0
        found.append((x + (by - ay) / length * distance, y - (bx - ax) / length * distance))
    return found


def band(points: Points, width: float) -> list[Point]:
    """The outline of a band of even width with the line of points along its middle."""
    return [*beside(points, width / 2), *reversed(beside(points, -width / 2))]


def ragged(a: Point, b: Point, rng: Random, depth: float, step: float = 5.0) -> list[Point]:
    """A torn edge from `a` to `b`: teeth up to `depth` long to either side, a tooth about every `step` units."""
    length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    nx, ny = (b[1] - a[1]) / length, -(b[0] - a[0]) / length
    count = max(2, round(length / step))
    found = [a]
    for i in range(1, count):
        share = (i + rng.uniform(-0.25, 0.25)) / count
        out = (1 if i % 2 else -1) * depth * rng.uniform(0.35, 1.0) / 2
        found.append((a[0] + (b[0] - a[0]) * share + nx * out, a[1] + (b[1] - a[1]) * share + ny * out))
    return [*found, b]
