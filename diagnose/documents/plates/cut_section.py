"""How much wood is left where holes lie: a post cut through at that place, the holes dark."""

from random import Random

from diagnose.documents.plates.canvas import label
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, rect
from diagnose.documents.plates.stuff import shadow, void
from diagnose.documents.plates.wood import end_grain, outline, wood

X, Y, SIDE = 50.0, 78.0, 140.0
BACK = (84.0, -56.0)
# Holes in the cut, each as left, top, width and height in shares of the side.
CUTS: dict[str, list[tuple[float, float, float, float]]] = {
    "none": [],
    "one": [(0.5, 0.36, 0.5, 0.28)],
    "two": [(0.25, 0.36, 0.75, 0.36), (0.3, 0.0, 0.4, 0.5)],
}


def cut_section(rng: Random, *, cut: str = "none") -> str:
    """A square post cut through; `cut` says which holes lie in the cut: one of CUTS."""
    holes = chosen("cut", cut, CUTS)
    (bx, by) = BACK
    face = rect(X, Y, SIDE, SIDE)
    top: list[Point] = [(X, Y), (X + SIDE, Y), (X + SIDE + bx, Y + by), (X + bx, Y + by)]
    side: list[Point] = [(X + SIDE, Y), (X + SIDE + bx, Y + by), (X + SIDE + bx, Y + SIDE + by), (X + SIDE, Y + SIDE)]
    drawn = shadow(side) + wood(top, rng, 33.7, "mid", 9) + wood(side, rng, 33.7, "dark", 9)
    drawn += end_grain(face, rng, (X - 30, Y + SIDE + 50), "light", 12, rays=False)
    for left, high, wide, tall in holes:
        drawn += void(rect(X + left * SIDE, Y + high * SIDE, wide * SIDE, tall * SIDE))
        if left + wide == 1:
            a, b = Y + high * SIDE, Y + (high + tall) * SIDE
            drawn += void(
                [(X + SIDE, a), (X + SIDE + bx * 0.6, a + by * 0.6), (X + SIDE + bx * 0.6, b + by * 0.6), (X + SIDE, b)]
            )
        if high == 0:
            a, b = X + left * SIDE, X + (left + wide) * SIDE
            drawn += void([(a, Y), (a + bx * 0.6, Y + by * 0.6), (b + bx * 0.6, Y + by * 0.6), (b, Y)])
    words = (
        label("all wood", (X + SIDE / 2, Y + SIDE / 2)) if not holes else label("hole", (276, 214), (X + SIDE + 10, Y + SIDE / 2))
    )
    return drawn + outline(face, 2.2) + words
