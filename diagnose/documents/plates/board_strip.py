"""The strip across the end of a table top, from below: how it holds the boards."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, disc, oval, poly, rect
from diagnose.documents.plates.stuff import VOID, glue_line, shadow
from diagnose.documents.plates.wood import end_grain, wood

LEFT, TOP, HIGH = 14.0, 34.0, 162.0
STRIP, WIDE = 190.0, 56.0
PINS = (62.0, 115.0, 168.0)


def _boards(rng: Random, top: float = TOP, high: float = HIGH, split: bool = False) -> str:
    third = high / 3
    drawn = shadow(rect(LEFT, top, STRIP - LEFT, high))
    for i in range(3):
        drawn += wood(rect(LEFT, top + third * i, STRIP - LEFT, third), rng, 0, "mid" if i % 2 else "light", 9)
    if split:
        y = top + third
        wedge = [(LEFT, y - 1), (LEFT + 60, y - 3), (STRIP, y - 10), (STRIP, y + 10), (LEFT + 60, y + 3), (LEFT, y + 1)]
        drawn += path(poly(wedge), fill=VOID)
    return drawn


def _strip(rng: Random) -> str:
    shape = rect(STRIP, TOP, WIDE, HIGH)
    return shadow(shape) + wood(shape, rng, 90, "dark", 9)


def _peg(at: Point, rng: Random) -> str:
    return end_grain(oval(at, 11), rng, at, "light", 4, rays=False)


def _slotted(rng: Random) -> str:
    drawn = _boards(rng) + _strip(rng)
    for y in PINS:
        slot = [*oval((STRIP + 28, y), 12, 21, 20)]
        drawn += path(poly(slot), fill=VOID, width=2) + _peg((STRIP + 28, y), rng)
    drawn += arrow((136, 84), (136, 48), 3) + arrow((136, 146), (136, 182), 3)
    return drawn + label("pins in slots", (250, 222), (STRIP + 28, 184))


def _pinned(rng: Random) -> str:
    drawn = _boards(rng, split=True) + _strip(rng)
    for y in PINS:
        drawn += _peg((STRIP + 28, y), rng) + path(disc((STRIP + 28, y), 11), width=2.4)
    return drawn + label("tight pins", (258, 222), (STRIP + 28, 172)) + label("it splits", (76, 222), (130, TOP + 58))


def _glued(rng: Random) -> str:
    drawn = _boards(rng, split=True) + _strip(rng) + glue_line([(STRIP, TOP), (STRIP, TOP + HIGH)], 12)
    return drawn + label("glue all along", (236, 222), (STRIP, 188)) + label("it splits", (76, 222), (130, TOP + 58))


def _proud(rng: Random) -> str:
    # The boards have shrunk in their width; the strip has not.
    drawn = _boards(rng, TOP + 22, HIGH - 44) + _strip(rng)
    old = [(LEFT, TOP), (STRIP, TOP)]
    drawn += path(poly(old, closed=False), width=1.4, dash="5 5")
    drawn += path(poly([(x, y + HIGH) for x, y in old], closed=False), width=1.4, dash="5 5")
    drawn += arrow((80, TOP - 12), (80, TOP + 18), 3) + arrow((80, TOP + HIGH + 12), (80, TOP + HIGH - 18), 3)
    drawn += ring_round((STRIP + 6, TOP + 12), 26, 22) + ring_round((STRIP + 6, TOP + HIGH - 12), 26, 22)
    return drawn + label("strip stands out", (240, 20))


HOLDS = {"slotted": _slotted, "tight_pins": _pinned, "glued_along": _glued, "stands_proud": _proud}


def board_strip(rng: Random, *, holds: str = "slotted") -> str:
    """The end of a top of three boards with a strip across it; `holds` says how: one of HOLDS."""
    return chosen("holds", holds, HOLDS)(rng)
