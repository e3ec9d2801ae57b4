"""Where a break runs: along a glued joint, beside it, along the grain, across, through holes or at a knot."""

import math
from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, oval, poly, ragged, rect, turned
from diagnose.documents.plates.stuff import crack, glue_line, old_glue, shadow, void
from diagnose.documents.plates.wood import bar, knot, outline, torn, torn_face, wood

LEFT, RIGHT, TOP, BOTTOM = 14.0, 306.0, 78.0, 158.0
# Two boards drawn apart, the eye between them: one sees the upper face of the lower board and the lower face of the upper one.
NEAR_LEFT, NEAR_RIGHT, FAR_LEFT, FAR_RIGHT = 22.0, 298.0, 60.0, 260.0
UPPER_NEAR, UPPER_FAR, LOWER_FAR, LOWER_NEAR = 66.0, 96.0, 116.0, 150.0


def _along_joint(rng: Random) -> str:
    under = [(NEAR_LEFT, UPPER_NEAR), (NEAR_RIGHT, UPPER_NEAR), (FAR_RIGHT, UPPER_FAR), (FAR_LEFT, UPPER_FAR)]
    upper_side = [(FAR_LEFT, LOWER_FAR), (FAR_RIGHT, LOWER_FAR), (NEAR_RIGHT, LOWER_NEAR), (NEAR_LEFT, LOWER_NEAR)]
    drawn = wood(under, rng, 0, "light", 6) + old_glue(upper_side)
    drawn += wood(rect(NEAR_LEFT, 12, NEAR_RIGHT - NEAR_LEFT, UPPER_NEAR - 12), rng, 0, "dark")
    drawn += wood(rect(NEAR_LEFT, LOWER_NEAR, NEAR_RIGHT - NEAR_LEFT, 66), rng, 0, "mid")
    return drawn + label("bare and flat", (110, 42), (130, 84)) + label("all the glue", (110, 194), (130, 136))


def _beside_joint(rng: Random) -> str:
    low = ragged((NEAR_LEFT, UPPER_NEAR - 6), (NEAR_RIGHT, UPPER_NEAR - 6), rng, 14, 14)
    high = ragged((NEAR_LEFT, LOWER_NEAR), (NEAR_RIGHT, LOWER_NEAR), rng, 14, 14)
    under = [*low, (FAR_RIGHT, UPPER_FAR), (FAR_LEFT, UPPER_FAR)]
    upper_side = [(FAR_LEFT, LOWER_FAR), (FAR_RIGHT, LOWER_FAR), *reversed(high)]
    joint = LOWER_NEAR + 30
    drawn = torn_face(under, rng, -70, 42, 26) + torn_face(upper_side, rng, 70, 42, 26)
    drawn += wood([(NEAR_LEFT, 12), (NEAR_RIGHT, 12), *reversed(low)], rng, 0, "dark", 9) + torn(low, rng, 17, -82, 18, 10)
    # The strip of the upper board that stayed on the joint, then the joint, whole, then the lower board.
    drawn += wood([*high, (NEAR_RIGHT, joint), (NEAR_LEFT, joint)], rng, 0, "dark", 9) + torn(high, rng, 17, 82, 18, 10)
    drawn += wood(rect(NEAR_LEFT, joint, NEAR_RIGHT - NEAR_LEFT, 216 - joint), rng, 0, "mid", 9)
    drawn += glue_line([(NEAR_LEFT, joint), (NEAR_RIGHT, joint)], 9)
    return drawn + label("torn wood", (90, 42), (110, 80)) + label("glue line whole", (100, 211), (130, joint))


def _along_grain(rng: Random) -> str:
    course: list[Point] = [(292, 116), (240, 119), (190, 117), (140, 121), (96, 119)]
    x, y, h = 14.0, 84.0, 76.0
    drawn = bar(x, y, 270, h, rng)
    drawn += crack([(285, 117), *course[1:]], 17, rng)
    return (
        drawn
        + void([(284, 109), (304, 97), (304, 112), (284, 125)])
        + arrow((262, 72), (262, 44))
        + arrow((262, 172), (262, 200))
    )


def _across(rng: Random) -> str:
    edge = ragged((160, TOP), (160, BOTTOM), rng, 26, 10)
    left = turned([(LEFT, TOP), *edge, (LEFT, BOTTOM)], (LEFT, BOTTOM), -9)
    right = turned([(RIGHT, TOP), *edge, (RIGHT, BOTTOM)], (RIGHT, BOTTOM), 9)
    left, right = [(x - 7, y - 22) for x, y in left], [(x + 7, y - 22) for x, y in right]
    drawn = shadow(left) + shadow(right) + wood(left, rng, -9) + wood(right, rng, 9)
    return drawn + torn(left[1:-1], rng, 9, -9, 8, 8) + torn(right[1:-1], rng, 9, 171, 8, 8) + arrow((160, 18), (160, 58))


def _bitten(x: float, holes: Points, radius: float, way: int) -> list[Point]:
    """An upright broken edge that goes round one side of each hole."""
    edge: list[Point] = [(x, TOP)]
    for hx, hy in holes:
        turns = [math.radians(-90 + 180 * i / 10) for i in range(11)]
        edge += [(x + hx + way * radius * math.cos(t), hy + radius * math.sin(t)) for t in turns]
    return [*edge, (x, BOTTOM)]


def _through_holes(rng: Random) -> str:
    holes: list[Point] = [(0, TOP + 22), (0, BOTTOM - 22)]
    left, right = _bitten(116, holes, 13, -1), _bitten(146, holes, 13, 1)
    left_half, right_half = [(LEFT, TOP), *left, (LEFT, BOTTOM)], [(RIGHT, TOP), *right, (RIGHT, BOTTOM)]
    drawn = shadow(left_half) + shadow(right_half) + wood(left_half, rng) + wood(right_half, rng)
    for _, y in holes:
        drawn += void(oval((236, y), 13))
    drawn += path(poly(left, closed=False), width=3) + path(poly(right, closed=False), width=3)
    return drawn + label("broken through", (110, 206), (131, BOTTOM - 22)) + label("whole hole", (236, 46), (236, TOP + 22))


def _at_knot(rng: Random) -> str:
    shape = rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
    centre = (160.0, (TOP + BOTTOM) / 2)
    drawn = shadow(shape) + wood(shape, rng, knot=(*centre, 24.0)) + knot(centre, 24, rng)
    drawn += crack([(176, TOP - 1), (170, 94), (160, 104), (163, 118), (152, 130), (154, 144), (144, BOTTOM + 1)], 10, rng, 6)
    return drawn + outline(shape, 0.8) + label("knot", (226, 46), (180, 112))


RUNS = {
    "along_joint": _along_joint,
    "beside_joint": _beside_joint,
    "along_grain": _along_grain,
    "across": _across,
    "through_holes": _through_holes,
    "at_knot": _at_knot,
}


def broken_part(rng: Random, *, runs: str = "across") -> str:
    """A part or a joint that has broken, drawn apart; `runs` says where the break goes: one of RUNS."""
    return chosen("runs", runs, RUNS)(rng)
