"""The lower ends of two legs with the bar between them: how they are worn."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, ragged, rect
from diagnose.documents.plates.stuff import crack, metal, nail, scratches, shadow, void
from diagnose.documents.plates.wood import end_grain, torn, wood

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
    """One leg as it was dragged over the floor, and the other turned up, so that its sole is seen."""
    foot = ragged((LEFT_X + THICK, FLOOR - 3), (LEFT_X, FLOOR - 3), rng, 5, 8)
    drawn = (
        path(poly([(8, FLOOR), (140, FLOOR)], closed=False), width=2.4)
        + _leg(rng, LEFT_X, foot)
        + torn([(LEFT_X + THICK + 4, FLOOR - 3), (LEFT_X + THICK - 4, FLOOR - 9)], rng, 16, 10, 12, 2)
    )
    drawn += scratches(
        [((LEFT_X + THICK + 8, FLOOR + 6), (138, FLOOR + 6)), ((LEFT_X + THICK - 2, FLOOR + 13), (134, FLOOR + 13))]
    )
    # The leg runs away from us, up and to the right; its sole is the square in front.
    x, y, wide, back = 152.0, 92.0, 104.0, (52.0, -78.0)
    sole = rect(x, y, wide, 100)
    above = [(x, y), (x + wide, y), (x + wide + back[0], y + back[1]), (x + back[0], y + back[1])]
    beside = [(x + wide, y), (x + wide + back[0], y + back[1]), (x + wide + back[0], y + back[1] + 100), (x + wide, y + 100)]
    drawn += shadow(sole, 6, 6) + wood(above, rng, 56, "mid", 9) + wood(beside, rng, 56, "dark", 9)
    drawn += end_grain(sole, rng, (x + wide * 0.4, y + 190), "light", 11, rays=False)
    runs = [
        (6, 16, 88),
        (30, 24, 99),
        (4, 35, 60),
        (48, 42, 98),
        (10, 52, 97),
        (4, 63, 46),
        (38, 70, 90),
        (8, 79, 99),
        (52, 88, 96),
        (12, 93, 40),
    ]
    drawn += scratches(((x + a, y + dy + rng.uniform(-2, 2)), (x + b, y + dy + rng.uniform(-5, 3))) for a, dy, b in runs)
    drawn += torn([(x + wide, y + 4), (x + wide, y + 96)], rng, 17, 0, 16, 6)
    return drawn + arrow((118, 150), (14, 150), 4.4) + label("dragged", (66, 134)) + label("sole, from below", (232, 224))


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
