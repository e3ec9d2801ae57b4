"""The mouth of a mortise in an upright part, seen a little from the right: what became of the wood round it."""

from random import Random

from diagnose.documents.plates.canvas import clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, oval, poly, ragged, rect, smooth
from diagnose.documents.plates.stuff import VOID, crack, hatch, powder, shadow
from diagnose.documents.plates.wood import torn, wood

X, Y, W, H = 84.0, 12.0, 118.0, 216.0
BACK = 44.0
FRONT = rect(X, Y, W, H)
SIDE: list[Point] = [(X + W, Y), (X + W + BACK, Y - 4), (X + W + BACK, Y + H - 22), (X + W, Y + H)]
HOLE = rect(122, 66, 42, 108)


def _hole() -> str:
    """The mortise: dark, with its lit left cheek."""
    cheek: list[Point] = [(122, 66), (132, 76), (132, 166), (122, 174)]
    return path(poly(HOLE), fill=VOID, width=2) + path(poly(cheek), fill="#8a6238", width=1)


def _whole(rng: Random) -> str:
    return _hole()


def _split(rng: Random) -> str:
    up: list[Point] = [(143, 68), (139, 52), (146, 36), (142, 22), (144, Y)]
    down: list[Point] = [(143, 172), (147, 188), (140, 204), (145, 216), (143, 228)]
    return crack(up, 11, rng, 6) + crack(down, 11, rng, 6) + _hole() + label("split", (256, 232), (147, 206))


def _burst(rng: Random) -> str:
    # The right cheek has gone, with a piece of the corner and of the side.
    front = [*ragged((164, 52), (202, 40), rng, 12, 9), *ragged((202, 198), (164, 186), rng, 12, 9)]
    side = [(202.0, 40.0), *ragged((226, 58), (232, 168), rng, 16, 14), (202.0, 198.0)]
    gone = [(164.0, 66.0), *front[: len(front) // 2], *side, *front[len(front) // 2 :], (164.0, 174.0)]
    drawn = path(poly(gone), fill=VOID, width=2) + _hole() + path(poly(rect(160, 67, 8, 106)), fill=VOID, line="none")
    drawn += torn(front[: len(front) // 2], rng, 22, -90, 16, 5) + torn(front[len(front) // 2 :], rng, 22, 90, 16, 5)
    return drawn + torn(side[1:-1], rng, 14, 180, 30, 7) + label("wall gone", (272, 232), (216, 150))


def _worn(rng: Random) -> str:
    flare = smooth([(143, 40), (176, 48), (190, 84), (186, 120), (190, 156), (176, 192), (143, 200), (110, 192), (96, 156), (100, 120), (96, 84), (110, 48)], closed=True)
    slope = path(flare, fill="#a97c4c", width=2) + clip(flare, hatch(rect(90, 36, 108, 170), 60, 5, width=1.2))
    return slope + _hole() + label("worn wide", (46, 40), (104, 62))


def _eaten(rng: Random) -> str:
    drawn = _hole()
    for line in ([(122, 80), (104, 96), (110, 118), (94, 134)], [(164, 92), (182, 84), (190, 60)], [(164, 150), (184, 158), (178, 190), (150, 200)], [(122, 158), (106, 170), (112, 198)]):
        tunnel: Points = [(float(x), float(y)) for x, y in line]
        drawn += path(smooth(tunnel), width=11, round_ends=True) + path(smooth(tunnel), line=VOID, width=8, round_ends=True)
    for x, y in ((100, 40), (126, 32), (160, 36), (186, 28), (96, 70), (188, 122), (98, 210), (130, 214), (184, 212), (222, 60), (230, 120), (220, 170)):
        drawn += path(poly(oval((x, y), rng.uniform(4.5, 6.5))), fill=VOID)
    return drawn + powder((266, 230), rng, 70, 20, 50)


WALLS = {"whole": _whole, "split": _split, "burst": _burst, "worn_wide": _worn, "tunnels": _eaten}


def mortise_front(rng: Random, *, wall: str = "whole") -> str:
    """An upright part with a mortise in its front; `wall` says how the wood round it is: one of WALLS."""
    draw = chosen("wall", wall, WALLS)
    drawn = shadow([*FRONT[:1], *SIDE, FRONT[3]]) + wood(FRONT, rng, 90, "light", 10) + wood(SIDE, rng, 90, "mid", 9)
    return drawn + draw(rng)
