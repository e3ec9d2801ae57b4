"""A butt hinge between a door and its frame, seen from above."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, disc, poly, rect
from diagnose.documents.plates.stuff import METAL, METAL_LINE, VOID, metal, screw, shadow
from diagnose.documents.plates.wood import end_grain

FRAME, DOOR_TOP = rect(14, 74, 122, 140), 74.0


def _leaf(x: float, y: float, long: float, way: int) -> str:
    """One leaf of the hinge, running back from the pin between the faces; `way` is the side its screw goes to."""
    shape = rect(x - 6 if way < 0 else x, y, 6, long)
    return metal(shape) + screw((x, y + long * 0.6), (x + way * 48, y + long * 0.6), 10)


def _knuckle(at: Point, bore: float, pin: Point) -> str:
    ring = path(disc(at, 24), fill=METAL, line=METAL_LINE, width=2.4)
    return ring + path(disc(at, bore), fill=VOID, width=1.6) + path(disc(pin, 8.5), fill="#eef1f4", line=METAL_LINE, width=2)


def _wood(rng: Random, door_x: float) -> str:
    door = rect(door_x, DOOR_TOP, 306 - door_x, 100)
    drawn = shadow(FRAME) + shadow(door) + end_grain(FRAME, rng, (60, 330), "dark", 10, rays=False)
    return drawn + end_grain(door, rng, (250, 320), "mid", 10, rays=False)


def _slack(rng: Random) -> str:
    drawn = _wood(rng, 156) + _leaf(136, 76, 84, -1) + _leaf(156, 76, 84, 1)
    at = (146.0, 52.0)
    drawn += _knuckle(at, 18, (at[0] + 7, at[1] + 6))
    drawn += arrow((222, 54), (258, 54), 3, both=True)
    return drawn + label("pin too thin", (70, 26), (138, 46))


def _deep(rng: Random) -> str:
    # Both recesses are deeper than the leaf is thick: the wood meets before the door is shut.
    drawn = _wood(rng, 138) + path(poly(rect(112, 76, 24, 88)), fill=VOID) + path(poly(rect(138, 76, 24, 88)), fill=VOID)
    drawn += _leaf(118, 78, 82, -1) + _leaf(156, 78, 82, 1) + _knuckle((137, 52), 10, (137, 52))
    drawn += arrow((84, 192), (130, 168), 3) + arrow((192, 192), (144, 168), 3)
    return drawn + label("wood meets wood", (216, 216)) + label("sunk too deep", (70, 26), (124, 82))


FAULTS = {"pin_worn": _slack, "sunk_deep": _deep}


def hinge_section(rng: Random, *, fault: str = "pin_worn") -> str:
    """A butt hinge from above, frame on the left and door on the right; `fault` is one of FAULTS."""
    return chosen("fault", fault, FAULTS)(rng)
