"""A corner of a seat frame from below: leg, two rails, and the block that stiffens them."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, moved, poly, rect
from diagnose.documents.plates.stuff import crack, old_glue, screw, screw_head, shadow
from diagnose.documents.plates.wood import end_grain, outline, wood

# The block fills the corner between the rails, notched round the leg.
BLOCK: list[Point] = [(84, 60), (222, 60), (234, 74), (80, 226), (66, 214), (66, 80), (84, 80)]
HOLES: tuple[Point, Point] = ((166, 96), (102, 158))


def _frame(rng: Random) -> str:
    drawn = path(poly(rect(66, 60, 246, 172)), fill="#efe4cc", line="none")
    drawn += shadow(rect(66, 14, 246, 46)) + wood(rect(66, 14, 246, 46), rng, 0, "mid")
    drawn += shadow(rect(14, 60, 52, 172)) + wood(rect(14, 60, 52, 172), rng, 90, "mid")
    return drawn + end_grain(rect(14, 14, 70, 66), rng, (46, 44), "dark", 8)


def _block(rng: Random, dx: float = 0.0, dy: float = 0.0) -> str:
    shape = moved(BLOCK, dx, dy)
    return shadow(shape) + wood(shape, rng, 44, "light", 8)


def _tight(rng: Random) -> str:
    return _frame(rng) + _block(rng) + "".join(screw_head(at, 11) for at in HOLES)


def _gone(rng: Random) -> str:
    pale: tuple[list[Point], list[Point]] = (
        [(84, 44), (212, 44), (212, 60), (84, 60)],
        [(50, 80), (66, 80), (66, 206), (50, 206)],
    )
    drawn = _frame(rng)
    for shape in pale:
        drawn += path(poly(shape), fill="#fff6df", line="none") + old_glue([(x, y) for x, y in shape])
    for x, y in ((150.0, 36.0), (34.0, 140.0)):
        drawn += path(poly(rect(x - 5, y - 5, 10, 10)), fill="#2a2019")
    drawn += path(poly(BLOCK), width=2.4, dash="8 5")
    return drawn + label("glue left", (262, 92), (204, 54)) + label("block gone", (226, 190), (126, 182))


def _never(rng: Random) -> str:
    return _frame(rng) + label("clean wood", (226, 108), (150, 52)) + ring_round((112, 106), 46)


def _cracked(rng: Random) -> str:
    drawn = _frame(rng) + _block(rng) + "".join(screw_head(at, 11) for at in HOLES)
    return (
        drawn
        + crack([(212, 62), (196, 90), (170, 110), (152, 134), (126, 150), (108, 176), (76, 200)], 9, rng)
        + outline(BLOCK, 1)
    )


def _screws_out(rng: Random) -> str:
    drawn = _frame(rng) + _block(rng, 16, 6)
    drawn += screw((246, 152), (178, 92), 20) + screw((176, 206), (108, 148), 20)
    return drawn + arrow((272, 122), (298, 148), 4)


STATES = {"tight": _tight, "gone": _gone, "never": _never, "cracked": _cracked, "loose_screws": _screws_out}


def seat_corner(rng: Random, *, state: str = "tight") -> str:
    """A corner under a seat; `state` of its block is one of STATES."""
    return chosen("state", state, STATES)(rng)
