"""The bolt of a catch or lock at the edge of a door, and the plate whose slot it should meet."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import poly, rect
from diagnose.documents.plates.stuff import metal, screw_head, shadow, void
from diagnose.documents.plates.wood import wood

DOOR, FRAME = rect(14, 14, 128, 212), rect(204, 14, 102, 212)
SLOT_Y, TALL = 84.0, 48.0


def catch_plate(rng: Random, *, drop: float = 1.0) -> str:
    """A door on the left, its bolt out, and the frame on the right; the bolt stands `drop` (0 to 1.5) slot heights too low."""
    y = SLOT_Y + TALL * within("drop", drop, 0, 1.5)
    drawn = shadow(DOOR) + wood(DOOR, rng, 90, "mid", 9) + shadow(FRAME) + wood(FRAME, rng, 90, "dark", 9)
    plate = rect(204, 50, 36, 138)
    drawn += metal(plate) + screw_head((222, 66), 8) + screw_head((222, 174), 8, 80)
    drawn += void(rect(210, SLOT_Y, 24, TALL))
    drawn += metal(rect(130, 58, 12, 122)) + metal(rect(142, y + 5, 42, TALL - 10), [(148, y + 11), (178, y + 11)])
    scratch = "".join(poly([(208, y + 14 + 9 * i), (236, y + 10 + 9 * i)], closed=False) for i in range(3))
    drawn += path(scratch, line="#ffffff", width=4) + path(scratch, width=1.4)
    drawn += arrow((100, y + TALL / 2), (126, y + TALL / 2), 3)
    return drawn + label("slot", (270, SLOT_Y + 28), (222, SLOT_Y + 24)) + label("strikes here", (262, 214), (224, y + 28))
