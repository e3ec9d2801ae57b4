"""A joint cut open: an upright part with a hole in its right side, and the lying part whose end goes into it."""

from random import Random

from diagnose.documents.plates.canvas import path
from diagnose.documents.plates.shapes import Point, Points, poly, rect
from diagnose.documents.plates.stuff import VOID, shadow
from diagnose.documents.plates.wood import outline, wood

FACE = 136.0  # the right side of the upright part, where the two meet
MIDDLE = 120.0
HOLE_TOP, HOLE_BOTTOM = 92.0, 148.0
LYING_TOP, LYING_BOTTOM = 60.0, 180.0
TENON = 72.0
END = 300.0


def upright(rng: Random, depth: float = 80.0) -> str:
    """The upright part with its hole, `depth` units deep."""
    x = FACE - depth
    edge: list[Point] = [
        (20, 12),
        (FACE, 12),
        (FACE, HOLE_TOP),
        (x, HOLE_TOP),
        (x, HOLE_BOTTOM),
        (FACE, HOLE_BOTTOM),
        (FACE, 228),
        (20, 228),
    ]
    hole = rect(x, HOLE_TOP, depth, HOLE_BOTTOM - HOLE_TOP)
    drawn = shadow(edge) + wood(edge, rng, 90, "mid", 9, outline=False)
    return drawn + path(poly(hole), fill=VOID, line="none") + outline(edge)


def lying(shoulder: float = FACE, play: float = 2.0, step: bool = True, end: float = END) -> list[Point]:
    """The outline of the lying part: its shoulder at an x, `play` above and below its tenon; without a `step` it is as thin as that."""
    top, bottom = HOLE_TOP + play, HOLE_BOTTOM - play
    tip = shoulder - TENON
    if not step:
        return [(end, top), (tip, top), (tip, bottom), (end, bottom)]
    return [
        (end, LYING_TOP),
        (shoulder, LYING_TOP),
        (shoulder, top),
        (tip, top),
        (tip, bottom),
        (shoulder, bottom),
        (shoulder, LYING_BOTTOM),
        (end, LYING_BOTTOM),
    ]


def lying_wood(shape: Points, rng: Random, angle: float = 0.0) -> str:
    """The lying part as wood, lighter than the upright one; its far end is broken off and has no line."""
    return wood(shape, rng, angle, "light", 9, outline=False) + path(poly(shape, closed=False), width=1.8)
