"""The end of a part that goes into a hole, from the side on the left and from its end on the right."""

from dataclasses import dataclass
from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, disc, oval, poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import end_grain, wood

CENTRE: Point = (250.0, 116.0)
Y = CENTRE[1]
BODY, STEP, TIP = 14.0, 66.0, 172.0
FULL = 46.0


@dataclass(frozen=True)
class Form:
    """Half the width and half the height of the end, and half the height of the side where it leaves the step."""

    rx: float = FULL
    ry: float = FULL
    root: float = FULL
    square: bool = False
    crushed: bool = False
    says: str = ""


FORMS = {
    "round": Form(says="round"),
    "oval": Form(rx=30, says="narrower"),
    "crushed_band": Form(crushed=True, says="crushed band"),
    "tapered": Form(rx=22, ry=22, says="thinner"),
    "flat": Form(rx=26, ry=FULL, square=True, says="has corners"),
}


def _side(form: Form) -> list[Point]:
    upper: list[Point] = [(STEP, Y - form.root), (TIP, Y - form.ry)]
    if form.crushed:
        upper = [(STEP, Y - FULL), (96, Y - FULL), (102, Y - 37), (136, Y - 37), (142, Y - FULL), (TIP, Y - FULL)]
    return [(BODY, Y - 60), (STEP, Y - 60), *upper, *[(x, 2 * Y - y) for x, y in reversed(upper)], (STEP, Y + 60), (BODY, Y + 60)]


def _band(rng: Random) -> str:
    band = rect(102, Y - 37, 34, 74)
    ripples = "".join(
        poly([(x, Y - 37), (x + rng.uniform(-2, 2), Y), (x, Y + 37)], closed=False) for x in (106, 113, 120, 126, 132)
    )
    return path(poly(band), fill="#a97c4c", line="none") + clip(band, path(ripples, line="#5b3a1c", width=2.2))


def tenon_end(rng: Random, *, form: str = "round") -> str:
    """The end of a part from two sides; its `form` is one of FORMS."""
    made = chosen("form", form, FORMS)
    side = _side(made)
    end = rect(CENTRE[0] - made.rx, Y - made.ry, 2 * made.rx, 2 * made.ry) if made.square else oval(CENTRE, made.rx, made.ry)
    drawn = shadow(side) + wood(side, rng, 0, "mid", 9) + (_band(rng) + path(poly(side), width=1.8) if made.crushed else "")
    drawn += shadow(end) + end_grain(end, rng, (CENTRE[0], Y + 110), "light", 8, rays=False) + path(poly(end), width=2)
    if made.rx < FULL:
        drawn += path(disc(CENTRE, FULL), width=1.6, dash="5 4")
    if form == "oval":
        drawn += arrow((CENTRE[0] - 58, Y), (CENTRE[0] - 31, Y), 2.6) + arrow((CENTRE[0] + 58, Y), (CENTRE[0] + 31, Y), 2.6)
    if made.crushed:
        drawn += label(made.says, (130, 40), (119, Y - 36))
    else:
        drawn += label(made.says, (CENTRE[0], 44))
    return drawn + label("from the side", (92, 208)) + label("from the end", (CENTRE[0], 208))
