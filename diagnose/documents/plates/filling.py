"""Filler: a stuff of its own, pale with short crossed strokes, like putty that was pressed in."""

from random import Random

from diagnose.documents.plates.shapes import Points, number
from diagnose.documents.plates.stuff import strewn


def _cross(x: float, y: float) -> str:
    return f"M{number(x - 2.5)} {number(y - 2.5)}l5 5M{number(x + 2.5)} {number(y - 2.5)}l-5 5"


def filler(shape: Points, rng: Random) -> str:
    """Hard filler: chalky white with small crosses."""
    return strewn(shape, rng, 70, _cross, ground="#f7f4ee", line="#6f675c", width=1)
