"""How far the grain drifts sideways over 100 mm: the slope drawn true to scale."""

import math
from random import Random

from diagnose.documents.plates.canvas import LOOK, clip, dimension, label, path
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.shapes import poly, rect
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import outline, wood

# Units of the sheet for one millimetre.
SCALE = 2.0


def grain_drift(rng: Random, *, drift: float = 5.0, says: str = "5 mm") -> str:
    """A part from the side with its grain drifting by `drift` mm (0 to 40) over 100 mm; `says` stands beside the drift."""
    rise = within("drift", drift, 0, 40) * SCALE
    angle = math.degrees(math.atan2(rise, 100 * SCALE))
    part = rect(14, 62, 292, 108)
    foot = 116 + rise / 2
    a, corner, b = (46.0, foot), (246.0, foot), (246.0, foot - rise)
    beyond = [(a[0] - 200, a[1] + rise), (b[0] + 200, b[1] - rise)]
    drawn = (
        shadow(part) + wood(part, rng, angle, "mid", 9) + clip(part, path(poly(beyond, closed=False), line="#5a3413", width=3.4))
    )
    triangle = path(poly([a, corner, b], closed=False), width=1.6, dash="5 3")
    sizes = dimension((46, 190), (246, 190), "100 mm") + path(poly([(46, foot), (46, 184)], closed=False), width=0.8, dash="2 3")
    words = label(says, (262, 40), (254, foot - rise / 2))
    upright = path(poly([corner, b], closed=False), line=LOOK, width=4.5)
    return drawn + outline(part) + triangle + upright + sizes + words
