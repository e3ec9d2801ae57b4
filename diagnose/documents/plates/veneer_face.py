"""A veneered face from above, with the wood below laid bare in one corner, and how cracks run in it."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import number, poly, ragged, rect, smooth
from diagnose.documents.plates.stuff import VOID, crack, shadow
from diagnose.documents.plates.wood import wood

FACE = rect(14, 20, 292, 200)


def _checks(rng: Random) -> str:
    d = ""
    for row in range(8):
        y = 40 + 20 * row
        for i in range(2):
            x = rng.uniform(26, 120) if i == 0 or row > 4 else rng.uniform(170, 230)
            long = rng.uniform(30, 76)
            d += f"M{number(x)} {number(y + rng.uniform(-6, 6))}l{number(long)} {number(rng.uniform(-1.5, 1.5))}"
    return path(d, line=VOID, width=3.2, round_ends=True)


def _across(rng: Random) -> str:
    line = [(118 + rng.uniform(-1.5, 1.5), 20.0 + 20 * i) for i in range(11)]
    return crack(line, 6, rng, 5) + path(smooth([(112, 20), (110, 120), (112, 220)]), line="#7a5836", width=1)


RUNS = {"with_grain": _checks, "across": _across}


def veneer_face(rng: Random, *, runs: str = "with_grain") -> str:
    """A veneered face with its grain from left to right; `runs` says how the cracks lie to it: one of RUNS."""
    draw = chosen("runs", runs, RUNS)
    drawn = shadow(FACE) + wood(FACE, rng, 0, "dark", 10) + draw(rng)
    torn = [*ragged((210, 220), (226, 142), rng, 10, 12), *ragged((226, 142), (306, 132), rng, 10, 12), (306, 220)]
    drawn += wood(torn, rng, 90, "light", 8) + path(poly(torn[:-1], closed=False), width=3)
    return drawn + arrow((40, 208), (92, 208), 2.6, both=True) + label("wood below", (262, 186))
