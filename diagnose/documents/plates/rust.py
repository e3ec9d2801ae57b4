"""Rust: iron that has grown thick and rough, brown with dark scales."""

from random import Random

from diagnose.documents.plates.shapes import Points, number
from diagnose.documents.plates.stuff import strewn


def _scale(x: float, y: float) -> str:
    return f"M{number(x)} {number(y)}q3 -4 6 0"


def rust(shape: Points, rng: Random) -> str:
    """Rust in a shape: a brown ground with short bent scales."""
    return strewn(shape, rng, 34, _scale, ground="#a5572a", line="#47200c", width=1.6)
