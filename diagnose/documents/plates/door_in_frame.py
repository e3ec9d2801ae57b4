"""A door in its opening from the front: how its gap runs, and where it rubs."""

from random import Random

from diagnose.documents.plates.canvas import INK, PAPER, arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Points, disc, moved, poly, rect, turned
from diagnose.documents.plates.stuff import metal, rubbed, shadow, void
from diagnose.documents.plates.wood import wood

FRAME, OPENING = rect(30, 12, 260, 218), rect(62, 40, 196, 166)
# In the gap all round there is room for 7 units; a door that rubs has none at the place.
SQUARE = rect(69, 47, 182, 152)


def _opening(rng: Random) -> str:
    return shadow(FRAME) + wood(FRAME, rng, 90, "dark", 13) + void(OPENING)


def _door(shape: Points, rng: Random) -> str:
    """The door with a flat panel line, its knob on the right and two hinges on the left."""
    cx, cy = sum(x for x, _ in shape) / 4, sum(y for _, y in shape) / 4
    panel = [(cx + (x - cx) * 0.62, cy + (y - cy) * 0.62) for x, y in shape]
    right = ((shape[1][0] + shape[2][0]) / 2 - 27, (shape[1][1] + shape[2][1]) / 2)
    hinges = "".join(metal(rect(56, y, 16, 26)) for y in (64, 156))
    knob = path(disc(right, 6), fill=INK)
    return wood(shape, rng, 90, "light", 10) + path(poly(panel), width=1.6) + knob + hinges


def _top_corner(rng: Random) -> str:
    door: Points = [(69, 62), (257, 41), (257, 184), (69, 203)]
    mark: Points = [(188, 48.5), (257, 41), (257, 98), (243, 94), (241, 57), (189, 63)]
    drawn = _opening(rng) + _door(door, rng) + rubbed(mark, rng, 5)
    return drawn + ring_round((238, 62), 60, 46) + label("rubbed", (144, 104), (200, 56))


def _side(rng: Random) -> str:
    door = rect(72, 47, 186, 152)
    mark = rect(243, 49, 15, 148)
    return (
        _opening(rng)
        + _door(door, rng)
        + rubbed(mark, rng, 90)
        + ring_round((250, 123), 30, 92)
        + label("rubbed", (160, 80), (245, 96))
    )


def _wedge(rng: Random) -> str:
    door: Points = [(69, 47), (226, 47), (255, 199), (69, 199)]
    drawn = _opening(rng) + _door(door, rng) + arrow((227, 60), (259, 60), 2.2, PAPER, both=True)
    return drawn + label("wide", (184, 67)) + label("narrow", (196, 194), (256, 186))


def _corner_out(rng: Random) -> str:
    door: Points = [(69, 47), (251, 47), (278, 222), (69, 199)]
    cast: Points = [(120, 208), (262, 112), (286, 150), (290, 229), (270, 229)]
    edge: Points = [(69, 199), (278, 222), (270, 230), (69, 205)]
    side: Points = [(251, 47), (278, 222), (286, 216), (256, 47)]
    drawn = _opening(rng) + path(poly(cast), fill="#1d140d", line="none", opacity=0.55) + _door(door, rng)
    drawn += wood(edge, rng, 0, "mid", 5) + wood(side, rng, 90, "mid", 5)
    # Where the corner belongs.
    drawn += path(poly([(251, 128), (251, 199), (168, 199)], closed=False), line=PAPER, width=4, opacity=0.8)
    drawn += path(poly([(251, 128), (251, 199), (168, 199)], closed=False), width=1.8, dash="7 5")
    return drawn + arrow((240, 188), (272, 216), 3.4) + label("stands out", (170, 150))


def _low(rng: Random) -> str:
    door = moved(turned(SQUARE, (69, 123), -4.5), 3, 2)
    lifted = path(poly(SQUARE[:2], closed=False) + poly(SQUARE[1:3], closed=False), line=PAPER, width=2, dash="7 5")
    return _opening(rng) + lifted + _door(door, rng) + arrow((196, 182), (196, 104), 4.2) + label("lift here", (146, 176))


STANDS = {"rubs_above": _top_corner, "rubs_beside": _side, "wedge": _wedge, "corner_out": _corner_out, "low": _low}


def door_in_frame(rng: Random, *, stands: str = "wedge") -> str:
    """A door, hinged on the left, in its dark opening; `stands` is one of STANDS."""
    return chosen("stands", stands, STANDS)(rng)
