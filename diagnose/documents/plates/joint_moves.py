"""How a loose joint moves, seen cut open: the lying part in the hole of the upright one, and an arrow for the movement."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.joint_parts import FACE, HOLE_BOTTOM, LYING_BOTTOM, LYING_TOP, MIDDLE, lying, lying_wood, upright
from diagnose.documents.plates.shapes import Points, arc, poly, rect, turned
from diagnose.documents.plates.stuff import hatch, void


def _ghost(shape: Points) -> str:
    """Where the part stood before, or stands at the other end of its movement."""
    return path(poly(shape, closed=False), width=1.6, dash="5 4")


def _slides(rng: Random) -> str:
    out = 34.0
    gap = void(rect(FACE, LYING_TOP, out, LYING_BOTTOM - LYING_TOP), line=False)
    drawn = upright(rng) + gap + lying_wood(lying(FACE + out), rng)
    return drawn + arrow((196, MIDDLE), (284, MIDDLE), 4, both=True) + label("in and out", (236, 206))


def _rocks(rng: Random) -> str:
    # So far out that neither corner of the shoulder runs into the upright part.
    out = FACE + 9
    level = lying(out, play=8, end=284)
    up, down = turned(level, (out, MIDDLE), 6), turned(level, (out, MIDDLE), -6)
    gap = void([(FACE, LYING_TOP), up[1], up[-2], (FACE, LYING_BOTTOM)], line=False)
    drawn = upright(rng) + gap + lying_wood(up, rng, 6) + _ghost([down[0], down[1]]) + _ghost([down[-2], down[-1]])
    return drawn + arrow((300, 64), (300, 176), 4, both=True) + label("rocks", (216, 228))


def _turns(rng: Random) -> str:
    rung = lying(play=3, step=False)
    shade = rect(FACE - 70, HOLE_BOTTOM - 20, 234, 17)
    drawn = upright(rng) + lying_wood(rung, rng) + hatch(shade, 0, 4) + path(poly(rung, closed=False), width=1.8)
    round_it = arc((214, MIDDLE), 20, 48, -150, 118)
    bend = path(poly(round_it, closed=False), line="#fbf6ea", width=8) + path(poly(round_it, closed=False), width=4)
    return drawn + bend + arrow(round_it[-2], (198, 82), 4) + label("turns", (222, 200))


def _hinges(rng: Random) -> str:
    foot = (FACE, LYING_BOTTOM)
    part = turned(lying(play=11, end=290), foot, -9)
    gap = void([(FACE, LYING_TOP), part[1], foot], line=False)
    drawn = upright(rng) + gap + lying_wood(part, rng, -9)
    words = label("open", (176, 34), (145, 76)) + label("closed", (176, 222), (FACE + 1, LYING_BOTTOM - 2))
    return drawn + arrow((278, 66), (292, 122), 4) + words


WAYS = {"slides": _slides, "rocks": _rocks, "turns": _turns, "hinges": _hinges}


def joint_moves(rng: Random, *, way: str = "slides") -> str:
    """A joint cut open and the `way` in which it moves: one of WAYS."""
    return chosen("way", way, WAYS)(rng)
