"""A case from behind: its thin back, held by small nails, gapes along one side."""

from random import Random

from diagnose.documents.plates.canvas import arrow, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import Point, poly, rect
from diagnose.documents.plates.stuff import VOID, nail, screw_head, shadow
from diagnose.documents.plates.wood import wood


def case_from_behind(rng: Random, *, gape: float = 0.7) -> str:
    """The back of a case, its right edge lifted by `gape`, 0 to 1."""
    out = 60 * within("gape", gape, 0, 1)
    case = rect(40, 14, 220, 212)
    drawn = shadow(case) + path(poly(case), fill=VOID)
    for shape, angle in (
        (rect(40, 14, 220, 20), 0.0),
        (rect(40, 206, 220, 20), 0.0),
        (rect(40, 14, 20, 212), 90.0),
        (rect(240, 14, 20, 212), 90.0),
    ):
        drawn += wood(shape, rng, angle, "dark")
    heights = (40.0, 82.0, 124.0, 166.0, 206.0)
    panel: list[Point] = [(48, 22), (200, 22), (250 + out, 34), (250 + out, 230), (200, 218), (48, 218)]
    drawn += (
        shadow(panel, 8, 8)
        + wood(panel, rng, 90, "light", 16)
        + path(poly([(200, 22), (200, 218)], closed=False), width=0.8, dash="3 5")
    )
    drawn += "".join(screw_head((56, y), 4, 0) for y in heights)
    drawn += "".join(nail((252 + out, y + 4), (220 + out, y + 4), 9) for y in heights)
    holes = "".join(poly(rect(249, y, 5, 5)) for y in heights)
    return drawn + path(holes, fill=VOID, line="#fbf6ea", width=1) + arrow((206, 120), (254, 127), 4)
