"""The point of an awl under the skin of the wood: what lifts, and how it comes off."""

from random import Random

from diagnose.documents.plates.canvas import label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, moved, oval, poly, ragged, rect, turned
from diagnose.documents.plates.stuff import dirt, metal, powder, shadow, void
from diagnose.documents.plates.wood import FIBRE, TONES, outline, torn, wood

LEFT, RIGHT, TOP, BOTTOM = 14.0, 306.0, 128.0, 210.0


def _awl(tip: Point, angle: float) -> str:
    """A round awl with its point at `tip`, lying back to the right at `angle` degrees."""

    def laid(points: Points) -> list[Point]:
        return turned(moved(points, *tip), tip, angle)

    blade = laid([(0, 0), (72, -5), (72, 5)])
    handle = laid([(72, -8), (80, -13), (112, -15), (130, -11), (134, 0), (130, 11), (112, 15), (80, 13), (72, 8)])
    return metal(blade, laid([(22, 0), (68, -1)])) + path(poly(handle), fill=TONES["dark"][0], width=1.8)


def _body(edge: Points, rng: Random) -> str:
    shape = [(LEFT, TOP), *edge, (RIGHT, TOP), (RIGHT, BOTTOM), (LEFT, BOTTOM)]
    return shadow(rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)) + wood(shape, rng, 0, "mid", 8)


def _long(rng: Random) -> str:
    scar: list[Point] = [(72, TOP), (196, TOP + 15), (214, TOP)]
    lifted = [(60, TOP), (100, TOP - 20), (150, TOP - 56), (196, TOP - 98), (152, TOP - 44), (104, TOP - 2), (76, TOP + 4)]
    drawn = _body(scar, rng) + _awl((170, TOP + 8), 27) + path(poly(lifted), fill=FIBRE, width=1.8)
    inner = poly([(78, TOP - 5), (120, TOP - 29), (178, TOP - 78)], closed=False)
    return drawn + path(inner, line=TONES["mid"][1]) + label("long splinter", (84, 58), (134, TOP - 40))


def _short(rng: Random) -> str:
    broken = ragged((134, TOP + 24), (134, TOP), rng, 5, 5)
    scar: list[Point] = [*reversed(broken), (196, TOP + 24), (214, TOP)]
    chip = turned(moved([(0, 0), (68, -2), (71, 21), (3, 23)], 62, 62), (96, 74), 20)
    drawn = _body(scar, rng) + torn([(134, TOP), (134, TOP + 24)], rng, 5, 0, 8)
    drawn += _awl((176, TOP + 18), 27) + shadow(chip, 3, 4) + wood(chip, rng, 20, "light", 6)
    return drawn + outline(chip, 1.8) + label("short, square ends", (100, 36), (98, 62))


def _powder(rng: Random) -> str:
    upper, lower = ragged((112, TOP), (176, TOP + 50), rng, 10, 9), ragged((176, TOP + 50), (230, TOP), rng, 10, 9)
    scar = [*upper, *lower[1:]]
    drawn = _body(scar, rng) + dirt([*scar], rng, 0.7)
    drawn += path(poly([*scar], closed=False), width=2) + _awl((176, TOP + 40), 34)
    drawn += powder((92, TOP), rng, 118, 34, 70)
    for _ in range(7):
        drawn += void(oval((176 + rng.uniform(-30, 20), TOP + rng.uniform(6, 26)), rng.uniform(1.5, 3), steps=7))
    return drawn + label("powder", (70, 64), (84, TOP - 20))


ENDINGS = {"long": _long, "short": _short, "powder": _powder}


def lifted_splinter(rng: Random, *, lifts: str = "long") -> str:
    """An awl pushed into a face from the right; `lifts` says what comes up: one of ENDINGS."""
    return chosen("lifts", lifts, ENDINGS)(rng)
