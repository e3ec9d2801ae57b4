"""The edge of a top on its rail, cut across: what holds them together."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, rect
from diagnose.documents.plates.stuff import glue_line, screw, shadow, void
from diagnose.documents.plates.wood import end_grain, wood

TOP, RAIL = rect(12, 34, 296, 44), rect(66, 78, 62, 148)


def _parts(rng: Random) -> str:
    drawn = shadow(TOP) + shadow(RAIL) + end_grain(TOP, rng, (160, 360), "mid", 8, rays=False)
    return drawn + end_grain(RAIL, rng, (96, -90), "dark", 9, rays=False)


def _moves() -> str:
    return arrow((178, 18), (142, 18), 4) + arrow((182, 18), (218, 18), 4)


def _buttons(rng: Random) -> str:
    button: list[Point] = [(112, 96), (128, 96), (142, 80), (238, 80), (238, 122), (142, 122), (128, 112), (112, 112)]
    drawn = _parts(rng) + void(rect(102, 94, 26, 20)) + wood(button, rng, 0, "light", 8) + screw((192, 124), (192, 46), 13)
    return drawn + _moves() + label("button in groove", (230, 176), (134, 108))


def _blocks(rng: Random) -> str:
    block: list[Point] = [(128, 78), (206, 78), (206, 100), (150, 156), (128, 156)]
    drawn = _parts(rng) + shadow(block) + end_grain(block, rng, (140, 90), "light", 7, rays=False)
    drawn += glue_line([(128, 79), (206, 79)], 9) + glue_line([(128, 82), (128, 156)], 9)
    return drawn + label("block", (250, 132), (190, 108)) + label("glue both sides", (244, 186), (130, 140))


def _solid(rng: Random) -> str:
    drawn = _parts(rng) + void(rect(86, 164, 22, 62)) + screw((97, 166), (97, 46), 18)
    drawn += path(poly(rect(91.5, 172, 11, 50)), fill="#2a2019", line="none")
    return drawn + label("tight round hole", (224, 150), (102, 128)) + label("cannot slide", (224, 198))


HELD = {"buttons": _buttons, "blocks": _blocks, "tight": _solid}


def top_on_rail(rng: Random, *, held: str = "buttons") -> str:
    """The end of a top lying on its rail; what they are `held` by is one of HELD."""
    return chosen("held", held, HELD)(rng)
