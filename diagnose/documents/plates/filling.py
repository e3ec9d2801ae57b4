"""Filler: a stuff of its own, pale with short crossed strokes, like putty that was pressed in."""

from random import Random

from diagnose.documents.plates.canvas import clip, path
from diagnose.documents.plates.shapes import Points, bounds, number, poly


def filler(shape: Points, rng: Random) -> str:
    """Hard filler: chalky white with small crosses."""
    left, top, right, bottom = bounds(shape)
    count = int((right - left) * (bottom - top) / 70) + 4
    d = ""
    for _ in range(count):
        x, y = rng.uniform(left, right), rng.uniform(top, bottom)
        d += f"M{number(x - 2.5)} {number(y - 2.5)}l5 5M{number(x + 2.5)} {number(y - 2.5)}l-5 5"
    return (
        path(poly(shape), fill="#f7f4ee", line="none")
        + clip(shape, path(d, line="#6f675c", width=1))
        + path(poly(shape), width=2)
    )
