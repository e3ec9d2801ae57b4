"""A board that is no longer flat: hollow across its grain, bent along it, or twisted, each with a straight rule laid on."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import Point, Points, poly, smooth
from diagnose.documents.plates.stuff import METAL, METAL_LINE
from diagnose.documents.plates.wood import OUTLINE, TONES

# The corner that is near and to the left, the way along the grain and the way across it, and how thick the board is.
NEAR: Point = (16.0, 192.0)
ALONG: Point = (206.0, 0.0)
ACROSS: Point = (82.0, -92.0)
THICK = 24.0
HIGHEST = 46.0
COUNT = 12


def _height(u: float, v: float, cup: float, bow: float, twist: float) -> float:
    """How far the board stands above flat at a share `u` along and `v` across, in units of the sheet."""
    return HIGHEST * (cup * (2 * v - 1) ** 2 + bow * (2 * u - 1) ** 2 + twist * (1 + (2 * u - 1) * (2 * v - 1)))


def _place(u: float, v: float, z: float) -> Point:
    return NEAR[0] + ALONG[0] * u + ACROSS[0] * v, NEAR[1] + ALONG[1] * u + ACROSS[1] * v - z


def _rule(a: Point, b: Point) -> str:
    """A steel rule standing on edge from one place to another."""
    shape = [a, b, (b[0], b[1] - 20), (a[0], a[1] - 20)]
    ticks = "".join(
        poly(
            [
                (a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s - 20),
                (a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s - 13),
            ],
            closed=False,
        )
        for s in (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
    )
    return path(poly(shape), fill=METAL, line=METAL_LINE, width=1.6, opacity=0.85) + path(ticks, line=METAL_LINE, width=1.6)


def warped_board(rng: Random, *, cup: float = 0.0, bow: float = 0.0, twist: float = 0.0) -> str:
    """A board with its grain from left to right; `cup`, `bow` and `twist` 0 to 1 say how far its edges or corners rise."""
    for name, value in (("cup", cup), ("bow", bow), ("twist", twist)):
        within(name, value, 0, 1)

    def line(points: Points, down: float = 0.0) -> list[Point]:
        return [_place(u, v, _height(u, v, cup, bow, twist) - down) for u, v in points]

    steps = [i / COUNT for i in range(COUNT + 1)]
    front, right = [(u, 0.0) for u in steps], [(1.0, v) for v in steps]
    rear, left = [(u, 1.0) for u in reversed(steps)], [(0.0, v) for v in reversed(steps)]
    top = line([*front, *right, *rear, *left])
    flat = [_place(u, v, -THICK - 4) for u, v in ((0, 0), (1, 0), (1, 1), (0, 1))]
    drawn = path(poly(flat), fill="#e3d9c3", line="none") + path(poly(flat), width=1.6, dash="6 5")
    edges = ""
    for side, fill, lines_at in ((front, TONES["mid"][0], (0.3, 0.6, 0.85)), (right, TONES["dark"][0], ())):
        shape = [*line(side), *reversed(line(side, THICK))]
        edges += path(poly(shape), fill=fill, width=OUTLINE)
        edges += "".join(path(smooth(line(side, THICK * s)), line=TONES["mid"][1]) for s in lines_at)
    lines = "".join(
        smooth(line([(u, v + rng.uniform(-0.01, 0.01)) for u in steps[::3]])) for v in (0.1, 0.22, 0.36, 0.48, 0.62, 0.75, 0.9)
    )
    face = (
        path(poly(top), fill=TONES["light"][0], line="none")
        + clip(top, path(lines, line=TONES["light"][1]))
        + path(poly(top), width=OUTLINE)
    )
    drawn += edges + face
    if cup:
        ends = line([(0.5, 0.0), (0.5, 1.0)])
        bed = line([(0.5, v) for v in steps])
        drawn += path(poly(bed), fill="#2a2019") + _rule(*ends)
    if bow:
        ends = line([(0.0, 0.5), (1.0, 0.5)])
        drawn += path(poly(line([(u, 0.5) for u in steps])), fill="#2a2019") + _rule(*ends)
    if twist:
        for u, v in ((0.0, 0.0), (1.0, 1.0)):
            x, y = line([(u, v)])[0]
            drawn += arrow((x, y - 8), (x, y - 38), 3)
    return drawn
