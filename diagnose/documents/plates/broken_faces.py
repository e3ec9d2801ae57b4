"""What the two faces of a break look like: a bar broken across and drawn apart."""

from random import Random

from diagnose.documents.plates.canvas import clip, dimension, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, moved, oval, poly, rect, smooth
from diagnose.documents.plates.stuff import dirt, powder, shadow
from diagnose.documents.plates.wood import TONES, grain, outline, torn, torn_face, wood

LEFT, RIGHT, TOP, BOTTOM = 14.0, 306.0, 78.0, 158.0


def _halves(edge: Points, apart: float, rng: Random, angle: float = 0.0) -> tuple[str, list[Point], list[Point]]:
    """Two halves of a bar whose broken edges are the same line, the right one drawn `apart`; with both edges."""
    left_edge, right_edge = moved(edge, -apart / 2), moved(edge, apart / 2)
    left = [(LEFT, edge[0][1]), *left_edge, (LEFT, edge[-1][1])]
    right = [(RIGHT, edge[0][1]), *right_edge, (RIGHT, edge[-1][1])]
    drawn = shadow(left) + shadow(right) + wood(left, rng, angle) + wood(right, rng, angle)
    return drawn, left_edge, right_edge


def _long_splinters(rng: Random) -> str:
    # Tongues that reach into each other over three times the thickness of the bar.
    tips = (60.0, 256.0, 70.0, 252.0)
    drawn, left, right = _halves([(x, 88 + 19 * i) for i, x in enumerate(tips)], 44, rng)
    size = dimension((70, 180), (241, 180), "3 × thickness")
    return drawn + torn(left, rng, 12, 0, 4, 30) + torn(right, rng, 12, 180, 4, 30) + size


def _short_steps(rng: Random) -> str:
    edge: list[Point] = [(120, TOP)]
    for i in range(5):
        x, y = 120 + 18 * (i + 1), TOP + (BOTTOM - TOP) * (i + 0.5) / 5
        edge += [(x - 18, y + 4), (x, y - 4)]
    edge += [(210, BOTTOM)]
    return _halves(edge, 30, rng, angle=-20)[0]


def _snapped(rng: Random) -> str:
    edge = [(160 + rng.uniform(-1.6, 1.6), TOP + (BOTTOM - TOP) * i / 9) for i in range(10)]
    return _halves(edge, 44, rng)[0] + label("no splinters", (160, 46), (139, TOP + 30))


def _crushed(rng: Random) -> str:
    middle = TOP + 42
    # Below, the wood is whole but pushed together: it bulges out, and its fibres lie in folds.
    bulge = [(118.0, BOTTOM), (136.0, BOTTOM + 9), (160.0, BOTTOM + 13), (184.0, BOTTOM + 9), (202.0, BOTTOM)]
    left_edge: list[Point] = [(140, TOP), (160, TOP + 8), (134, TOP + 15), (158, TOP + 24), (138, TOP + 31), (160, middle)]
    right_edge = [(x + 44 * (middle - y) / 42, y) for x, y in left_edge]
    whole = [(LEFT, TOP), *left_edge, *reversed(right_edge), (RIGHT, TOP), (RIGHT, BOTTOM), *reversed(bulge), (LEFT, BOTTOM)]
    drawn = shadow(whole) + path(poly(whole), fill=TONES["mid"][0], line="none")
    drawn += grain([(LEFT, TOP), *left_edge, (106.0, BOTTOM), (LEFT, BOTTOM)], rng)
    drawn += grain([(RIGHT, TOP), *right_edge, (214.0, BOTTOM), (RIGHT, BOTTOM)], rng)
    folds = ""
    for i in range(6):
        y = middle + 8 + i * 8
        folds += smooth([(110 + j * 10, y + (0 if j in (0, 10) else 5 if j % 2 else -5)) for j in range(11)])
    creases = "".join(poly([(x, middle + 8), (x + 4, BOTTOM + 5)], closed=False) for x in (140.0, 160.0, 180.0))
    pressed = [(100.0, middle), (220.0, middle), (220.0, BOTTOM), *reversed(bulge), (100.0, BOTTOM)]
    drawn += clip(pressed, path(folds, line="#6b4320", width=1.5) + path(creases, width=2.4)) + outline(whole)
    drawn += torn(left_edge, rng, 12, 0, 8, 9) + torn(right_edge, rng, 12, 180, 8, 9)
    return drawn + label("torn", (160, 48), (160, TOP + 10)) + label("pressed in folds", (160, 208), (172, BOTTOM - 6))


def _old_and_new(rng: Random) -> str:
    # The broken end turned towards the eye: dark and dirty on one half, bright fibre on the other.
    x, y, w, h = 132.0, 56.0, 132.0, 128.0
    top = [(x - 100, y - 26), (x + w - 96, y - 26), (x + w, y), (x, y)]
    side = [(x - 100, y - 26), (x, y), (x, y + h), (x - 100, y + h - 40)]
    old, new = rect(x, y, w * 0.52, h), rect(x + w * 0.52, y, w * 0.48, h)
    drawn = shadow(rect(x, y, w, h), 7, 8) + wood(top, rng, -14, "light") + wood(side, rng, -9)
    drawn += dirt(old, rng, 2.4) + torn_face(new, rng, 70, 16, 20)
    edge = [(x + w * 0.52 + rng.uniform(-4, 4), y + h * i / 9) for i in range(10)]
    drawn += path(poly(edge, closed=False), width=1.6) + path(poly(rect(x, y, w, h)), width=2)
    return drawn + label("old", (166, 208), (166, 160)) + label("new", (234, 208), (234, 160))


def _crumbly(rng: Random) -> str:
    def bitten(x: float) -> list[Point]:
        return [(x + (15 if i % 2 else -13) * rng.uniform(0.5, 1), TOP + (BOTTOM - TOP) * i / 9) for i in range(10)]

    left, right = bitten(128), bitten(196)
    drawn = wood([(LEFT, TOP), *left, (LEFT, BOTTOM)], rng, tone="grey") + wood(
        [(RIGHT, TOP), *right, (RIGHT, BOTTOM)], rng, tone="grey"
    )
    for line, way in ((left, -1), (right, 1)):
        for x, y in line[1:-1]:
            cracks = [(x + way * 4, y), (x + way * 18, y + rng.uniform(-6, 6)), (x + way * 30, y + rng.uniform(-9, 9))]
            drawn += path(poly(cracks, closed=False), width=1.6)
            drawn += path(poly([(x + way * 18, y - 5), (x + way * 16, y + 6)], closed=False), width=1.4)
    drawn += powder((162, 226), rng, 110, 24, 60)
    for _ in range(12):
        lump = oval((162 + rng.uniform(-34, 34), rng.uniform(TOP + 8, 212)), rng.uniform(3, 7), rng.uniform(3, 6), 7)
        drawn += path(poly([(x + rng.uniform(-1, 1), y) for x, y in lump]), fill=TONES["grey"][0], width=1.1)
    return drawn


LOOKS = {
    "long_splinters": _long_splinters,
    "short_steps": _short_steps,
    "snapped": _snapped,
    "crushed": _crushed,
    "old_and_new": _old_and_new,
    "crumbly": _crumbly,
}


def broken_faces(rng: Random, *, texture: str = "long_splinters") -> str:
    """A bar broken across, its two faces as the `texture` says: one of LOOKS."""
    return chosen("texture", texture, LOOKS)(rng)
