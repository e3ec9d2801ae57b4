"""A woven seat from above in its frame, and where its strands are broken."""

from random import Random

from diagnose.documents.plates.canvas import clip, label, path
from diagnose.documents.plates.shapes import Point, poly, rect, smooth
from diagnose.documents.plates.stuff import VOID, shadow
from diagnose.documents.plates.wood import wood

OUTER, INNER = rect(14, 14, 292, 212), rect(56, 50, 208, 134)
STRAND, STRAND_LINE = "#e3cf93", "#6b5320"
# The hole in the weave; loose ends of strands hang into it.
HOLE: list[Point] = [(60, 185), (66, 168), (84, 160), (108, 166), (140, 156), (172, 165), (206, 158), (236, 164), (258, 186)]


def _weave(rng: Random) -> str:
    d = ""
    for i in range(13):
        x = 64 + 16 * i
        d += poly([(x, 46), (x, 188)], closed=False)
    for i in range(9):
        y = 58 + 15.5 * i
        d += poly([(52, y), (268, y)], closed=False)
    slant = "".join(poly([(56 + 32 * i, 50), (56 + 32 * i - 134, 184)], closed=False) for i in range(1, 11))
    return path(slant, line="#a88d4a", width=2) + path(d, line=STRAND_LINE, width=6.5) + path(d, line=STRAND, width=4.3)


def woven_sheet(rng: Random) -> str:
    """A caned seat in its frame from above, its strands broken along the frame in front."""
    drawn = shadow(OUTER) + wood(OUTER, rng, 0, "mid", 11) + path(poly(INNER), fill="#fbf6ea", line="none")
    drawn += clip(INNER, _weave(rng), path(smooth(HOLE) + "Z", fill=VOID, line="none"))
    ends = ""
    for x, y in HOLE[1:-1]:
        ends += smooth([(x, y - 6), (x + rng.uniform(-4, 4), y + 6), (x + rng.uniform(-9, 9), y + rng.uniform(12, 20))])
    drawn += path(ends, line=STRAND_LINE, width=6) + path(ends, line=STRAND, width=4) + path(poly(INNER), width=2.4)
    groove = rect(48, 42, 224, 150)
    drawn += path(poly(groove), width=3, dash="0.1 12", round_ends=True)
    return drawn + label("torn at frame", (160, 214), (148, 178))
