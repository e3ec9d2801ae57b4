"""The form of a part: stout, slender, sawn to a curve, turned with a thin neck, or a wide board."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, arc, band, poly, rect
from diagnose.documents.plates.stuff import hatch, shadow
from diagnose.documents.plates.wood import bar, outline, wood, wood_following


def _stout(rng: Random) -> str:
    thick = label("thick", (58, 142)) + arrow((26, 104), (26, 170), 2, both=True)
    return bar(16, 104, 236, 66, rng, back=(52.0, -36.0)) + thick


def _slender(rng: Random) -> str:
    course: list[Point] = [(14, 112), (60, 131), (110, 143), (160, 147), (210, 143), (260, 131), (306, 112)]
    bent = band(course, 13)
    straight = path(poly(rect(14, 96, 292, 13)), width=1.4, dash="6 5")
    rests = "".join(path(poly([(x, 121), (x - 13, 146), (x + 13, 146)]), fill="#cbbfac", width=1.4) for x in (22.0, 298.0))
    drawn = straight + rests + shadow(bent) + wood_following(bent, course, rng, 5, "light", 4)
    return drawn + arrow((160, 62), (160, 132), 3) + label("bends", (160, 52))


def _sawn_curve(rng: Random) -> str:
    foot: Point = (160, 224)
    shape = [*arc(foot, 142, 176, 2, 178, 40), *arc(foot, 84, 108, 178, 2, 30)]
    drawn = shadow(shape) + wood(shape, rng, 0)
    return drawn + ring_round((46, 150), 30) + label("grain runs out", (160, 208), (62, 152))


# Half the profile of a turned leg lying on its side: how far along, how thick.
PROFILE: list[Point] = [
    (14, 34), (70, 34), (74, 28), (84, 34), (92, 28), (104, 16), (116, 10), (132, 9), (144, 12), (152, 24), (164, 32), (190, 36),
    (230, 32), (268, 22), (296, 18), (306, 18),
]  # fmt: skip


def _turned_neck(rng: Random) -> str:
    middle = 120.0
    shape = [*[(x, middle - r) for x, r in PROFILE], *[(x, middle + r) for x, r in reversed(PROFILE)]]
    drawn = shadow(shape) + wood(shape, rng)
    lower = [*[(x, middle + r * 0.45) for x, r in PROFILE], *[(x, middle + r) for x, r in reversed(PROFILE)]]
    beads = "".join(poly([(x, middle - r), (x, middle + r)], closed=False) for x, r in PROFILE if x in (70, 84, 92, 152))
    drawn += hatch(lower, 70, 5) + path(beads, width=1.2) + outline(shape)
    return drawn + arrow((124, 62), (124, 104)) + arrow((124, 178), (124, 136)) + label("thin neck", (124, 50))


def _wide_board(rng: Random) -> str:
    wide = arrow((232, 172), (308, 62), 2, both=True)
    return bar(12, 176, 196, 16, rng, back=(80.0, -122.0)) + wide + label("wide", (292, 150))


FORMS = {
    "stout": _stout,
    "slender": _slender,
    "sawn_curve": _sawn_curve,
    "turned_neck": _turned_neck,
    "wide_board": _wide_board,
}


def part_form(rng: Random, *, form: str = "stout") -> str:
    """A part by itself; `form` is one of FORMS."""
    return chosen("form", form, FORMS)(rng)
