"""Where a break runs: along a glued joint, beside it, along the grain, across, through holes or at a knot."""

import math
from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, oval, poly, ragged, rect, turned
from diagnose.documents.plates.stuff import crack, glue_line, old_glue, shadow, void
from diagnose.documents.plates.wood import bar, knot, outline, torn, wood

LEFT, RIGHT, TOP, BOTTOM = 14.0, 306.0, 78.0, 158.0
# A joint of two boards seen from the side: the lower one lies, the upper one is lifted at its right end.
JOINT, GLUE = 142.0, 12.0
LOWER = rect(LEFT, JOINT, RIGHT - LEFT, 66)
LIFTED, THICK = 12.0, 46.0


def _lifted(edge: Points) -> list[Point]:
    """The upper board on its lower edge, drawn as far up as the sheet allows, and lifted about its left end."""
    left, right = edge[0], edge[-1]
    return turned([*edge, (right[0], right[1] - THICK), (left[0], left[1] - THICK)], left, LIFTED)


def _along_joint(rng: Random) -> str:
    top = JOINT - GLUE
    upper = _lifted([(LEFT + 12, top - 3), (RIGHT, top - 3)])
    drawn = shadow(LOWER) + wood(LOWER, rng, 0, "light") + old_glue(rect(LEFT, top, RIGHT - LEFT, GLUE))
    drawn += shadow(upper) + wood(upper, rng, LIFTED, "dark")
    return drawn + label("bare and flat", (222, 122), (206, 88)) + label("all the glue", (160, 190), (160, top + GLUE / 2))


def _beside_joint(rng: Random) -> str:
    top = JOINT - GLUE
    torn_edge = ragged((LEFT, top - 15), (RIGHT, top - 15), rng, 13, 11)
    left_on = [*torn_edge, (RIGHT, top), (LEFT, top)]
    upper = _lifted([(x, y - 4) for x, y in torn_edge[:-1]])
    drawn = shadow(LOWER) + wood(LOWER, rng, 0, "light") + glue_line([(LEFT, top + GLUE / 2), (RIGHT, top + GLUE / 2)], GLUE)
    # The strip of the upper board that stayed on the joint, then what broke away from it.
    drawn += wood(left_on, rng, 0, "dark") + torn(torn_edge[6:], rng, 12, 84, 16, 9)
    drawn += shadow(upper) + wood(upper, rng, LIFTED, "dark") + torn(upper[6:-2], rng, 12, -80, 16, 9)
    return drawn + label("torn wood", (90, 34), (112, 102)) + label("glue line whole", (160, 190), (160, top + GLUE / 2))


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
