"""Kinds of wood by what a lens shows on a clean face and at its end: open pores, fine even wood, banded softwood."""

from random import Random

from diagnose.documents.plates.canvas import clip, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, bounds, number, poly, rect, smooth
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import OUTLINE, TONES, end_grain, knot

X, Y, WIDE, HIGH = 14.0, 92.0, 226.0, 116.0
BACK: Point = (64.0, -52.0)
FRONT = rect(X, Y, WIDE, HIGH)
TOP = [(X, Y), (X + WIDE, Y), (X + WIDE + BACK[0], Y + BACK[1]), (X + BACK[0], Y + BACK[1])]
END = [(X + WIDE, Y), (X + WIDE + BACK[0], Y + BACK[1]), (X + WIDE + BACK[0], Y + BACK[1] + HIGH), (X + WIDE, Y + HIGH)]
HEART = (X + WIDE + 20, Y + HIGH * 2.2)


def _scratches(shape: Points, rng: Random, count: int, long: float) -> str:
    left, top, right, bottom = bounds(shape)
    d = ""
    for i in range(count):
        # Spread evenly: rows one under the other, each with a place of its own.
        y = top + (bottom - top) * (i + rng.random()) / count
        d += f"M{number(rng.uniform(left, right))} {number(y)}h{number(long * rng.uniform(0.5, 1))}"
    return clip(shape, path(d, line="#3d2614", width=2, round_ends=True))


def _rows_of_pores(rng: Random) -> str:
    rows = ""
    for i in range(7):
        radius = 150 + 22 * i
        rows += (
            f'<circle cx="{number(HEART[0])}" cy="{number(HEART[1])}" r="{radius}" stroke="#3d2614" '
            f'stroke-width="4" stroke-dasharray="0.1 6.5" stroke-linecap="round"/>'
        )
    return clip(END, rows)


def _faces(tone_of_end: str = TONES["light"][0], tone_of_face: str = TONES["mid"][0]) -> str:
    top, front = path(poly(TOP), fill=TONES["light"][0], line="none"), path(poly(FRONT), fill=tone_of_face, line="none")
    return shadow(FRONT) + top + front + path(poly(END), fill=tone_of_end, line="none")


def _edges() -> str:
    return "".join(path(poly(shape), width=OUTLINE) for shape in (TOP, FRONT, END))


def _open(rng: Random) -> str:
    drawn = _faces() + _scratches(TOP, rng, 50, 20) + _scratches(FRONT, rng, 130, 24)
    return drawn + _rows_of_pores(rng) + _edges()


def _fine(rng: Random) -> str:
    waves = ""
    for y in (Y + 26, Y + 62, Y + 92):
        waves += smooth([(X + WIDE * i / 4, y + rng.uniform(-5, 5)) for i in range(5)])
    d = "".join(f"M{number(rng.uniform(X, X + WIDE))} {number(rng.uniform(Y, Y + HIGH))}h3" for _ in range(46))
    faint = clip(FRONT, path(waves, line="#c79a63", width=1) + path(d, line="#c79a63", width=0.9))
    return _faces() + faint + clip(END, end_grain(END, rng, HEART, "light", 14, rays=False, outline=False)) + _edges()


def _softwood(rng: Random) -> str:
    bands = ""
    for i in range(5):
        y = Y + 14 + 23 * i
        bands += smooth([(X + WIDE * j / 4, y + rng.uniform(-2, 2)) for j in range(5)])
    upper = "".join(
        poly([(X + BACK[0] * s, Y + BACK[1] * s), (X + WIDE + BACK[0] * s, Y + BACK[1] * s)], closed=False)
        for s in (0.2, 0.45, 0.7, 0.92)
    )
    drawn = _faces() + clip(FRONT, path(bands, line="#a8713d", width=8)) + clip(TOP, path(upper, line="#b98a53", width=4))
    rings = "".join(
        f'<circle cx="{number(HEART[0])}" cy="{number(HEART[1])}" r="{r}" stroke="#a8713d" stroke-width="8"/>'
        for r in range(150, 300, 23)
    )
    return drawn + clip(END, rings) + knot((X + 74, Y + 58), 21, rng) + _edges()


KINDS = {"open": _open, "fine": _fine, "softwood": _softwood}


def pores(rng: Random, *, kind: str = "open") -> str:
    """A block of wood with face and end, seen near; `kind` is one of KINDS."""
    return chosen("kind", kind, KINDS)(rng)
