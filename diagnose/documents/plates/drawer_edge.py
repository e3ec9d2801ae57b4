"""The lower edge of a drawer side on its runner, cut across and drawn large: where it is worn."""

from random import Random

from diagnose.documents.plates.canvas import label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, moved, poly, rect
from diagnose.documents.plates.stuff import shadow, void
from diagnose.documents.plates.wood import end_grain, wood

LEVEL = 158.0


def _case_side(rng: Random) -> str:
    return shadow(rect(20, 14, 46, 214)) + end_grain(rect(20, 14, 46, 214), rng, (40, 420), "dark", 9, rays=False)


def _runner(rng: Random, shape: list[Point]) -> str:
    return shadow(shape) + end_grain(shape, rng, (110, 330), "grey", 8, rays=False)


def _side(rng: Random, shape: list[Point], floor: float) -> str:
    """The side of the drawer, with its bottom let into it at the height `floor`."""
    bottom = wood(rect(104, floor, 202, 14), rng, 0, "light", 6)
    return shadow(shape) + bottom + end_grain(shape, rng, (96, -160), "mid", 7, rays=False) + void(rect(102, floor - 2, 12, 3))


FULL_RUNNER = rect(66, LEVEL, 110, 52)
FULL_SIDE = rect(76, 14, 38, LEVEL - 14)


def _grooved(rng: Random) -> str:
    worn: list[Point] = [(66, LEVEL), (73, LEVEL), (76, 188), (114, 188), (117, LEVEL), (176, LEVEL), (176, 214), (66, 214)]
    drawn = _case_side(rng) + _runner(rng, worn) + _side(rng, moved(FULL_SIDE, 0, 29), 132)
    drawn += path(poly([(66, LEVEL), (176, LEVEL)], closed=False), width=2.4, dash="6 4")
    return drawn + ring_round((95, 176), 40, 32) + label("worn hollow", (238, 224), (114, 188))


def _side_worn(rng: Random) -> str:
    # The drawer is lifted a little, so that what is lost shows between it and its runner.
    hollow: list[Point] = [(114, 142), (111, 132), (105, 126), (96, 121), (87, 118), (80, 113), (76, 106)]
    worn: list[Point] = [(76, 14), (114, 14), *hollow]
    drawn = _case_side(rng) + _runner(rng, FULL_RUNNER) + _side(rng, worn, 84)
    drawn += path(poly([(76, 106), (76, LEVEL), (114, LEVEL), (114, 142)], closed=False), width=2.4, dash="6 4")
    drawn += ring_round((95, 134), 42, 36)
    return drawn + label("edge worn away", (232, 224), (98, 140)) + label("runner flat", (244, 182), (166, LEVEL))


STATES = {"grooved": _grooved, "side_worn": _side_worn}


def drawer_edge(rng: Random, *, state: str = "grooved") -> str:
    """A drawer side standing on its runner, seen from the front in section; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
