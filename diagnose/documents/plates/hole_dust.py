"""The powder that insects push out, on paper under the wood, and its grains through a lens."""

from random import Random

from diagnose.documents.plates.canvas import INK, PAPER, clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import disc, moved, number, oval, poly, rect, turned
from diagnose.documents.plates.stuff import powder, shadow, void
from diagnose.documents.plates.wood import wood

EYE, RADIUS = (212.0, 130.0), 84.0


def _grains(rng: Random) -> str:
    drawn = ""
    for row in range(9):
        for column in range(9):
            x, y = EYE[0] - 88 + 22 * column + rng.uniform(-6, 6), EYE[1] - 88 + 22 * row + rng.uniform(-6, 6)
            pellet = [(-9, 0), (-4, -5), (4, -5), (9, 0), (4, 5), (-4, 5)]
            drawn += poly(turned(moved(pellet, x, y), (x, y), rng.uniform(0, 180)))
    return path(drawn, fill="#d9b277", line="#5f3c1b", width=1.3)


def _flour(rng: Random) -> str:
    d = "".join(
        f"M{number(EYE[0] + rng.uniform(-RADIUS, RADIUS))} {number(EYE[1] + rng.uniform(-RADIUS, RADIUS))}h.1" for _ in range(330)
    )
    ground = path(disc(EYE, RADIUS), fill="#f2dfb6", line="none")
    return ground + path(d, line="#b08a58", width=1.5, round_ends=True)


GRAINS = {"gritty": (_grains, 120), "floury": (_flour, 30)}


def hole_dust(rng: Random, *, grain: str = "gritty") -> str:
    """A hole with its powder on white paper below, and a lens over it; `grain` is one of GRAINS."""
    inside, specks = chosen("grain", grain, GRAINS)
    board = rect(12, 16, 118, 60)
    sheet = [(10, 226), (112, 226), (138, 190), (36, 190)]
    drawn = shadow(board) + wood(board, rng, 0, "mid", 8) + void([(66, 78), (66, 52), (80, 52), (80, 78)])
    fall = "".join(f"M{number(73 + rng.uniform(-5, 5))} {number(rng.uniform(84, 176))}h.1" for _ in range(specks // 4))
    drawn += path(poly(sheet), fill="#ffffff", width=1.2) + path(fall, line="#8a5a2c", width=2.6, round_ends=True)
    drawn += powder((73, 210), rng, 72, 28, specks)
    drawn += path(poly([(94, 196), (EYE[0] - 66, EYE[1] + 52)], closed=False), dash="5 4", width=1.4)
    glass = oval(EYE, RADIUS, steps=40)
    drawn += path(poly(glass), fill=PAPER, line="none") + clip(glass, inside(rng))
    return drawn + path(poly(glass), line=INK, width=4.5) + label("through a lens", (EYE[0], 30))
