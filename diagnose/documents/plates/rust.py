"""Rust: iron that has grown thick and rough, brown with dark scales."""

from random import Random

from diagnose.documents.plates.canvas import clip, path
from diagnose.documents.plates.shapes import Points, bounds, number, poly


def rust(shape: Points, rng: Random) -> str:
    """Rust in a shape: a brown ground with short bent scales."""
    left, top, right, bottom = bounds(shape)
    d = ""
    for _ in range(int((right - left) * (bottom - top) / 34) + 4):
        x, y = rng.uniform(left, right), rng.uniform(top, bottom)
        d += f"M{number(x)} {number(y)}q3 -4 6 0"
    return (
        path(poly(shape), fill="#a5572a", line="none")
        + clip(shape, path(d, line="#47200c", width=1.6))
        + path(poly(shape), width=2)
    )
