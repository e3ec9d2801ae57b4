"""The corner inside a case, a seam in its floor, and what may lie there."""

from random import Random

from diagnose.documents.plates.canvas import label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, number, oval, poly, smooth, turned
from diagnose.documents.plates.wood import wood

FLOOR: Points = [(12, 226), (80, 116), (308, 116), (308, 226)]


def _corner(rng: Random) -> str:
    drawn = wood([(80, 14), (308, 14), (308, 116), (80, 116)], rng, 0, "light", 13)
    drawn += wood([(12, 14), (80, 14), (80, 116), (12, 226)], rng, 90, "dark", 12) + wood(FLOOR, rng, 0, "mid", 13)
    return drawn + path("M46 171H308", width=3)


def _spots(rng: Random) -> str:
    spots = "".join(f"M{number(rng.uniform(60, 300))} {number(171 + rng.gauss(0, 6))}h.1" for _ in range(60))
    seam = "".join(f"M{number(rng.uniform(84, 300))} {number(116 + rng.gauss(0, 4))}h.1" for _ in range(34))
    drawn = path(spots + seam, line="#120b06", width=5.5, round_ends=True)
    for centre, turn in (((130.0, 200.0), 20.0), ((226.0, 142.0), -15.0)):
        skin = turned(oval(centre, 20, 11), centre, turn)
        drawn += path(poly(skin), fill="#fff3d2", width=1.8)
        drawn += "".join(
            path(poly(turned([(centre[0] + d, centre[1] - 10), (centre[0] + d, centre[1] + 10)], centre, turn), False))
            for d in (-8, 0, 8)
        )
    return drawn + label("skin", (180, 218), (140, 203)) + label("spots", (190, 84), (172, 114))


def _insect(centre: Point, turn: float) -> str:
    x, y = centre
    legs = "".join(
        smooth(turned([(x + d * 0.5, y), (x + d, y + side * 19), (x + d * 1.5, y + side * 29)], centre, turn))
        for d in (-14, 2, 16)
        for side in (-1, 1)
    )
    feelers = "".join(smooth(turned([(x + 28, y), (x + 40, y + s * 7), (x + 50, y + s * 18)], centre, turn)) for s in (-1, 1))
    body = path(poly(turned(oval((x - 4, y), 25, 15), centre, turn)), fill="#6d4221", width=1.8)
    head = path(poly(turned(oval((x + 25, y), 9, 8), centre, turn)), fill="#33261b")
    rings = "".join(
        path(poly(turned([(x + d, y - 13), (x + d, y + 13)], centre, turn), False), line="#f6e3bd", width=1.8)
        for d in (-12, -3, 6)
    )
    return path(legs + feelers, width=2.6, round_ends=True) + body + head + rings


def _insects(rng: Random) -> str:
    return _insect((112, 176), 200) + _insect((216, 186), 25) + _insect((222, 84), 60)


def _droppings(rng: Random) -> str:
    drawn = ""
    for _ in range(26):
        x, y = rng.uniform(78, 290), rng.uniform(132, 216)
        drawn += path(
            poly(turned(oval((x, y), 9, 3.8, 12), (x, y), rng.uniform(0, 180))), fill="#1d140d", line="#000000", width=0.8
        )
    nibbled = [(214, 116), (222, 92), (234, 84), (250, 82), (262, 92), (270, 116)]
    return drawn + path(smooth(nibbled) + "Z", fill="#2a2019") + label("gnawed hole", (180, 60), (240, 84))


def _white(rng: Random) -> str:
    """A crust of fine grains over floor and wall, thick in the corner, and the track of a finger that wiped it off."""
    drawn = ""
    for edge in (
        [(84, 118), (92, 92), (130, 84), (166, 98), (214, 90), (250, 104), (282, 102), (290, 118)],
        [
            (58, 156),
            (96, 128),
            (160, 120),
            (240, 122),
            (288, 124),
            (284, 158),
            (250, 156),
            (196, 172),
            (140, 162),
            (96, 186),
            (52, 196),
        ],
    ):
        uneven = [(x + rng.uniform(-4, 4), y + rng.uniform(-3, 3)) for x, y in edge]
        drawn += path(smooth(uneven, True), fill="#ffffff", line="#a9a195", opacity=0.92)
    grains = "".join(f"M{number(rng.uniform(56, 300))} {number(min(218, 140 + rng.gauss(0, 34)))}h.1" for _ in range(190))
    drawn += path(grains, line="#8d857a", width=3.6, round_ends=True) + path(grains, line="#ffffff", width=2.4, round_ends=True)
    track = [(138, 168), (176, 150), (214, 138), (252, 132)]
    drawn += path(smooth(track), line="#e6c491", width=15, round_ends=True)
    drawn += path(smooth(track), line="#9a6d3c", width=1) + path(smooth([(x, y + 4) for x, y in track]), line="#9a6d3c", width=1)
    return drawn + label("white powder", (196, 56), (130, 100)) + label("wiped by finger", (206, 212), (200, 142))


def _oily(rng: Random) -> str:
    drawn = ""
    for (x, y), rx, ry in (((128.0, 190.0), 58.0, 26.0), ((236.0, 146.0), 52.0, 22.0), ((200.0, 64.0), 66.0, 34.0)):
        edge = [(px + rng.uniform(-5, 5), py + rng.uniform(-4, 4)) for px, py in oval((x, y), rx, ry, 12)]
        inner = oval((x, y), rx * 0.66, ry * 0.62, 14)
        drawn += path(smooth(edge, True), fill="#4d3218", line="none", opacity=0.42)
        drawn += path(smooth(inner, True), fill="#24170b", line="none", opacity=0.34)
        drawn += path(
            smooth([(x - rx * 0.4, y - ry * 0.2), (x - rx * 0.1, y - ry * 0.4), (x + rx * 0.2, y - ry * 0.36)]),
            line="#e8dcc4",
            width=3,
        )
    return drawn


FINDS = {
    "spots": _spots,
    "insects": _insects,
    "droppings": _droppings,
    "white_powder": _white,
    "oily": _oily,
}


def found_inside(rng: Random, *, find: str = "spots") -> str:
    """A corner inside a case with one of FINDS in it."""
    return _corner(rng) + chosen("find", find, FINDS)(rng)
