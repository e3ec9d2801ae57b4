"""How much wood is left where holes lie: a post cut through at that place, the holes dark."""

from random import Random

from diagnose.documents.plates.canvas import LOOK, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, rect
from diagnose.documents.plates.stuff import shadow, void
from diagnose.documents.plates.wood import end_grain, outline, wood

X, Y, SIDE = 22.0, 82.0, 132.0
BACK = (74.0, -52.0)
# Holes in the cut, each as left, top, width and height in shares of the side.
CUTS: dict[str, list[tuple[float, float, float, float]]] = {
    "none": [],
    "one": [(0.5, 0.36, 0.5, 0.28)],
    "two": [(0.15, 0.28, 0.85, 0.48), (0.22, 0.0, 0.56, 0.5)],
}
# A gauge beside the post: as much of it is filled with wood as is left of the cut.
GAUGE = rect(258, Y, 34, SIDE)
_FINE = 50


def left_of(holes: list[tuple[float, float, float, float]]) -> float:
    """The share of the cut that is wood, counted on a fine grid, since holes may meet.

    >>> left_of([]), round(left_of(CUTS["one"]), 2), left_of(CUTS["two"]) < 0.5
    (1.0, 0.86, True)
    """
    middles = [(i + 0.5) / _FINE for i in range(_FINE)]
    taken = sum(any(a < x < a + w and b < y < b + h for a, b, w, h in holes) for x in middles for y in middles)
    return 1 - taken / _FINE**2


def _gauge(share: float, rng: Random) -> str:
    left, top, right, bottom = GAUGE[0][0], GAUGE[0][1], GAUGE[1][0], GAUGE[2][1]
    level = bottom - SIDE * share
    filled = wood(rect(left, level, right - left, bottom - level), rng, 0, "light", 9)
    half = path(poly([(left - 8, (top + bottom) / 2), (right + 8, (top + bottom) / 2)], closed=False), line=LOOK, width=3)
    return path(poly(GAUGE), fill="#ffffff", width=1.2) + filled + half + outline(GAUGE) + label("wood left", (270, bottom + 20))


def cut_section(rng: Random, *, cut: str = "none") -> str:
    """A square post cut through, and beside it how much is left; `cut` says which holes lie in the cut: one of CUTS."""
    holes = chosen("cut", cut, CUTS)
    (bx, by) = BACK
    face = rect(X, Y, SIDE, SIDE)
    top: list[Point] = [(X, Y), (X + SIDE, Y), (X + SIDE + bx, Y + by), (X + bx, Y + by)]
    side: list[Point] = [(X + SIDE, Y), (X + SIDE + bx, Y + by), (X + SIDE + bx, Y + SIDE + by), (X + SIDE, Y + SIDE)]
    drawn = shadow(side) + wood(top, rng, 35, "mid", 9) + wood(side, rng, 35, "dark", 9)
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
    return drawn + outline(face, 2.2) + _gauge(left_of(holes), rng)
