"""A screw that holds an iron strap to a piece of wood, the wood cut open along the screw."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path, turn_arrow
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.rust import rust
from diagnose.documents.plates.shapes import Point, Points, moved, oval, poly, ragged, rect
from diagnose.documents.plates.stuff import METAL, METAL_LINE, VOID, crack, metal, screw, shadow, void
from diagnose.documents.plates.wood import OUTLINE, torn, wood

BLOCK = rect(24, 108, 272, 118)
STRAP_Y, MIDDLE, TIP = 94.0, 160.0, 206.0


def _block(rng: Random) -> str:
    return shadow(BLOCK) + wood(BLOCK, rng, 0, "mid", 9)


def _strap() -> str:
    return "".join(
        metal(rect(x, STRAP_Y, wide, 14), [(x + 6, STRAP_Y + 4), (x + wide - 6, STRAP_Y + 4)])
        for x, wide in ((60.0, 88.0), (172.0, 88.0))
    )


def _backed_out(rng: Random) -> str:
    hole = [(MIDDLE - 7, 108), (MIDDLE + 7, 108), (MIDDLE + 7, TIP - 14), (MIDDLE, TIP), (MIDDLE - 7, TIP - 14)]
    drawn = _block(rng) + _strap() + void(hole) + screw((MIDDLE, STRAP_Y - 44), (MIDDLE, TIP - 46), 19)
    return drawn + arrow((206, STRAP_Y - 6), (206, STRAP_Y - 44), 3) + label("thread bites", (70, 72), (MIDDLE - 8, 140))


def _spins(rng: Random) -> str:
    edge_left = ragged((MIDDLE - 26, 108), (MIDDLE - 14, TIP), rng, 8, 8)
    edge_right = ragged((MIDDLE + 14, TIP), (MIDDLE + 26, 108), rng, 8, 8)
    drawn = (
        _block(rng) + void([*edge_left, *edge_right]) + torn(edge_left, rng, 7, 0, 30, 5) + torn(edge_right, rng, 7, 180, 30, 5)
    )
    drawn += _strap() + screw((MIDDLE, STRAP_Y), (MIDDLE, TIP - 6), 19)
    return drawn + turn_arrow((MIDDLE, STRAP_Y - 22), 26, 200, -20, 3) + label("hole too wide", (76, 60), (MIDDLE - 19, 130))


def _chewed(rng: Random) -> str:
    drawn = _block(rng) + _strap() + screw((MIDDLE, STRAP_Y), (MIDDLE, TIP - 6), 19)
    at, radius = (MIDDLE, 50.0), 40.0
    rim = [(x + rng.uniform(-1.5, 1.5), y + rng.uniform(-1.5, 1.5)) for x, y in oval(at, radius)]
    # The slot has become a wide pit, and burrs of metal stand up round it.
    pit = [(-30, -4), (-16, -13), (0, -19), (17, -12), (30, -5), (28, 7), (12, 17), (-4, 18), (-20, 12), (-29, 5)]
    drawn += path(poly(rim), fill=METAL, line=METAL_LINE, width=2.4) + path(poly(moved(pit, *at)), fill=VOID, width=1.5)
    for x, y, dx, dy in ((-12, -16, -8, -9), (14, -14, 9, -8), (10, 18, 6, 11), (-18, 14, -9, 8)):
        burr: Points = [(at[0] + x - 4, at[1] + y), (at[0] + x + dx, at[1] + y + dy), (at[0] + x + 4, at[1] + y)]
        drawn += path(poly(burr), fill="#eef1f4", line=METAL_LINE, width=1.2)
    return drawn + label("from above", (262, 30), (192, 44))


def _snapped(rng: Random) -> str:
    drawn = _block(rng) + _strap()
    hole = rect(MIDDLE - 8, 108, 16, 44)
    drawn += void(hole) + clip(rect(0, 150, 320, 90), screw((MIDDLE, STRAP_Y), (MIDDLE, TIP + 4), 21))
    top = (MIDDLE + 44, 22.0)
    drawn += clip(rect(0, 0, 320, 68), screw(top, (top[0], top[1] + 108), 21))
    for x, y in ((MIDDLE, 150.0), (top[0], 68.0)):
        jag: list[Point] = [(x - 8, y), (x - 4, y - 4), (x, y + 2), (x + 4, y - 5), (x + 8, y)]
        drawn += path(poly(jag, closed=False), width=3)
    return drawn + label("rest stays in", (74, 60), (MIDDLE - 4, 172))


def _stained(rng: Random) -> str:
    drawn = _block(rng)
    for spread, dark in ((62, 0.35), (44, 0.5), (26, 0.6)):
        edge = [(x + rng.uniform(-4, 4), y + rng.uniform(-4, 4)) for x, y in oval((MIDDLE, 140), spread, spread * 1.3, 20)]
        drawn += clip(BLOCK, path(poly(edge), fill="#1d120b", line="none", opacity=dark))
    drawn += path(poly(BLOCK), width=OUTLINE) + _strap() + screw((MIDDLE, STRAP_Y), (MIDDLE, TIP - 6), 19)
    return drawn + label("black stain", (74, 60), (MIDDLE - 40, 128))


def _burst(rng: Random) -> str:
    drawn = _block(rng)
    thick = [
        (-30, -14),
        (30, -14),
        (17, 6),
        (24, 24),
        (17, 44),
        (25, 62),
        (14, 82),
        (6, 100),
        (-6, 100),
        (-16, 80),
        (-23, 62),
        (-16, 42),
        (-25, 22),
        (-17, 6),
    ]
    for line in (
        [(184, 132), (222, 126), (258, 132), (297, 124)],
        [(138, 150), (100, 156), (62, 148), (23, 154)],
        [(178, 180), (214, 186), (252, 180)],
        [(142, 192), (104, 190), (74, 196)],
    ):
        drawn += crack(line, 10, rng, 2)
    drawn += _strap() + rust([(MIDDLE + x, 108 + y) for x, y in thick], rng)
    drawn += arrow((204, 156), (236, 156), 3) + arrow((116, 172), (84, 172), 3)
    return drawn + label("thick with rust", (160, 70), (MIDDLE, STRAP_Y + 4))


STATES = {
    "backed_out_of_hole": _backed_out,
    "turns_free": _spins,
    "chewed_head": _chewed,
    "broken_off": _snapped,
    "stains": _stained,
    "bursts": _burst,
}


def screw_seat(rng: Random, *, state: str = "turns_free") -> str:
    """A screw in its hole, cut open; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
