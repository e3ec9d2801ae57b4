"""A drawer in its case: cut through from the side, or seen from above with the top taken off."""

from random import Random

from diagnose.documents.plates.canvas import INK, arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, poly, rect, turned
from diagnose.documents.plates.stuff import rubbed, shadow, void
from diagnose.documents.plates.wood import end_grain, wood


def _case_from_side(rng: Random) -> str:
    """Rail and kicker above, runner below, back on the right; the front is open on the left."""
    drawn = void(rect(130, 60, 160, 120), line=False) + wood(rect(290, 30, 18, 196), rng, 90, "dark")
    drawn += wood(rect(122, 34, 168, 26), rng, 0, "dark") + wood(rect(122, 172, 168, 24), rng, 0, "dark")
    return drawn


def _drawer_from_side(shift: float, tilt: float, rng: Random, foot: float = 172.0) -> str:
    about: Point = (128.0, foot)
    side = turned(rect(120 - shift, foot - 92, 150, 92), about, tilt)
    front = turned(rect(102 - shift, foot - 104, 22, 106), about, tilt)
    knob = turned(rect(90 - shift, foot - 60, 12, 16), about, tilt)
    return wood(side, rng, tilt, "light", 9) + wood(front, rng, 90 + tilt, "mid", 7) + path(poly(knob), fill=INK)


def _tips(rng: Random) -> str:
    drawn = _case_from_side(rng) + _drawer_from_side(56, 13, rng)
    return drawn + arrow((20, 120), (20, 204), 4.4) + label("drops", (34, 226))


def _runner(rng: Random) -> str:
    drawn = _case_from_side(rng) + _drawer_from_side(0, 0, rng, 170)
    worn: Points = [(124, 160), (270, 160), (270, 181), (124, 175)]
    drawn += rubbed(worn, rng)
    return (
        drawn
        + ring_round((196, 170), 94, 27)
        + label("rubbed here", (196, 224), (196, 174))
        + arrow((84, 128), (30, 128), 4, both=True)
    )


def _open_box(rng: Random, turn: float, front: float) -> str:
    """A drawer from above: two sides, a back and a bottom, its front pulled forward by `front` units."""
    about: Point = (160.0, 124.0)
    drawn = wood(turned(rect(88, 60, 144, 120), about, turn), rng, turn, "light", 12)
    for x in (84, 222):
        drawn += wood(turned(rect(x, 54, 14, 128), about, turn), rng, 90 + turn, "mid", 6)
    drawn += wood(turned(rect(84, 52, 152, 13), about, turn), rng, turn, "mid", 6)
    face = turned(rect(78, 180 + front, 164, 18), about, turn)
    return drawn + shadow(face) + wood(face, rng, turn, "dark", 6)


def _walls(rng: Random) -> str:
    """The two sides of the case and its back, cut through from above."""
    sides = "".join(end_grain(rect(x, 20, 22, 150), rng, (x + 11, 300), "grey", 9, rays=False) for x in (48, 250))
    return void(rect(70, 34, 180, 136), line=False) + sides + wood(rect(48, 14, 224, 20), rng, 0, "grey", 7)


def _crosswise(rng: Random) -> str:
    drawn = _walls(rng) + _open_box(rng, 9.5, 0)
    rings = ring_round((80, 80), 20) + ring_round((246, 166), 20)
    return (
        drawn
        + rings
        + arrow((106, 234), (106, 206), 4.4)
        + label("jams", (287, 200), (252, 172))
        + label("jams", (26, 60), (74, 78))
    )


def _front_off(rng: Random) -> str:
    drawn = _walls(rng) + _open_box(rng, 0, 28)
    tails = "".join(path(poly([(x - 4, 181), (x + 4, 181), (x + 7, 192), (x - 7, 192)]), fill="#f6e3bd") for x in (91, 229))
    return drawn + tails + arrow((160, 190), (160, 236), 4.4) + ring_round((91, 196), 20) + ring_round((229, 196), 20)


FAULTS = {"tips": _tips, "on_runner": _runner, "crosswise": _crosswise, "front_off": _front_off}


def drawer_cut(rng: Random, *, fault: str = "tips") -> str:
    """A drawer in its case; `fault` is one of FAULTS: the first two from the side, the others from above."""
    return chosen("fault", fault, FAULTS)(rng)
