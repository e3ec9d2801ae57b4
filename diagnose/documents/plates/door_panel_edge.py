"""The edge of a panel in its frame, from the front: a bare line where it has shrunk, or stuck fast and split."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import poly, rect
from diagnose.documents.plates.stuff import FILM, crack, old_glue, shadow
from diagnose.documents.plates.wood import wood

STILE, RAIL, PANEL = rect(14, 14, 66, 212), rect(80, 166, 226, 60), rect(80, 14, 226, 152)


def _frame(rng: Random) -> str:
    drawn = shadow(STILE) + shadow(RAIL) + wood(STILE, rng, 90, "dark", 9) + wood(RAIL, rng, 0, "dark", 9)
    return drawn + path(poly([(80, 14), (80, 166), (306, 166)], closed=False), width=4)


def _bare(rng: Random) -> str:
    strip = rect(80, 14, 40, 152)
    painted = rect(120, 14, 186, 152)
    drawn = wood(strip, rng, 90, "light", 7) + wood(painted, rng, 90, "dark", 9) + _frame(rng)
    for face in (painted, STILE, RAIL):
        drawn += path(poly(face), fill=FILM, line="none", opacity=0.3)
    drawn += path(
        poly([(210, 150), (262, 26)], closed=False) + poly([(232, 150), (284, 26)], closed=False),
        line="#ffffff",
        width=6,
        opacity=0.55,
    )
    return (
        drawn
        + path(poly(painted), width=2)
        + arrow((130, 62), (184, 62), 3)
        + label("bare line", (172, 120), (100, 108))
        + label("panel has shrunk", (214, 48))
    )


def _stuck(rng: Random) -> str:
    drawn = wood(PANEL, rng, 90, "light", 9) + _frame(rng)
    edge = [(72 + rng.uniform(-4, 3), 14.0 + 15.2 * i) for i in range(11)]
    back = [(92 + rng.uniform(-3, 5), 14.0 + 15.2 * i) for i in range(11)]
    drawn += old_glue([*edge, *reversed(back)])
    low = [(80 + 22.6 * i, 159 + rng.uniform(-4, 3)) for i in range(11)]
    under = [(80 + 22.6 * i, 175 + rng.uniform(-3, 5)) for i in range(11)]
    drawn += old_glue([*low, *reversed(under)])
    drawn += crack([(212, 14), (208, 60), (215, 104), (211, 160)], 12, rng, 4)
    return drawn + label("stuck fast", (146, 60), (86, 84)) + label("panel splits", (254, 120), (213, 104))


EDGES = {"bare": _bare, "stuck": _stuck}


def door_panel_edge(rng: Random, *, edge: str = "bare") -> str:
    """The lower left corner of a door with its panel; `edge` is one of EDGES."""
    return chosen("edge", edge, EDGES)(rng)
