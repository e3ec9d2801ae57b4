"""The lower ends of two legs with the bar between them: how they are worn."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, ragged, rect
from diagnose.documents.plates.stuff import crack, metal, nail, shadow, void
from diagnose.documents.plates.wood import torn, wood

FLOOR = 212.0
LEFT_X, RIGHT_X, THICK = 46.0, 230.0, 44.0


def _floor() -> str:
    return path(poly([(8, FLOOR), (312, FLOOR)], closed=False), width=2.4)


def _leg(rng: Random, x: float, foot: list[Point] | None = None) -> str:
    """A leg; `foot` is the line of its lower end from right to left."""
    shape = [(x, 12.0), (x + THICK, 12.0), *(foot or [(x + THICK, FLOOR - 2), (x, FLOOR - 2)])]
    return shadow(shape, 4, 0) + wood(shape, rng, 90, "mid", 8)


def _bar(rng: Random, hollow: float = 0.0) -> str:
    steps = [i / 12 for i in range(13)]
    upper = [
        (LEFT_X + THICK + (RIGHT_X - LEFT_X - THICK) * s, 92.0 + hollow * max(0.0, 1 - ((s - 0.5) / 0.34) ** 2)) for s in steps
    ]
    return wood([*upper, (RIGHT_X, 128), (LEFT_X + THICK, 128)], rng, 0, "dark", 7)


def _one_side(rng: Random) -> str:
    drawn = _floor() + _bar(rng) + _leg(rng, LEFT_X)
    drawn += _leg(rng, RIGHT_X, [(RIGHT_X + THICK, FLOOR - 42), (RIGHT_X, FLOOR - 4)])
    whole: list[Point] = [(RIGHT_X, FLOOR - 3), (RIGHT_X + THICK, FLOOR - 3), (RIGHT_X + THICK, FLOOR - 42)]
    return drawn + path(poly(whole, closed=False), width=2.2, dash="6 4") + ring_round((260, 190), 40, 34)


def _dragged(rng: Random) -> str:
    drawn = _floor() + _bar(rng)
    for x in (LEFT_X, RIGHT_X):
        foot = ragged((x + THICK, FLOOR - 6), (x, FLOOR - 14), rng, 14, 7)
        drawn += _leg(rng, x, foot) + torn(foot, rng, 15, 190, 25, 7)
        scratches = "".join(poly([(x + 4, y), (x + THICK - 6, y - 5)], closed=False) for y in (180, 187, 193))
        drawn += path(scratches, width=1.8)
    return drawn + arrow((204, 186), (112, 186), 5)


def _split(rng: Random) -> str:
    lifted = FLOOR - 10
    drawn = _floor() + _bar(rng)
    for x in (LEFT_X, RIGHT_X):
        drawn += _leg(rng, x, [(x + THICK, lifted), (x, lifted)])
    mid = RIGHT_X + THICK / 2
    drawn += crack([(mid, lifted), (mid - 5, 180), (mid + 4, 150), (mid - 2, 112)], 13, rng)
    drawn += nail((mid, FLOOR - 4), (mid, 166), 22)
    glide = LEFT_X + THICK / 2
    return drawn + metal(rect(glide - 14, lifted, 28, 8)) + ring_round((mid, 160), 36, 58)


def _gone(rng: Random) -> str:
    drawn = _floor()
    x, mid = LEFT_X, RIGHT_X + THICK / 2
    lifted = FLOOR - 16
    drawn += _bar(rng) + _leg(rng, x, [(x + THICK, lifted), (x, lifted)])
    drawn += path(
        poly([(x + 4, lifted), (x + THICK - 4, lifted), (x + THICK - 8, FLOOR - 1), (x + 8, FLOOR - 1)]),
        fill="#5b4632",
        width=1.6,
    )
    drawn += _leg(rng, RIGHT_X, [(RIGHT_X + THICK, lifted), (RIGHT_X, lifted)])
    drawn += void(rect(mid - 4, lifted - 20, 8, 20))
    pad: list[Point] = [
        (RIGHT_X + 4, lifted + 1),
        (RIGHT_X + THICK - 4, lifted + 1),
        (RIGHT_X + THICK - 8, FLOOR - 1),
        (RIGHT_X + 8, FLOOR - 1),
    ]
    return (
        drawn
        + path(poly(pad), width=2.2, dash="5 4")
        + label("pad", (158, 180), (x + THICK - 6, 204))
        + label("pad gone", (172, 152), (RIGHT_X + 6, 202))
    )


def _hollow(rng: Random) -> str:
    drawn = _floor() + _leg(rng, LEFT_X) + _leg(rng, RIGHT_X) + _bar(rng, 24)
    drawn += path(poly([(LEFT_X + THICK, 92), (RIGHT_X, 92)], closed=False), width=2.2, dash="6 4")
    return drawn + ring_round((160, 106), 62, 30) + arrow((160, 34), (160, 84), 5)


STATES = {
    "one_side": _one_side,
    "dragged": _dragged,
    "split": _split,
    "gone": _gone,
    "hollow": _hollow,
}


def leg_ends(rng: Random, *, state: str = "one_side") -> str:
    """Two legs from the front, standing on the floor; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
