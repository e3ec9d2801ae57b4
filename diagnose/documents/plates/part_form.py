"""The form of a part: stout, slender, sawn to a curve, turned with a thin neck, or a wide board."""

from random import Random

from diagnose.documents.plates.canvas import arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, arc, poly, smooth
from diagnose.documents.plates.stuff import hatch, shadow
from diagnose.documents.plates.wood import bar, outline, wood


def _stout(rng: Random) -> str:
    return bar(16, 104, 236, 66, rng, back=(52.0, -36.0))


def _slender(rng: Random) -> str:
    bent = smooth([(14, 104), (84, 142), (160, 156), (236, 142), (298, 104)])
    return path(bent, width=1.6, dash="6 5") + bar(12, 92, 286, 13, rng, back=(9.0, -7.0)) + arrow((160, 40), (160, 82))


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
    return bar(12, 176, 206, 16, rng, back=(88.0, -128.0))


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
