"""Holes of wood insects in a face: their edges, their size, and whether powder falls out."""

from random import Random

from diagnose.documents.plates.canvas import arrow, dimension, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, disc, moved, number, oval, poly, rect, turned
from diagnose.documents.plates.stuff import VOID, dirt, powder, shadow, void
from diagnose.documents.plates.wood import FIBRE, wood

FACE = rect(14, 34, 292, 156)
ROUND: Points = [(70, 78), (136, 132), (214, 76), (262, 142), (74, 152), (160, 62)]


def _face(rng: Random) -> str:
    return shadow(FACE) + wood(FACE, rng, 0, "mid", 9)


def _dark(rng: Random) -> str:
    drawn = _face(rng)
    for i, at in enumerate(ROUND):
        rim = [(x + rng.uniform(-2, 2), y + rng.uniform(-2, 2)) for x, y in oval(at, 18, 16, 14)]
        drawn += path(poly(rim), fill="#7a5836", line="#4a3220", width=3)
        drawn += dirt(oval(at, 11, steps=14), rng, 4) if i % 2 else void(oval(at, 10, steps=14))
    return drawn + label("dark rim", (110, 218), (136, 148)) + label("filled with dirt", (240, 218), (262, 146))


def _pale(rng: Random) -> str:
    drawn = _face(rng)
    for at in ROUND:
        drawn += path(disc(at, 16), fill=FIBRE, line="#c9a262", width=1.4) + path(disc(at, 11), fill=VOID, width=2)
    return drawn + label("clean pale rim", (160, 216), (138, 146))


def _falling(rng: Random) -> str:
    board = rect(14, 20, 292, 66)
    drawn = shadow(board) + wood(board, rng, 0, "mid", 9)
    for x in (66.0, 150.0, 232.0):
        bore: list[Point] = [(x - 7, 88), (x - 7, 62), (x - 18, 46), (x - 4, 40), (x + 8, 60), (x + 7, 88)]
        drawn += void(bore, line=False) + path(poly(bore, closed=False), line=FIBRE, width=2)
        d = "".join(f"M{number(x + rng.uniform(-5, 5))} {number(rng.uniform(88, 190))}h.1" for _ in range(26))
        drawn += path(d, line="#8a5a2c", width=3, round_ends=True) + powder((x, 216), rng, 70, 26, 50)
    return drawn + arrow((108, 108), (108, 156)) + arrow((192, 108), (192, 156)) + path("M14 216h292", width=2)


def _large(rng: Random) -> str:
    drawn = _face(rng)
    for at, rx, ry, lean in (((92, 106), 36, 17, 8), ((206, 70), 30, 14, -10), ((240, 144), 27, 27, 0)):
        hole = turned(oval(at, rx, ry), at, lean)
        drawn += void(hole) + path(poly(hole), line=FIBRE, width=2) + path(poly(moved(hole, 0)), width=0.8)
    return drawn + dimension((213, 204), (267, 204), "over 3 mm", 13) + label("oval", (92, 216), (92, 120))


LOOKS = {"dark_rim": _dark, "pale_rim": _pale, "falling": _falling, "large": _large}


def worm_holes(rng: Random, *, look: str = "pale_rim") -> str:
    """A face with insect holes, seen near; `look` is one of LOOKS."""
    return chosen("look", look, LOOKS)(rng)
