"""How long the slant of a break is, counted in thicknesses of the part."""

from random import Random

from diagnose.documents.plates.canvas import dimension, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import moved, poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import wood

THICK, TOP, LEFT, RIGHT = 22.0, 76.0, 10.0, 310.0


def slant_length(rng: Random, *, ratio: float = 8.0, says: str = "8 × thickness") -> str:
    """A bar with a slanting break `ratio` thicknesses long (1 to 13), and squares as wide as the bar is thick to count it by."""
    length = within("ratio", ratio, 1, 13) * THICK
    start = 160 - length / 2
    steps = 7
    edge = [
        (start + length * i / steps, TOP + THICK * (i / steps + rng.uniform(-0.05, 0.05) * (0 < i < steps)))
        for i in range(steps + 1)
    ]
    left, right = moved(edge, -3, 3), moved(edge, 3, -3)
    left_half = [(LEFT, TOP + 3), *left, (LEFT, TOP + THICK + 3)]
    right_half = [(RIGHT, TOP - 3), *right, (RIGHT, TOP + THICK - 3)]
    drawn = shadow(left_half) + shadow(right_half) + wood(left_half, rng, 0, "mid", 5) + wood(right_half, rng, 0, "mid", 5)
    squares, x = "", start
    while x < start + length - 0.5:
        squares += poly(rect(x, 126, min(THICK, start + length - x), THICK))
        x += THICK
    ends = "".join(poly([(x, TOP - 12), (x, 176)], closed=False) for x in (start, start + length))
    counted = path(squares, fill="#efe4cb", width=1.3) + path(ends, width=0.8, dash="2 3")
    return drawn + counted + dimension((start, 176), (start + length, 176), says, 18)
