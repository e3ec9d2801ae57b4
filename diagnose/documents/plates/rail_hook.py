"""The hooks of a bed rail and the slots of the post that they hang in."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Points, moved, poly, ragged, rect
from diagnose.documents.plates.stuff import METAL_LINE, crack, metal, screw_head, shadow, void
from diagnose.documents.plates.wood import torn, wood

POST, RAIL = rect(20, 10, 84, 222), rect(206, 48, 104, 140)
SLOTS = (70.0, 138.0)
SHARP: Points = [(0, 0), (-44, 0), (-44, 44), (-24, 44), (-24, 22), (0, 22)]
WORN: Points = [(0, 0), (-28, 0), (-38, 8), (-42, 22), (-30, 34), (-26, 28), (-26, 22), (0, 22)]


def _rail(rng: Random, hook: Points) -> str:
    drawn = shadow(RAIL) + wood(RAIL, rng, 0, "mid", 9)
    drawn += metal(rect(196, 54, 22, 128), [(202, 60), (202, 174)])
    for y in SLOTS:
        drawn += metal(moved(hook, 197, y - 8)) + screw_head((207, y + 28), 6)
    return drawn


def _post(rng: Random, torn_slot: bool = False) -> str:
    drawn = shadow(POST) + wood(POST, rng, 90, "dark", 9)
    for y in SLOTS:
        if not torn_slot:
            drawn += void(rect(48, y - 8, 22, 42)) + path(poly(rect(45, y - 11, 28, 48)), line=METAL_LINE, width=5)
            continue
        left, right = ragged((40, y - 12), (42, y + 38), rng, 10, 8), ragged((82, y + 38), (80, y - 12), rng, 12, 8)
        drawn += void([*left, *right]) + torn(left, rng, 8, 0, 30, 5) + torn(right, rng, 8, 180, 30, 5)
    return drawn


def _hook_worn(rng: Random) -> str:
    drawn = _post(rng) + _rail(rng, WORN)
    new = "".join(poly(moved(SHARP, 197, y - 8)) for y in SLOTS)
    drawn += path(new, width=1.6, dash="4 3")
    return drawn + label("new hook, dashed", (222, 28), (156, 62)) + label("worn round", (232, 216), (160, 164))


def _slot_torn(rng: Random) -> str:
    drawn = _post(rng, torn_slot=True) + _rail(rng, SHARP)
    drawn += crack([(60, 175), (64, 202), (58, 233)], 12, rng, 3) + crack([(62, 59), (57, 36), (63, 9)], 12, rng, 3)
    drawn += crack([(60, 106), (64, 116), (60, 127)], 10, rng, 9)
    return drawn + arrow((150, 108), (112, 108), 3) + label("slot torn wide", (180, 222), (78, 170))


STATES = {"hook_round": _hook_worn, "slot_wide": _slot_torn}


def rail_hook(rng: Random, *, state: str = "hook_round") -> str:
    """A bed post on the left and the rail, drawn off it, on the right; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
