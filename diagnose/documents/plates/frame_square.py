"""The four rails of a seat from above: pulled out of square, or made wider in front."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, poly, rect
from diagnose.documents.plates.stuff import old_glue, shadow
from diagnose.documents.plates.wood import end_grain, wood


def _rail(a: Point, b: Point, rng: Random, inward: Point) -> str:
    """A rail from `a` to `b`, as wide as the step `inward`."""
    shape = [a, b, (b[0] + inward[0], b[1] + inward[1]), (a[0] + inward[0], a[1] + inward[1])]
    angle = 0.0 if abs(b[1] - a[1]) < 5 else 90.0
    return wood(shape, rng, angle, "mid", 8)


def _shadow(corners: Points) -> str:
    _, (bx, by), (cx, cy), (dx, dy) = corners
    front = [(dx, dy), (cx, cy), (cx, cy - 12), (dx, dy - 12)]
    return shadow(front) + shadow([(bx, by), (cx, cy), (cx - 12, cy), (bx - 12, by)])


def _frame(corners: Points, rng: Random, glued: bool = False) -> str:
    """Four rails and four legs, back left first, clockwise."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    # The ground between the rails keeps its light, so the shadow is that of the outline alone.
    drawn = _shadow(corners)
    drawn += _rail((ax, ay), (bx, by), rng, (0, 20)) + _rail((dx, dy), (cx, cy), rng, (0, -20))
    drawn += _rail((ax, ay), (dx, dy), rng, (20, 0)) + _rail((bx, by), (cx, cy), rng, (-20, 0))
    for (x, y), sx, sy in zip(corners, (1, -1, -1, 1), (1, 1, -1, -1), strict=True):
        left, top = (x if sx > 0 else x - 26), (y if sy > 0 else y - 26)
        drawn += end_grain(rect(left, top, 26, 26), rng, (left + 13, top + 13), "dark", 5, rays=False)
        if glued:
            at = (x + sx * 26, y + sy * 20)
            drawn += old_glue([at, (at[0] + sx * 20, at[1]), (at[0] - sx * 6, at[1] + sy * 20)])
    return drawn


def _diagonals(corners: Points) -> str:
    a, b, c, d = corners
    first = path(poly([(a[0] + 22, a[1] + 22), (c[0] - 22, c[1] - 22)], closed=False), width=2.2, dash="8 4")
    return first + path(poly([(b[0] - 22, b[1] + 22), (d[0] + 22, d[1] - 22)], closed=False), width=2.2, dash="8 4")


def _stiff(rng: Random) -> str:
    corners: Points = [(76, 40), (292, 40), (230, 200), (14, 200)]
    drawn = _frame(corners, rng, glued=True) + _diagonals(corners)
    blocked = arrow((24, 62), (66, 62), 4) + path("M70 48v28", width=5)
    return drawn + blocked + label("long", (100, 164)) + label("short", (196, 164)) + label("will not move", (64, 26))


def _wider(rng: Random) -> str:
    corners: Points = [(70, 34), (250, 34), (302, 192), (18, 192)]
    drawn = _frame(corners, rng) + _diagonals(corners)
    drawn += path(poly([(160, 22), (160, 204)], closed=False), width=1.4, dash="2 4")
    return drawn + label("front", (160, 228)) + label("equal", (112, 128)) + label("equal", (208, 128))


FRAMES = {"skewed_stiff": _stiff, "wider_front": _wider}


def frame_square(rng: Random, *, frame: str = "skewed_stiff") -> str:
    """The frame of a seat from above with both diagonals; `frame` is one of FRAMES."""
    return chosen("frame", frame, FRAMES)(rng)
