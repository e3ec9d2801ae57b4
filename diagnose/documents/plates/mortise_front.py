"""The mouth of a mortise in an upright part, seen a little from the right: what became of the wood round it."""

from random import Random

from diagnose.documents.plates.canvas import clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, along, mirrored, oval, poly, ragged, rect, smooth
from diagnose.documents.plates.stuff import VOID, crack, powder, shadow
from diagnose.documents.plates.wood import torn, wood

X, Y, W, H = 50.0, 12.0, 150.0, 216.0
BACK = 60.0
FRONT = rect(X, Y, W, H)
SIDE: list[Point] = [(X + W, Y), (X + W + BACK, Y - 4), (X + W + BACK, Y + H - 22), (X + W, Y + H)]
HOLE = rect(98, 66, 54, 108)


def _hole() -> str:
    """The mortise: dark, with its lit left cheek."""
    cheek: list[Point] = [(98, 66), (111, 78), (111, 164), (98, 174)]
    return path(poly(HOLE), fill=VOID, width=2) + path(poly(cheek), fill="#8a6238", width=1)


def _whole(rng: Random) -> str:
    return _hole()


def _split(rng: Random) -> str:
    up: list[Point] = [(125, 68), (120, 52), (129, 36), (124, 22), (126, Y)]
    down: list[Point] = [(125, 172), (130, 188), (121, 204), (128, 216), (125, 228)]
    return crack(up, 11, rng, 6) + crack(down, 11, rng, 6) + _hole() + label("split", (274, 232), (130, 206))


def _burst(rng: Random) -> str:
    # The right cheek has gone, with a piece of the corner and of the side.
    front = [*ragged((152, 52), (200, 40), rng, 12, 9), *ragged((200, 198), (152, 186), rng, 12, 9)]
    side = [(200.0, 40.0), *ragged((233, 58), (241, 168), rng, 16, 14), (200.0, 198.0)]
    gone = [(152.0, 66.0), *front[: len(front) // 2], *side, *front[len(front) // 2 :], (152.0, 174.0)]
    drawn = path(poly(gone), fill=VOID, width=2) + _hole() + path(poly(rect(147, 67, 12, 106)), fill=VOID, line="none")
    drawn += torn(front[: len(front) // 2], rng, 22, -90, 16, 5) + torn(front[len(front) // 2 :], rng, 22, 90, 16, 5)
    return drawn + torn(side[1:-1], rng, 14, 180, 30, 7) + label("wall gone", (274, 232), (219, 150))


def _worn(rng: Random) -> str:
    half: list[Point] = [(125, 40), (167, 48), (185, 84), (180, 120), (185, 156), (167, 192), (125, 200)]
    flare = smooth([*half, *reversed(mirrored(half[1:-1], 125))], closed=True)
    # Strokes run down the slope from its rim to the old hole all round.
    rim = [*half, *reversed(mirrored(half[1:-1], 125))]
    strokes = ""
    for (x, y), _ in along([*rim, rim[0]], 9):
        foot = (min(max(x, 98.0), 152.0), min(max(y, 66.0), 174.0))
        share = rng.uniform(0.55, 0.9)
        strokes += poly([(x, y), (x + (foot[0] - x) * share, y + (foot[1] - y) * share)], closed=False)
    slope = path(flare, fill="#d9b17c", width=2) + clip(flare, path(strokes, line="#704823", width=1.3)) + path(flare, width=2)
    return slope + _hole() + label("worn wide", (274, 232), (176, 178))


def _eaten(rng: Random) -> str:
    drawn = _hole()
    for line in (
        [(98, 80), (75, 96), (83, 118), (63, 134)],
        [(152, 92), (175, 84), (185, 60)],
        [(152, 150), (177, 158), (169, 190), (134, 200)],
        [(98, 158), (78, 170), (86, 198)],
    ):
        tunnel: Points = [(float(x), float(y)) for x, y in line]
        drawn += path(smooth(tunnel), width=11, round_ends=True) + path(smooth(tunnel), line=VOID, width=8, round_ends=True)
    for x, y in (
        (70, 40),
        (103, 32),
        (147, 36),
        (180, 28),
        (65, 70),
        (182, 122),
        (68, 210),
        (108, 214),
        (177, 212),
        (227, 60),
        (238, 120),
        (225, 170),
    ):
        drawn += path(poly(oval((x, y), rng.uniform(4.5, 6.5))), fill=VOID)
    return drawn + powder((274, 230), rng, 66, 20, 50)


WALLS = {"whole": _whole, "split": _split, "burst": _burst, "worn_wide": _worn, "tunnels": _eaten}


def mortise_front(rng: Random, *, wall: str = "whole") -> str:
    """An upright part with a mortise in its front; `wall` says how the wood round it is: one of WALLS."""
    draw = chosen("wall", wall, WALLS)
    drawn = shadow([*FRONT[:1], *SIDE, FRONT[3]]) + wood(FRONT, rng, 90, "light", 10) + wood(SIDE, rng, 90, "mid", 9)
    return drawn + draw(rng)
