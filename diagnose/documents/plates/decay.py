"""Wood that fungi have eaten, or that mould grows on."""

from random import Random

from diagnose.documents.plates.canvas import clip, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, number, oval, poly, ragged, rect, smooth
from diagnose.documents.plates.stuff import VOID, shadow
from diagnose.documents.plates.wood import OUTLINE, outline, wood

X, Y, WIDE, HIGH = 14.0, 74.0, 292.0, 116.0
FRONT = rect(X, Y, WIDE, HIGH)


def _cubes(rng: Random) -> str:
    drawn = shadow(FRONT) + wood(FRONT, rng, 0, "mid", 9)
    left = 104.0
    rotten = [*ragged((left, Y), (left - 16, Y + HIGH), rng, 20, 16), (X + WIDE, Y + HIGH), (X + WIDE, Y)]
    drawn += path(poly(rotten), fill="#8a5730", line="none")
    upright, lying = "", ""
    for i in range(7):
        x = left + 6 + 30 * i
        upright += smooth([(x + rng.uniform(-4, 4), Y + HIGH * j / 4) for j in range(5)])
    for i in range(1, 4):
        y = Y + HIGH * i / 4
        lying += smooth([(left - 8 + (X + WIDE - left + 8) * j / 7, y + rng.uniform(-4, 4)) for j in range(8)])
    drawn += clip(rotten, path(upright, line=VOID, width=6.5) + path(lying, line=VOID, width=5)) + outline(FRONT, 2)
    lump = [(262.0, 200.0), (288.0, 202.0), (290.0, 224.0), (264.0, 225.0)]
    return drawn + shadow(lump, 3, 3) + path(poly(lump), fill="#8a5730", width=2) + label("dark cubes", (220, 54), (212, Y + 40))


def _strings(rng: Random) -> str:
    edge = ragged((196, Y), (176, Y + HIGH), rng, 26, 12)
    body = [(X, Y), *edge, (X, Y + HIGH)]
    drawn = shadow(body) + wood(body, rng, 0, "mid", 9)
    pale = [(120.0, Y), *edge, (104.0, Y + HIGH)]
    drawn += path(poly(pale), fill="#fbf3df", line="none", opacity=0.85)
    strands = ""
    for i in range(17):
        y = Y + 4 + (HIGH - 8) * i / 16
        drop = rng.uniform(6, 34)
        strands += smooth([(106, y), (176, y), (226, y + drop * 0.35), (262 + rng.uniform(-16, 34), y + drop)])
    drawn += path(strands, line="#8a5a2c", width=4.6) + path(strands, line="#fffaf0", width=2.8)
    return drawn + outline([(X, Y), (186, Y)], OUTLINE) + label("pale strings", (228, 54), (232, Y + 14))


def _drop(at: Point, size: float) -> str:
    x, y = at
    body = smooth([(x, y - size * 1.7), (x + size, y), (x, y + size), (x - size, y)], closed=True)
    return path(body, fill="#b4c6d6", line="#46596b", width=1.6)


def _wet(rng: Random) -> str:
    drawn = shadow(FRONT) + wood(FRONT, rng, 0, "mid", 9)
    edge = smooth([(120, Y), (104, Y + 40), (122, Y + 74), (100, Y + HIGH)])
    soaked = edge + f"L{number(X + WIDE)} {number(Y + HIGH)}L{number(X + WIDE)} {number(Y)}Z"
    drawn += path(soaked, fill="#4e3826", line="none", opacity=0.8)
    # A finger sinks in: the face has a hollow there.
    hollow: Points = [(190, Y - 1), (200, Y + 18), (216, Y + 26), (232, Y + 18), (242, Y - 1)]
    drawn += path(smooth(hollow) + "Z", fill="#fbf6ea", line="none") + outline(FRONT, 2) + path(smooth(hollow), width=2.2)
    finger = smooth([(198, 10), (200, 60), (204, 88), (216, 96), (228, 88), (232, 60), (234, 10)])
    drawn += path(finger, fill="#f1d6bd", width=2) + path("M206 84c4 8 16 8 20 0", width=1.4)
    for at in ((150, Y + HIGH + 18), (262, Y + HIGH + 22), (206, Y + HIGH + 30)):
        drawn += _drop(at, 7)
    return drawn + label("sinks in", (280, 52), (240, Y + 8))


def _mould(rng: Random) -> str:
    drawn = shadow(FRONT) + wood(FRONT, rng, 0, "mid", 9)
    at = (150.0, Y + 60)
    fluff = ""
    for _ in range(110):
        t = (rng.gauss(0, 20), rng.gauss(0, 13))
        fluff += f"M{number(at[0] + t[0])} {number(at[1] + t[1])}h.1"
    patch = [(x + rng.uniform(-6, 6), y + rng.uniform(-5, 5)) for x, y in oval(at, 50, 34, 16)]
    drawn += path(smooth(patch, closed=True), fill="#e9ecdf", line="#8d9683", width=1.4, dash="2 3")
    drawn += path(fluff, line="#5d6a55", width=4.4, round_ends=True) + ring_round(at, 72, 50)
    return drawn + label("small patch", (234, 54), (184, Y + 30))


LOOKS = {"cubes": _cubes, "strings": _strings, "soaked": _wet, "mould_patch": _mould}


def decay(rng: Random, *, look: str = "cubes") -> str:
    """A face of wood, eaten or grown over from its right end; `look` is one of LOOKS."""
    return chosen("look", look, LOOKS)(rng)
