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


def _top(rng: Random, finished: bool = True) -> str:
    drawn = shadow(FACE) + wood(FACE, rng, 0, "mid", 11)
    return drawn + (path(poly(FACE), fill=FILM, line="none", opacity=0.3) + _sheen(FACE) if finished else "")


def _places(rng: Random, wide: float, loose: float) -> list[list[Point]]:
    """Corners of a net of four-sided meshes, shaken."""
    columns, rows = round(292 / wide), round(200 / wide)
    return [
        [
            (
                14
                + 292 * i / columns
                + (rng.uniform(-loose, loose) * wide + (wide / 2 if j % 2 else 0) if 0 < i < columns else 0),
                20 + 200 * j / rows + (rng.uniform(-loose, loose) * wide if 0 < j < rows else 0),
            )
            for i in range(columns + 1)
        ]
        for j in range(rows + 1)
    ]


def _crazed(rng: Random) -> str:
    net, d = _places(rng, 21, 0.25), ""
    for row in net:
        d += poly(row, closed=False)
    for upper, lower in pairwise(net):
        d += "".join(poly([a, b], closed=False) for a, b in zip(upper, lower, strict=True))
    return _top(rng) + clip(FACE, path(d, line="#33261b", width=1.3)) + outline(FACE)


def _islands(rng: Random) -> str:
    net, d = _places(rng, 62, 0.2), ""
    for upper, lower in pairwise(net):
        for i in range(len(upper) - 1):
            corners = [upper[i], upper[i + 1], lower[i + 1], lower[i]]
            cx, cy = sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4
            d += smooth([(cx + (x - cx) * 0.82, cy + (y - cy) * 0.8) for x, y in corners], closed=True)
    drawn = _top(rng, finished=False) + path(poly(FACE), fill=VOID, line="none", opacity=0.75)
    return drawn + clip(FACE, path(d, fill="#cf9f66", line=FILM_LINE, width=2.4), _sheen(FACE)) + outline(FACE)


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
            chip = [(x - 9, y - 4), (x + 7, y - 7), (x + 10, y + 4), (x - 4, y + 7)]
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
