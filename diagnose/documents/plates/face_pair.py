"""The two faces of a joint that has come apart, opened like a book and seen from above."""

from random import Random

from diagnose.documents.plates.canvas import path
from diagnose.documents.plates.shapes import Point, Points, oval, poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import TONES, wood

TOP, WIDE, HIGH, EDGE = 14.0, 132.0, 184.0, 14.0
LEFT_X, RIGHT_X = 14.0, 174.0
LEFT_FACE, RIGHT_FACE = rect(LEFT_X, TOP, WIDE, HIGH), rect(RIGHT_X, TOP, WIDE, HIGH)
FACES = (LEFT_FACE, RIGHT_FACE)


def slabs(rng: Random, bare: bool = True) -> str:
    """The two boards: their faces of `bare` wood, unless all of them is covered, and the edge that lies towards the eye."""
    drawn = ""
    for face in FACES:
        x = face[0][0]
        lines = "".join(poly([(x + 12 * i, TOP + HIGH), (x + 12 * i, TOP + HIGH + EDGE)], closed=False) for i in range(1, 11))
        drawn += shadow(rect(x, TOP, WIDE, HIGH + EDGE)) + (wood(face, rng, 90, "light", 17) if bare else "")
        drawn += path(poly(rect(x, TOP + HIGH, WIDE, EDGE)), fill=TONES["dark"][0], width=1.6) + path(
            lines, line=TONES["dark"][1]
        )
    return drawn


def blob(x: float, y: float, rx: float, ry: float, rng: Random) -> list[Point]:
    """An uneven patch round a point."""
    return [(px + rng.uniform(-0.1, 0.1) * rx, py + rng.uniform(-0.1, 0.1) * ry) for px, py in oval((x, y), rx, ry, 17)]


def facing(patch: Points) -> list[Point]:
    """Where a patch of the left face touches the right one when the book is closed."""
    return [(LEFT_X + WIDE + RIGHT_X - x, y) for x, y in patch]
