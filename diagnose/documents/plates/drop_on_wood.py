"""A drop of water on bare wood, cut through and seen from the side: how high it stands and how far it has gone in."""

import math
from random import Random

from diagnose.documents.plates.canvas import INK, arrow, label, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import Point, arc, poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import grain, wood

LEFT, RIGHT, TOP, BOTTOM = 20.0, 300.0, 132.0, 226.0
X = 160.0
WATER, WATER_LINE, WET = "#cfe3ef", "#3d5f78", "#8d6234"


def _drop(spread: float, height: float) -> str:
    """Water with a white glint. A drop higher than half its spread bulges over its foot."""
    if height > spread:
        # A bead: the larger part of a circle that stands on the wood.
        radius = (height * height + spread * spread) / (2 * height)
        foot = math.degrees(math.asin((height - radius) / radius))
        edge: list[Point] = arc((X, TOP - height + radius), radius, radius, -foot, 180 + foot)
    else:
        edge = arc((X, TOP), spread, height, 0, 180)
    glint = arc((X - spread * 0.1, TOP - height * 0.42), spread * 0.62, height * 0.36, 110, 165, 6)
    lines = path(poly(edge), fill=WATER, line=WATER_LINE, width=2.4)
    return lines + path(poly(glint, closed=False), line="#ffffff", width=4, round_ends=True)


def _clock(seconds: float) -> str:
    """The face of a clock whose hand has run so many seconds."""
    centre: Point = (270.0, 52.0)
    run = arc(centre, 24, 24, 90, 90 - 6 * seconds, 16)
    dial = path(poly(arc(centre, 28, 28, 0, 360)), fill="#ffffff", width=2)
    return (
        dial
        + path(poly([centre, *run]), fill="#d9cdb4", width=1.2)
        + path(poly([centre, run[-1]], closed=False), width=3, line=INK)
    )


def drop_on_wood(rng: Random, *, spread: float = 70.0, height: float = 0.0, soaked: float = 0.6, seconds: float = 20.0) -> str:
    """A drop on a block cut open: half its `spread` 20 to 110, its `height` 0 to 90 units, how deep the wood is wet as a share
    0 to 1 of the block (`soaked`), and the `seconds` 1 to 60 that have run."""
    wide = within("spread", spread, 20, 110)
    high, deep = within("height", height, 0, 90), 84 * within("soaked", soaked, 0, 1)
    block = rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
    drawn = shadow(block) + wood(block, rng, 0, "light", 9)
    if deep:
        wet = arc((X, TOP), wide, deep, 180, 360)
        drawn += path(poly(wet), fill=WET, line="none") + grain(wet, rng, 0, 9, "#3d2a17") + path(poly(wet), width=1.4)
    if high:
        drawn += _drop(wide, high)
    else:
        drawn += arrow((X, TOP - 60), (X, TOP - 8), 4)
    return drawn + _clock(within("seconds", seconds, 1, 60)) + label(f"{seconds:g} seconds", (270, 100))
