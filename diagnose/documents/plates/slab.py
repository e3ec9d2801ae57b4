"""A board that lies with its end towards the eye: rings in front, the grain of its face running back."""

import math
from random import Random

from diagnose.documents.plates.shapes import Point, Points, rect
from diagnose.documents.plates.wood import Tone, end_grain, wood

BACK: Point = (44.0, -34.0)


def lying_back(back: Point) -> float:
    """The angle, in degrees, of grain that runs back into the sheet.

    >>> round(lying_back((10, -10)))
    45
    """
    return math.degrees(math.atan2(-back[1], back[0]))


def face_behind(front: Points, back: Point = BACK) -> list[Point]:
    """The face that reaches back from a line of points at the front edge.

    >>> face_behind([(0, 10), (20, 10)], (5, -5))
    [(0, 10), (20, 10), (25, 5), (5, 5)]
    """
    return [*front, *((x + back[0], y + back[1]) for x, y in reversed(front))]


def slab(
    x: float,
    y: float,
    width: float,
    height: float,
    rng: Random,
    back: Point = BACK,
    tone: Tone = "mid",
    heart: Point | None = None,
    rings: float = 9.0,
    spacing: float = 10.0,
    side: bool = True,
) -> str:
    """A board with its end in front: `x`, `y` is the top left corner of the end, `back` leads to the rear edge.

    `heart` is where the rings of the end have their centre (else far below), `rings` and `spacing` how far apart the lines lie.
    """
    angle = lying_back(back)
    middle = heart if heart is not None else (x + width / 2, y + height + width * 0.55)
    top = wood(face_behind([(x, y), (x + width, y)], back), rng, angle, tone, spacing)
    edge = face_behind([(x + width, y + height), (x + width, y)], back)
    drawn = wood(edge, rng, angle, tone, spacing) if side else ""
    return top + drawn + end_grain(rect(x, y, width, height), rng, middle, tone, rings, rays=False)
