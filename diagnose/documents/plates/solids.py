"""Solids of the joint maps: outlines swept through space, seen a little from the right and from above, what is behind first.

In space x runs to our right, y away from us and z up. A solid is told by its outline and by the way the outline is swept.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from diagnose.documents.plates.shapes import Point

Place = tuple[float, float, float]
# How far to the right and how far up a step away from us is drawn.
RIGHT, UP = 0.56, 0.4
# The way from a place to our eye: everything along it falls on one point of the sheet.
_TO_US: Place = (RIGHT, -1.0, UP)
_NEAR = 1e-6


@dataclass(frozen=True)
class Mark:
    """A line on a solid, drawn after it: closed unless said otherwise, and dark inside where it is an opening."""

    places: tuple[Place, ...]
    closed: bool = True
    dark: bool = False


@dataclass(frozen=True)
class Solid:
    """An outline swept along a way; `maybe` where not every piece of this form has it, `hidden` where others lie before it."""

    outline: tuple[Place, ...]
    sweep: Place
    marks: tuple[Mark, ...] = ()
    maybe: bool = False
    hidden: bool = False

    @property
    def corners(self) -> tuple[Place, ...]:
        """Both ends of the sweep."""
        return (*self.outline, *(_plus(place, self.sweep) for place in self.outline))

    def moved(self, x: float, y: float = 0.0, z: float = 0.0) -> "Solid":
        """The same solid elsewhere."""
        marks = tuple(replace(mark, places=tuple(_plus(place, (x, y, z)) for place in mark.places)) for mark in self.marks)
        return replace(self, outline=tuple(_plus(place, (x, y, z)) for place in self.outline), marks=marks)


def _plus(a: Place, b: Place) -> Place:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _minus(a: Place, b: Place) -> Place:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _across(a: Place, b: Place) -> Place:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _dot(a: Place, b: Place) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def block(x: float, y: float, z: float, wide: float, deep: float, high: float, lean: Point = (0.0, 0.0)) -> Solid:
    """A squared block by its left, front, lower corner and its sizes; `lean` is how far its top stands to the right and back."""
    foot = ((x, y, z), (x + wide, y, z), (x + wide, y + deep, z), (x, y + deep, z))
    return Solid(foot, (lean[0], lean[1], high))


def bar(a: Place, b: Place, thick: float, high: float | None = None) -> Solid:
    """A bar with its middle from `a` to `b`; `high` is its second thickness, upwards, or away from us for an upright bar."""
    way = _minus(b, a)
    longest = max(range(3), key=lambda axis: abs(way[axis]))
    one, two = thick / 2, (thick if high is None else high) / 2
    first, second = ((0, one, 0), (0, 0, two)) if longest == 0 else ((one, 0, 0), (0, 0, two) if longest == 1 else (0, two, 0))
    corners = (_plus(a, _plus(first, second)), _plus(a, _minus(first, second)))
    return Solid((*corners, *(_minus(_plus(a, a), corner) for corner in corners)), way)


def profile(places: Sequence[Point], x: float, wide: float) -> Solid:
    """A part sawn to the shape of `places` (away from us, up), `wide` thick from `x` to the right."""
    return Solid(tuple((x, y, z) for y, z in places), (wide, 0.0, 0.0))


def front(x: float, z: float, wide: float, high: float, y: float, dark: bool = False) -> Mark:
    """An upright rectangle that faces us."""
    return Mark(((x, y, z), (x + wide, y, z), (x + wide, y, z + high), (x, y, z + high)), dark=dark)


def side(y: float, z: float, deep: float, high: float, x: float, dark: bool = False) -> Mark:
    """An upright rectangle that faces to our right."""
    return Mark(((x, y, z), (x, y + deep, z), (x, y + deep, z + high), (x, y, z + high)), dark=dark)


def flat(x: float, y: float, wide: float, deep: float, z: float, dark: bool = False) -> Mark:
    """A rectangle that lies level."""
    return Mark(((x, y, z), (x + wide, y, z), (x + wide, y + deep, z), (x, y + deep, z)), dark=dark)


def round_mark(x: float, y: float, z: float, radius: float, dark: bool = False) -> Mark:
    """A round that lies level, by its middle."""
    turns = (math.pi * i / 4 for i in range(8))
    return Mark(tuple((x + radius * math.cos(t), y + radius * math.sin(t), z) for t in turns), dark=dark)


def seen(place: Place) -> Point:
    """Where a place falls on the sheet: x right and y down, in its own units."""
    x, y, z = place
    return x + RIGHT * y, -z - UP * y


def _normal(places: Sequence[Place]) -> Place:
    total: Place = (0.0, 0.0, 0.0)
    for a, b in zip(places, (*places[1:], places[0]), strict=True):
        total = _plus(total, _across(a, b))
    return total


def _tone(normal: Place) -> str:
    x, y, z = (abs(value) for value in normal)
    return "top" if z >= max(x, y) else "side" if x >= y else "front"


@dataclass(frozen=True)
class Face:
    """A face that we see and the way it looks; of a side of the sweep the first edge is the one that it shares with the end."""

    tone: str
    places: tuple[Place, ...]


def faces(solid: Solid) -> tuple[Face, list[Face]]:
    """The end of the sweep that we see, and those of its sides."""
    outward = _normal(solid.outline)
    turn = 1.0
    if _dot(outward, solid.sweep) > 0:
        outward, turn = (-outward[0], -outward[1], -outward[2]), -1.0
    # The outline looks out at the near end of its sweep, its copy at the far end.
    here, away = solid.outline, tuple(_plus(place, solid.sweep) for place in solid.outline)
    if _dot(outward, _TO_US) <= 0:
        here, away = away, here
    end = Face(_tone(outward), here)
    sides = []
    for i, j in zip(range(len(here)), (*range(1, len(here)), 0), strict=True):
        normal = _across(_minus(solid.outline[j], solid.outline[i]), solid.sweep)
        if turn * _dot(normal, _TO_US) < -_NEAR:
            sides.append(Face(_tone(normal), (here[i], here[j], away[j], away[i])))
    return end, sides


def _bounds(solid: Solid) -> tuple[Place, Place]:
    xs, ys, zs = zip(*solid.corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _hides(behind: tuple[Place, Place], before: tuple[Place, Place]) -> bool:
    """Whether a line from somewhere in the first box towards us goes through the second."""
    least, most = _NEAR, float("inf")
    for axis in range(3):
        ends = sorted(((before[0][axis] - behind[1][axis]) / _TO_US[axis], (before[1][axis] - behind[0][axis]) / _TO_US[axis]))
        least, most = max(least, ends[0]), min(most, ends[1])
    return most - least > 1e-3


def in_order(solids: Sequence[Solid]) -> list[Solid]:
    """The solids with what is behind first; where neither hides the other they stay as they are given."""
    boxes = [_bounds(solid) for solid in solids]
    count = range(len(solids))
    hides = [[_hides(boxes[a], boxes[b]) for b in count] for a in count]
    # Where boxes reach into each other each seems to hide the other, and the order given stands.
    waits = {b: {a for a in count if a != b and hides[a][b] and not hides[b][a]} for b in count}
    found: list[int] = []
    while len(found) < len(solids):
        ready = [b for b in count if b not in found and waits[b] <= set(found)]
        found.append(ready[0] if ready else next(b for b in count if b not in found))
    return [solids[b] for b in found]
