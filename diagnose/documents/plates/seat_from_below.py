"""A seat frame from below, its cloth off: springs in their clips, or the rail that the tacks were driven into."""

from random import Random

from diagnose.documents.plates.canvas import label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, rect, smooth
from diagnose.documents.plates.stuff import METAL_LINE, crack, metal, shadow, void
from diagnose.documents.plates.wood import torn, wood

OUTER = rect(14, 14, 292, 212)


def _frame(rng: Random) -> str:
    drawn = shadow(OUTER) + path(poly(rect(54, 54, 212, 132)), fill="#efe4cc", line="none")
    drawn += wood(rect(14, 14, 292, 40), rng, 0, "mid") + wood(rect(14, 186, 292, 40), rng, 0, "mid")
    return drawn + wood(rect(14, 54, 40, 132), rng, 90, "dark") + wood(rect(266, 54, 40, 132), rng, 90, "dark")


def _wire(x: float, top: float, bottom: float, lean: float = 0.0) -> str:
    count = 12
    zigzag: list[Point] = [
        (x + (11 if i % 2 else -11) + lean * (1 - i / count), top + (bottom - top) * i / count) for i in range(1, count)
    ]
    d = smooth([(x + lean, top), *zigzag, (x, bottom)])
    return path(d, line=METAL_LINE, width=6, round_ends=True) + path(d, line="#dfe5ea", width=2.6, round_ends=True)


def _spring_off(rng: Random) -> str:
    drawn = _frame(rng)
    for x in (88.0, 160.0, 232.0):
        off = x == 160.0
        drawn += _wire(x, 82 if off else 40, 200, 32 if off else 0)
        drawn += metal(rect(x - 13, 192, 26, 16)) + metal(rect(x - 13, 32, 26, 16))
    return drawn + ring_round((176, 62), 38, 42)


def _chewed(rng: Random) -> str:
    rail = rect(14, 62, 292, 116)
    edge: list[Point] = [
        (14, 82),
        (40, 76),
        (62, 88),
        (92, 78),
        (118, 92),
        (150, 80),
        (182, 94),
        (214, 78),
        (246, 90),
        (276, 80),
        (306, 88),
    ]
    shape = [*edge, (306, 178), (14, 178)]
    drawn = shadow(rail) + wood(shape, rng, 0, "mid", 9) + torn(edge, rng, 14, 80, 30, 10)
    for i in range(26):
        x, y = 26 + 10.8 * i + rng.uniform(-4, 4), rng.choice((98, 110, 122, 134)) + rng.uniform(-4, 4)
        if i % 3:
            drawn += void(rect(x - 2.5, y - 2.5, 5, 5))
        else:
            drawn += void(rect(x - 5, y, 4, 3)) + void(rect(x + 5, y, 4, 3))
    for x in (70.0, 170.0, 250.0):
        drawn += crack([(x - 26, 116), (x, 113), (x + 30, 117)], 5, rng)
    drawn += path(poly([(14, 62), (306, 62)], closed=False), width=1.8, dash="6 4")
    return drawn + label("holes of tacks", (200, 212), (208, 130))


STATES = {"spring_off": _spring_off, "chewed": _chewed}


def seat_from_below(rng: Random, *, state: str = "spring_off") -> str:
    """A seat frame from below; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
