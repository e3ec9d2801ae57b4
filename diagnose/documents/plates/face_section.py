"""A face cut through: veneer on its ground, filler in a gap, inlay in its bed."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.filling import filler
from diagnose.documents.plates.shapes import Point, Points, band, poly, rect, smooth
from diagnose.documents.plates.stuff import VOID, crack, glue_line, shadow
from diagnose.documents.plates.wood import OUTLINE, end_grain, wood, wood_following

LEFT, RIGHT, TOP, BOTTOM = 14.0, 306.0, 116.0, 206.0
GROUND = rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
THICK = 20.0


def _ground(rng: Random) -> str:
    return shadow(GROUND) + wood(GROUND, rng, 0, "light", 10)


def _layer(under: Points, rng: Random) -> str:
    """A sheet of veneer whose lower side is the line `under`."""
    middle = [(x, y - THICK / 2) for x, y in under]
    return wood_following(band(middle, THICK), middle, rng, 8, "dark", 5)


def _edge(rng: Random) -> str:
    lift: list[Point] = [(18, 66), (56, 76), (98, 94), (138, 107), (172, 111), (RIGHT, 111)]
    drawn = (
        _ground(rng)
        + path(poly([(24, TOP), *lift[:5], (172, TOP)]), fill=VOID)
        + glue_line([(172, TOP - 2), (RIGHT, TOP - 2)], 8)
    )
    return drawn + _layer(lift, rng) + label("glue holds", (250, 68), (240, TOP - 2))


def _blister(rng: Random) -> str:
    hump: list[Point] = [(LEFT, 111), (84, 111), (116, 98), (140, 74), (160, 66), (180, 74), (204, 98), (236, 111), (RIGHT, 111)]
    drawn = _ground(rng) + path(poly([(86, TOP), *hump[1:8], (234, TOP)]), fill=VOID)
    drawn += glue_line([(LEFT, TOP - 2), (88, TOP - 2)], 8) + glue_line([(232, TOP - 2), (RIGHT, TOP - 2)], 8)
    return drawn + _layer(hump, rng) + label("hollow", (256, 54), (180, 96))


def _over_joint(rng: Random) -> str:
    left, right = rect(LEFT, TOP, 140, BOTTOM - TOP), rect(166, TOP, 140, BOTTOM - TOP)
    drawn = shadow(left) + shadow(right) + wood(left, rng, 0, "light", 10)
    drawn += end_grain(right, rng, (236, 330), "mid", 10, rays=False) + path(poly(rect(154, TOP, 12, BOTTOM - TOP)), fill=VOID)
    for a, b in ((LEFT, 152.0), (168.0, RIGHT)):
        drawn += glue_line([(a, TOP - 2), (b, TOP - 2)], 8)
        line: list[Point] = [(a + (b - a) * i / 4, 111.0) for i in range(5)]
        drawn += _layer(line, rng)
    drawn += crack([(160, 88), (163, 96), (157, 104), (160, TOP)], 15, rng, 10)
    return drawn + label("crack above", (92, 64), (158, 94)) + label("joint below", (160, 230), (160, BOTTOM - 14))


def _filled(rng: Random) -> str:
    left, right = rect(LEFT, TOP, 112, BOTTOM - TOP), rect(206, TOP, 100, BOTTOM - TOP)
    plug: list[Point] = [
        (142, TOP - 2),
        (150, TOP - 15),
        (176, TOP - 18),
        (202, TOP - 12),
        (206, TOP),
        (206, BOTTOM),
        (142, BOTTOM),
    ]
    drawn = shadow(GROUND) + end_grain(left, rng, (70, 330), "light", 10, rays=False)
    drawn += end_grain(right, rng, (256, 330), "light", 10, rays=False) + filler(plug, rng)
    drawn += path(poly([(126, TOP), (142, TOP - 2), (142, BOTTOM), (126, BOTTOM)]), fill=VOID)
    drawn += crack([(252, TOP), (247, 138), (254, 160), (249, 184)], 11, rng, 2)
    return drawn + label("filler", (186, 64), (176, TOP - 10)) + label("open again", (84, 84), (134, TOP + 10))


def _inlay(rng: Random) -> str:
    bed = rect(104, TOP, 112, 34)
    drawn = _ground(rng) + path(poly(bed), fill="#fbf6ea", line="none") + glue_line([(104, TOP + 30), (216, TOP + 30)], 9)
    piece = rect(106, TOP - 22, 108, 46)
    drawn += path(poly(piece), fill="#f6f1e6", width=2) + clip(
        piece, path(smooth([(106, 128), (150, 118), (214, 130)]), line="#a79a85")
    )
    drawn += path(poly([(LEFT, TOP), (104, TOP)], closed=False), width=OUTLINE + 1)
    drawn += path(poly([(216, TOP), (RIGHT, TOP)], closed=False), width=OUTLINE + 1)
    drawn += path(poly([(224, TOP - 22), (290, TOP - 22)], closed=False), width=1.4, dash="5 4")
    return (
        drawn
        + arrow((258, TOP - 58), (258, TOP - 24), 2)
        + arrow((258, TOP + 36), (258, TOP + 2), 2)
        + label("inlay", (160, 70), (160, TOP - 10))
    )


STATES = {"edge_up": _edge, "hump": _blister, "over_joint": _over_joint, "gap_filled": _filled, "inlay_up": _inlay}


def face_section(rng: Random, *, state: str = "edge_up") -> str:
    """A face cut through and seen from the side; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
