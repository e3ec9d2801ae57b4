"""A wide board seen at its end, with what lets it move in its width, or holds it."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.filling import filler
from diagnose.documents.plates.shapes import Point, Points, poly, rect
from diagnose.documents.plates.slab import slab
from diagnose.documents.plates.stuff import crack, dirt, glue_line, metal, old_glue, screw, shadow, void
from diagnose.documents.plates.wood import end_grain, outline, wood

X, Y, WIDE, HIGH = 36.0, 92.0, 214.0, 40.0
BACK: Point = (34.0, -40.0)
UNDER = rect(40, Y + HIGH, 206, 46)
SCREWS = (90.0, 196.0)


def _board(rng: Random, split: bool = False) -> str:
    drawn = shadow(rect(X, Y, WIDE, HIGH)) + slab(X, Y, WIDE, HIGH, rng, BACK, "mid", None, 9, 12)
    if split:
        drawn += void([(138, Y), (150, Y), (150 + BACK[0] - 3, Y + BACK[1]), (138 + BACK[0] + 3, Y + BACK[1])], line=False)
        drawn += crack([(144, Y), (140, Y + 14), (146, Y + 28), (143, Y + HIGH + 1)], 13, rng, 9)
    return drawn


def _rail(rng: Random) -> str:
    return shadow(UNDER) + wood(UNDER, rng, 0, "grey", 9)


def _slot(x: float, wide: float) -> str:
    return path(poly(rect(x - wide / 2, Y + HIGH + 1, wide, 44)), fill="#fbf6ea", width=2)


def _washer(x: float) -> str:
    """The washer that carries the head of a screw over its slot."""
    return metal(rect(x - 28, Y + HIGH + 46, 56, 6))


def _free(rng: Random) -> str:
    drawn = _board(rng) + _rail(rng)
    for x in SCREWS:
        drawn += _slot(x, 40) + _washer(x) + screw((x, Y + HIGH + 58), (x, Y + 12), 11)
    drawn += arrow((28, Y + 20), (8, Y + 20)) + arrow((290, Y + 20), (312, Y + 20))
    return drawn + label("wide slots", (143, 218), (SCREWS[0] + 13, Y + HIGH + 32))


def _fixed(rng: Random) -> str:
    drawn = _board(rng, split=True) + _rail(rng)
    for x in (SCREWS[0], 118.0, 168.0, SCREWS[1]):
        drawn += screw((x, Y + HIGH + 50), (x, Y + 12), 10)
    drawn += glue_line([(40, Y + HIGH), (246, Y + HIGH)], 6)
    return drawn + label("tight all across", (143, 222), (168, Y + HIGH + 44)) + label("it splits", (143, 30), (158, Y - 16))


def _jammed(rng: Random) -> str:
    drawn = _board(rng, split=True) + _rail(rng)
    for x, way in zip(SCREWS, (1, -1), strict=True):
        drawn += _slot(x, 40) + dirt(rect(x - 19, Y + HIGH + 2, 38, 42), rng, 2.4)
        drawn += _washer(x) + screw((x + way * 14, Y + HIGH + 58), (x + way * 14, Y + 12), 11)
    return drawn + label("slot packed", (143, 222), (SCREWS[0] + 2, Y + HIGH + 30)) + label("it splits", (143, 30), (158, Y - 16))


def _filled(rng: Random) -> str:
    gap: Points = [(126, Y), (154, Y), (150, Y + HIGH), (132, Y + HIGH)]
    drawn = _board(rng)
    drawn += filler([(126, Y), (154, Y), (154 + BACK[0] - 2, Y + BACK[1]), (126 + BACK[0] + 4, Y + BACK[1])], rng) + filler(
        gap, rng
    )
    drawn += crack([(196, Y), (193, Y + 14), (198, Y + 28), (194, Y + HIGH)], 8, rng, 3)
    drawn += path(poly([(196, Y), (206, Y - 14), (214, Y - 22), (230, Y - 40)], closed=False), line="#2a2019", width=5)
    drawn += arrow((84, Y + 84), (124, Y + 84)) + arrow((206, Y + 84), (166, Y + 84))
    return drawn + label("hard filler", (92, 36), (150, Y - 14)) + label("new crack", (254, 36), (222, Y - 30))


def _stile(x: float, rng: Random, way: int) -> str:
    """One side of a frame, cut across, with a groove towards the panel."""
    inner = x + 62 if way > 0 else x
    front: Points = rect(x, Y - 14, 62, 92)
    groove = rect(inner - (24 if way > 0 else 0), Y + 17, 24, 31)
    return (
        shadow(front)
        + end_grain(front, rng, (x + 31, Y + 190), "dark", 9, rays=False)
        + path(poly(groove), fill="#fbf6ea", width=1.6)
    )


def _panel(rng: Random) -> str:
    drawn = _stile(14, rng, 1) + _stile(244, rng, -1)
    panel = rect(58, Y + 19, 204, 27)
    drawn += end_grain(panel, rng, (160, Y + 220), "light", 9, rays=False)
    for left in (50.0, 244.0):
        drawn += old_glue(rect(left, Y + 17, 26, 31))
    drawn += crack([(156, Y + 18), (152, Y + 28), (158, Y + 36), (155, Y + 47)], 14, rng, 11) + outline(panel, 1)
    return drawn + label("stuck in groove", (104, 214), (62, Y + 40)) + label("panel splits", (160, 58), (156, Y + 22))


WAYS = {"free": _free, "fixed_across": _fixed, "slots_packed": _jammed, "gap_filled": _filled, "groove_stuck": _panel}


def held_width(rng: Random, *, by: str = "free") -> str:
    """The end of a wide board and what holds it in its width; `by` is one of WAYS."""
    return chosen("by", by, WAYS)(rng)
