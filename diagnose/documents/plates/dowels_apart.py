"""Two parts joined by dowels, cut open and drawn apart: what the dowels did."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, moved, oval, poly, ragged, rect
from diagnose.documents.plates.stuff import VOID, glue_line, shadow
from diagnose.documents.plates.wood import outline, torn, wood

TOP, BOTTOM = 20.0, 220.0
ROWS = (72.0, 168.0)
THICK, DEEP = 34.0, 62.0
LEFT_END, RIGHT_END = 14.0, 306.0


def _parts(left: float, right: float, rng: Random, wide: float = THICK, craters: bool = False) -> str:
    """The two parts, their faces at x `left` and `right`, with empty holes `wide` units wide in the left and right one."""
    one, two = rect(LEFT_END, TOP, left - LEFT_END, BOTTOM - TOP), rect(right, TOP, RIGHT_END - right, BOTTOM - TOP)
    drawn = shadow(one) + shadow(two) + wood(one, rng, 90, "mid", 14) + wood(two, rng, 0, "light", 15)
    for y in ROWS:
        holes = "" if craters else poly(rect(left - DEEP, y - wide / 2, DEEP, wide))
        drawn += path(holes + poly(rect(right, y - wide / 2, DEEP, wide)), fill=VOID, line="none")
    return drawn


def _dowel(x: float, y: float, long: float, rng: Random) -> str:
    """A dowel with bevelled ends and fine grooves along it, its left end at x and its middle at y."""
    h = THICK / 2 - 1
    shape: list[Point] = [(x, y - h + 5), (x + 5, y - h), (x + long - 5, y - h), (x + long, y - h + 5)]
    shape += [(px, 2 * y - py) for px, py in reversed(shape)]
    return wood(shape, rng, 0, "dark", 8) + outline(shape, 1.8)


def _glued(x: float, y: float, long: float) -> str:
    return "".join(glue_line([(x, y + off), (x + long, y + off)], 7) for off in (-THICK / 2, THICK / 2))


def _pulled(rng: Random) -> str:
    drawn = _parts(98, 222, rng)
    return drawn + "".join(_dowel(108, y, 104, rng) for y in ROWS) + label("smooth and bare", (160, 125))


def _snapped(rng: Random) -> str:
    drawn = _parts(128, 192, rng)
    for y in ROWS:
        h = THICK / 2 - 1
        edge = ragged((132, y - h), (132, y + h), rng, 12, 5)
        stubs = [(66.0, y - h), *edge, (66.0, y + h)], [*moved(edge, 56), (254.0, y + h), (254.0, y - h)]
        drawn += "".join(wood(stub, rng, 0, "dark", 11) for stub in stubs)
        drawn += _glued(66, y, 62) + _glued(192, y, 62)
        drawn += torn(edge, rng, 12, 0, 8, 9) + torn(moved(edge, 56), rng, 12, 180, 8, 9)
    return drawn


def _loose_in_both(rng: Random) -> str:
    drawn = _parts(146, 174, rng, THICK + 20)
    for y in ROWS:
        drawn += _dowel(94, y, 132, rng) + arrow((110, y), (210, y), 3.4, both=True)
    return drawn


def _fast_one_end(rng: Random) -> str:
    drawn = _parts(110, 184, rng, THICK + 2)
    for y in ROWS:
        drawn += _dowel(122, y, 122, rng) + _glued(184, y, 60)
    return drawn + label("loose", (78, 125)) + label("fast", (242, 125))


def _tore(rng: Random) -> str:
    drawn = _parts(110, 196, rng, craters=True)
    for y in ROWS:
        lump = [(158 + x + rng.uniform(-5, 5), py + rng.uniform(-5, 5)) for x, py in oval((0.0, y), 30, 36, 15)]
        crater: list[Point] = [(110, y - 40), *ragged((104, y - 40), (56, y - 14), rng, 12, 10)]
        crater += [*ragged((50, y + 14), (104, y + 40), rng, 12, 10), (110, y + 40)]
        drawn += path(poly(crater), fill=VOID, width=1.6) + torn(crater[1:-1], rng, 11, 0, 30, 14)
        drawn += _glued(196, y, 60) + _dowel(150, y, 106, rng) + wood(lump, rng, 90, "mid", 10)
        drawn += torn(lump[4:11], rng, 13, 180, 40, 9)
    return drawn + label("torn out", (158, 232))


STATES = {
    "pulled_out": _pulled,
    "broken_off": _snapped,
    "loose_in_both": _loose_in_both,
    "one_end": _fast_one_end,
    "wood_on_them": _tore,
}


def dowels_apart(rng: Random, *, state: str = "pulled_out") -> str:
    """Two parts with two dowels, cut open; what the dowels did is their `state`: one of STATES."""
    return chosen("state", state, STATES)(rng)
