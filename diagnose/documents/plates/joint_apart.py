"""A leg and a rail drawn apart: how a joint was made in the first place."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, oval, poly, rect, smooth
from diagnose.documents.plates.stuff import METAL_LINE, metal, screw_head, shadow, void
from diagnose.documents.plates.wood import TONES, end_grain, outline, wood

POST = rect(28, 10, 72, 220)
RAIL_X, RAIL_TOP, RAIL_HIGH = 170.0, 76.0, 84.0
RAIL = rect(RAIL_X, RAIL_TOP, 312 - RAIL_X, RAIL_HIGH)


def _leg(rng: Random) -> str:
    """The leg, its side with the holes turned a little to the eye."""
    side: list[Point] = [(100, 10), (122, 4), (122, 224), (100, 230)]
    return shadow(POST) + wood(POST, rng, 90, "dark", 9) + path(poly(side), fill=TONES["mid"][0], width=1.6)


def _rail(rng: Random) -> str:
    return shadow(RAIL) + wood(RAIL, rng, 0, "mid", 8)


def _hand_cut(rng: Random) -> str:
    drawn = _leg(rng) + void([(106, 92), (117, 89), (117, 145), (106, 148)])
    scribed = "".join(poly([(x, y0), (x, y1)], closed=False) for x, y0, y1 in ((104, 62, 178), (119, 58, 174)))
    drawn += path(scribed, width=1.3) + wood(rect(124, 92, 46, 52), rng, 0, "light", 6) + _rail(rng)
    # Each cut of the chisel ends in a curved step; no two are alike.
    cuts = ((129, 94, 20, 4), (140, 95, 16, -3), (153, 94, 22, 3), (132, 118, 24, -4), (147, 116, 26, 4), (160, 120, 20, -3))
    steps = "".join(smooth([(x, y), (x + bend + 2, y + long / 2), (x + bend / 3, y + long)]) for x, y, long, bend in cuts)
    lit = "".join(smooth([(x + 2, y), (x + bend + 4, y + long / 2), (x + 2 + bend / 3, y + long)]) for x, y, long, bend in cuts)
    drawn += path(lit, line="#fff6df", width=2.2) + path(steps, line="#704823", width=1.7)
    drawn += path(poly([(174, 64), (174, 172)], closed=False), width=1.1)
    return drawn + label("scribed line", (244, 192), (174, 166)) + label("chisel marks", (230, 44), (150, 104))


def _dowelled(rng: Random) -> str:
    drawn = _leg(rng) + "".join(void(oval((111, y), 6, 10)) for y in (96.0, 140.0)) + _rail(rng)
    for y in (96.0, 140.0):
        drawn += wood(rect(128, y - 10, 42, 20), rng, 0, "light", 20)
        drawn += path("".join(poly([(130, y + d), (170, y + d)], closed=False) for d in (-6, -2, 2, 6)), width=1.3)
        drawn += end_grain(oval((128, y), 5, 10), rng, (128, y), "light", 4, rays=False)
    return drawn + label("round dowels", (212, 46), (150, 88)) + label("even flutes", (230, 198), (156, 146))


def _pegged(rng: Random) -> str:
    drawn = shadow(POST) + wood(POST, rng, 90, "dark", 9) + shadow(rect(100, RAIL_TOP, 212, RAIL_HIGH))
    drawn += wood(rect(100, RAIL_TOP, 212, RAIL_HIGH), rng, 0, "mid", 8)
    drawn += end_grain(rect(10, 92, 18, 52), rng, (18, 118), "light", 5, rays=False)
    for y in (96.0, 140.0):
        drawn += end_grain(oval((70, y), 11), rng, (70, y), "light", 5, rays=False) + outline(oval((70, y), 11), 2)
    wedge: list[Point] = [(4, 110), (36, 116), (36, 120), (4, 126)]
    drawn += path(poly(wedge), fill=TONES["light"][0], width=1.8)
    return drawn + label("peg through it", (216, 50), (78, 94)) + label("wedge", (140, 212), (26, 121))


def _butt(rng: Random) -> str:
    drawn = shadow(POST) + wood(POST, rng, 90, "dark", 9) + wood(rect(100, RAIL_TOP, 212, RAIL_HIGH), rng, 0, "mid", 8)
    block: list[Point] = [(100, 160), (176, 160), (100, 226)]
    drawn += shadow(block) + wood(block, rng, 42, "light", 8) + screw_head((122, 182), 9)
    drawn += metal(rect(70, 34, 14, 80)) + metal(rect(70, 100, 96, 14))
    drawn += "".join(screw_head(at, 6, turn) for at, turn in (((77, 48), 30), ((77, 80), 80), ((150, 107), 120)))
    drawn += path(poly([(100, RAIL_TOP), (100, RAIL_TOP + RAIL_HIGH)], closed=False), width=3)
    return drawn + label("block", (206, 208), (140, 180)) + label("plate", (206, 50), (110, 106))


def _fittings(rng: Random) -> str:
    drawn = _leg(rng) + void(oval((111, 118), 6, 10)) + _rail(rng)
    drawn += metal(rect(126, 112, 108, 12), [(132, 118), (226, 118)])
    drawn += path(
        "".join(poly([(128 + 5 * i, 112), (131 + 5 * i, 124)], closed=False) for i in range(9)), line=METAL_LINE, width=1.6
    )
    drawn += metal(oval((238, 118), 20)) + path("M226 118h24M238 106v24", line=METAL_LINE, width=4)
    return (
        drawn
        + label("bolt", (150, 56), (154, 114))
        + label("nut in rail", (240, 198), (242, 134))
        + arrow((160, 214), (112, 214), 3, both=True)
    )


MADE = {"by_hand": _hand_cut, "dowels": _dowelled, "pegs": _pegged, "blocks": _butt, "fittings": _fittings}


def joint_apart(rng: Random, *, made: str = "by_hand") -> str:
    """A leg on the left and a rail on the right; how they are `made` to hold is one of MADE."""
    return chosen("made", made, MADE)(rng)
