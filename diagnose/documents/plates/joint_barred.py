"""A closed joint, and what bars the way into it."""

from random import Random

from diagnose.documents.plates.canvas import label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, oval, poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import TONES, end_grain, outline, wood

POST, RAIL = rect(36, 14, 78, 212), rect(114, 66, 196, 90)


def _pin(rng: Random) -> str:
    drawn = shadow(POST) + shadow(RAIL) + wood(RAIL, rng, 0, "mid", 8) + wood(POST, rng, 90, "dark", 9)
    hidden = rect(60, 84, 54, 54)
    drawn += path(poly(hidden), width=1.8, dash="6 4")
    pin = oval((88, 111), 13)
    drawn += end_grain(pin, rng, (88, 111), "light", 5, rays=False) + outline(pin, 2.4)
    return drawn + ring_round((88, 111), 30) + label("peg goes through", (214, 196), (96, 118))


def _veneer(rng: Random) -> str:
    drawn = shadow(POST) + shadow(RAIL) + wood(RAIL, rng, 0, "mid", 8) + wood(POST, rng, 90, "dark", 9)
    sheet: list[Point] = [(36, 66), (310, 66), (310, 106), (262, 156), (36, 156)]
    drawn += wood(sheet, rng, 12, "light", 6)
    curl: list[Point] = [(310, 106), (262, 156), (250, 112)]
    drawn += shadow(curl, -4, 5) + path(poly(curl), fill=TONES["grey"][0], width=1.8)
    drawn += path(poly([(114, 68), (114, 154)], closed=False), width=2.2, dash="6 4")
    return drawn + label("joint beneath", (206, 204), (114, 130)) + label("veneer over both", (196, 40), (180, 86))


LOOKS = {"peg": _pin, "veneer_over": _veneer}


def joint_barred(rng: Random, *, by: str = "peg") -> str:
    """A leg and its rail from the front; what bars the way into their joint is one of LOOKS."""
    return chosen("by", by, LOOKS)(rng)
