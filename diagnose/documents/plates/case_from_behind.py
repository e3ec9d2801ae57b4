"""A case from behind: its thin back, held by small nails, gapes along one side."""

from random import Random

from diagnose.documents.plates.canvas import label, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import Point, disc, poly, rect
from diagnose.documents.plates.stuff import METAL, METAL_LINE, VOID, metal
from diagnose.documents.plates.wood import wood

LEFT, TOP, WIDE, HIGH, BOARD = 20.0, 42.0, 212.0, 178.0, 16.0
AWAY: Point = (58.0, -34.0)
HEIGHTS = (62.0, 97.0, 132.0, 167.0, 202.0)


def _case(rng: Random) -> str:
    """The rear edges of its four boards round its dark inside, and its top and one side, which run away from us."""
    right, foot = LEFT + WIDE, TOP + HIGH
    top: list[Point] = [(LEFT, TOP), (right, TOP), (right + AWAY[0], TOP + AWAY[1]), (LEFT + AWAY[0], TOP + AWAY[1])]
    side: list[Point] = [(right, TOP), (right + AWAY[0], TOP + AWAY[1]), (right + AWAY[0], foot + AWAY[1]), (right, foot)]
    drawn = wood(top, rng, 0, "mid", 7) + wood(side, rng, 90, "dark", 10) + path(poly(rect(LEFT, TOP, WIDE, HIGH)), fill=VOID)
    for shape, angle in (
        (rect(LEFT, TOP, WIDE, BOARD), 0.0),
        (rect(LEFT, foot - BOARD, WIDE, BOARD), 0.0),
        (rect(LEFT, TOP, BOARD, HIGH), 90.0),
        (rect(right - BOARD, TOP, BOARD, HIGH), 90.0),
    ):
        drawn += wood(shape, rng, angle, "mid", 7)
    return drawn


def case_from_behind(rng: Random, *, gape: float = 0.7) -> str:
    """The back of a case, its right edge drawn towards us by `gape`, 0 to 1."""
    out = within("gape", gape, 0, 1)
    left, right = LEFT + 5, LEFT + WIDE - 6
    # What comes towards us moves down and to the left.
    edge, drop = right - 56 * out, 24 * out
    panel: list[Point] = [(left, TOP + 5), (edge, TOP + 5 + drop), (edge, TOP + HIGH - 5 + drop), (left, TOP + HIGH - 5)]
    drawn = _case(rng) + path(poly([(x + 8, y + 5) for x, y in panel]), fill="#000000", line="none", opacity=0.4)
    holes = "".join(disc((right - 2, y), 3.4) for y in HEIGHTS)
    drawn += path(holes, fill=VOID, line="#fbf6ea", width=1.2)
    for y in HEIGHTS:
        # The shank of a nail sticks out of the far face of the panel towards the hole that it has left.
        start, tip = (edge - 4, y + drop - 1), (right - 16, y + 4)
        drawn += metal([(start[0], start[1] - 4), (tip[0] - 6, tip[1] - 1), tip, (start[0], start[1] + 4)])
    drawn += wood(panel, rng, 90, "light", 15)
    drawn += path("".join(disc((edge - 9, y + drop), 5) for y in HEIGHTS), fill=METAL, line=METAL_LINE, width=1.6)
    drawn += path("".join(disc((left + 5, y), 4) for y in HEIGHTS), fill=METAL, line=METAL_LINE, width=1.4)
    return drawn + label("back gapes", (108, 138)) + label("empty holes", (266, 226), (right - 2, HEIGHTS[4]))
