"""Faults and marks of a finished top, seen from above."""

import math
from itertools import pairwise
from random import Random

from diagnose.documents.plates.canvas import clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, number, oval, poly, rect, smooth
from diagnose.documents.plates.stuff import FILM, FILM_LINE, VOID, metal, screw_head, shadow
from diagnose.documents.plates.wood import outline, wood

FACE = rect(14, 20, 292, 200)


def _sheen(face: Points) -> str:
    strokes = poly([(60, 210), (150, 30)], closed=False) + poly([(84, 210), (174, 30)], closed=False)
    return clip(face, path(strokes, line="#ffffff", width=7, opacity=0.55))


def _top(rng: Random) -> str:
    drawn = shadow(FACE) + wood(FACE, rng, 0, "mid", 11)
    return drawn + path(poly(FACE), fill=FILM, line="none", opacity=0.3) + _sheen(FACE)


def _places(rng: Random, wide: float, tall: float, loose: float, fold: float = 0.0) -> list[list[Point]]:
    """Corners of a net of meshes, `loose` shaken (a share of a mesh); every other corner of a row lies `fold` lower."""
    columns, rows = round(292 / wide), round(200 / tall)
    return [
        [
            (
                14 + wide * (i + rng.uniform(-loose, loose)) if 0 < i < columns else 14 + 292 * i / columns,
                20 + tall * (j + rng.uniform(-loose, loose)) + (fold if (i + j) % 2 else -fold)
                if 0 < j < rows
                else 20 + 200 * j / rows,
            )
            for i in range(columns + 1)
        ]
        for j in range(rows + 1)
    ]


def _crazed(rng: Random) -> str:
    # A shaken honeycomb: every row of corners is joined up, and to the row below at every other corner.
    net = _places(rng, 13, 20, 0.2, 4)
    d = "".join(poly(row, closed=False) for row in net)
    for j, (upper, lower) in enumerate(pairwise(net)):
        d += "".join(poly([upper[i], lower[i]], closed=False) for i in range(len(upper)) if (i + j) % 2)
    return _top(rng) + clip(FACE, path(d, line="#33261b", width=1.3)) + outline(FACE)


def _islands(rng: Random) -> str:
    net, d = _places(rng, 58.4, 66.7, 0.22), ""
    for upper, lower in pairwise(net):
        for i in range(len(upper) - 1):
            corners = [upper[i], upper[i + 1], lower[i + 1], lower[i]]
            cx, cy = sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4
            d += smooth([(cx + (x - cx) * 0.82, cy + (y - cy) * 0.8) for x, y in corners], closed=True)
    drawn = path(poly(FACE), fill=VOID, line="none") + clip(d, _top(rng))
    return drawn + clip(FACE, path(d, line=FILM_LINE, width=2.4)) + outline(FACE)


def _ring(centre: Point, radius: float, colour: str, width: float, opacity: float, rng: Random) -> str:
    round_it = [(x + rng.uniform(-2, 2), y + rng.uniform(-2, 2)) for x, y in oval(centre, radius, radius * 0.92, 18)]
    return path(smooth(round_it, closed=True), line=colour, width=width, opacity=opacity)


def _white_ring(rng: Random) -> str:
    drawn = _top(rng) + _ring((160, 122), 66, "#ffffff", 22, 0.92, rng) + _ring((160, 122), 66, "#ffffff", 34, 0.4, rng)
    return drawn + outline(FACE)


def _flakes(rng: Random) -> str:
    drawn = _top(rng)
    for centre, rx, ry in (((96, 92), 66, 46), ((226, 150), 58, 44), ((234, 62), 38, 22)):
        patch = [(x + rng.uniform(-10, 10), y + rng.uniform(-8, 8)) for x, y in oval(centre, rx, ry, 13)]
        drawn += wood(patch, rng, 0, "light", 11, outline=False)
        drawn += path(poly(patch), line=FILM_LINE, width=4) + path(poly(patch), line="#ffffff", width=1.4)
        for i in (1, 5, 9):
            x, y = patch[i]
            chip = [(px + rng.uniform(-5, 5), py + rng.uniform(-4, 4)) for px, py in oval((x, y), 13, 8, 6)]
            drawn += shadow(chip, 2.5, 3) + path(poly(chip), fill=FILM, line=FILM_LINE, width=1.6)
    return drawn + outline(FACE) + label("bare wood", (96, 96))


def _dark_ring(rng: Random) -> str:
    drawn = _top(rng)
    for radius, width, dark in ((66.0, 24.0, 0.45), (66.0, 12.0, 0.85)):
        drawn += _ring((160, 122), radius, "#2a1a10", width, dark, rng)
    return drawn + outline(FACE)


def _tide(rng: Random) -> str:
    line: list[Point] = [(14 + 29.2 * i, 116 + 20 * math.sin(i * 1.3) + rng.uniform(-7, 7)) for i in range(11)]
    wet = smooth(line) + f"L{number(306)} 220L14 220Z"
    drawn = _top(rng) + path(wet, fill="#fff3d6", line="none", opacity=0.55)
    inner = smooth([(x, y + 9) for x, y in line])
    drawn += clip(FACE, path(inner, line="#5a3a1e", width=16, opacity=0.4), path(smooth(line), line="#2a1a10", width=6))
    return drawn + outline(FACE) + label("dark rim", (244, 60), (218, line[7][1])) + label("was wet", (112, 184))


def _at_metal(rng: Random) -> str:
    drawn = _top(rng)
    strap = rect(104, 92, 112, 56)
    halo = [(x + rng.uniform(-7, 7), y + rng.uniform(-7, 7)) for x, y in oval((160, 120), 104, 66, 22)]
    near = [(x + rng.uniform(-4, 4), y + rng.uniform(-4, 4)) for x, y in oval((160, 120), 82, 50, 22)]
    drawn += path(smooth(halo, closed=True), fill="#2a1a10", line="none", opacity=0.45)
    drawn += path(smooth(near, closed=True), fill="#1d120b", line="none", opacity=0.75)
    drawn += metal(strap, [(112, 98), (206, 98)]) + screw_head((128, 120), 11) + screw_head((192, 120), 11, 80)
    return drawn + outline(FACE) + label("black wood", (254, 206), (230, 146))


MARKS = {
    "fine_net": _crazed,
    "islands": _islands,
    "pale_ring": _white_ring,
    "flaked": _flakes,
    "black_ring": _dark_ring,
    "water_line": _tide,
    "black_at_iron": _at_metal,
}


def top_marks(rng: Random, *, mark: str = "fine_net") -> str:
    """A finished top from above; `mark` is one of MARKS."""
    return chosen("mark", mark, MARKS)(rng)
