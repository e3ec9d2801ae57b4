"""Where the two parts of a joint meet, seen cut open: how the shoulder sits, glue squeezed out, finish that runs in."""

from random import Random

from diagnose.documents.plates.canvas import label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.joint_parts import (
    END,
    FACE,
    HOLE_BOTTOM,
    HOLE_TOP,
    LYING_BOTTOM,
    LYING_TOP,
    MIDDLE,
    TENON,
    lying,
    lying_wood,
    upright,
)
from diagnose.documents.plates.shapes import Point, poly, rect, turned
from diagnose.documents.plates.stuff import film, old_glue, void


def _tight(rng: Random) -> str:
    both = label("touches", (222, 40), (FACE, LYING_TOP + 4)) + label("touches", (222, 212), (FACE, LYING_BOTTOM - 4))
    return upright(rng) + lying_wood(lying(), rng) + both


def _one_side(rng: Random) -> str:
    foot = (FACE, LYING_BOTTOM)
    part = turned(lying(play=9, end=296), foot, -7)
    gap = void([(FACE, LYING_TOP), part[1], foot], line=False)
    words = label("open", (222, 40), (142, LYING_TOP + 10)) + label("touches", (222, 224), (FACE, LYING_BOTTOM - 2))
    return upright(rng) + gap + lying_wood(part, rng, -7) + words


def _held_off(rng: Random) -> str:
    depth = 48.0
    off = TENON - depth
    gap = void(rect(FACE, LYING_TOP, off, LYING_BOTTOM - LYING_TOP), line=False)
    drawn = upright(rng, depth) + gap + lying_wood(lying(FACE + off), rng)
    strikes = ring_round((FACE - depth, MIDDLE), 16, 38) + label("strikes first", (64, 44), (FACE - depth, MIDDLE - 38))
    return drawn + strikes + label("open", (230, 40), (FACE + 12, LYING_TOP + 6))


def _no_step(rng: Random) -> str:
    drawn = upright(rng) + lying_wood(lying(play=2, step=False), rng)
    return (
        drawn
        + path(poly([(FACE, HOLE_TOP), (FACE, HOLE_BOTTOM)], closed=False), dash="5 4")
        + label("no step", (222, 64), (150, 93))
    )


def _collar(rng: Random) -> str:
    bead: list[Point] = [(FACE, 36), (144, 34), (152, 44), (162, 50), (172, LYING_TOP), (FACE, LYING_TOP)]
    run: list[Point] = [(FACE, LYING_BOTTOM), (172, LYING_BOTTOM), (164, 192), (152, 196), (148, 216), (141, 222), (FACE, 214)]
    drawn = upright(rng) + lying_wood(lying(), rng) + old_glue(bead) + old_glue(run)
    return drawn + label("glue outside", (228, 36), (158, 50))


def _runs_in(rng: Random) -> str:
    out = 44.0
    part = lying(FACE + out, 16)
    top = HOLE_TOP + 16
    # Corners are cut a little, so that the film keeps its width round them.
    step = FACE + out
    upper: list[Point] = [
        (FACE - 8, top),
        (step - 3, top),
        (step, top - 3),
        (step, LYING_TOP + 3),
        (step + 3, LYING_TOP),
        (END, LYING_TOP),
    ]
    lower = [(x, 2 * MIDDLE - y) for x, y in reversed(upper)]
    mouth: list[Point] = [(FACE, 12), (FACE, HOLE_TOP - 3), (FACE - 3, HOLE_TOP), (96, HOLE_TOP)]
    foot = [(x, 2 * MIDDLE - y) for x, y in reversed(mouth)]
    drawn = upright(rng) + lying_wood(part, rng)
    return drawn + "".join(film(line) for line in (upper, lower, mouth, foot)) + label("finish inside", (226, 36), (150, top - 4))


MOUTHS = {
    "all_round": _tight,
    "one_side": _one_side,
    "held_off": _held_off,
    "no_step": _no_step,
    "collar": _collar,
    "film_inside": _runs_in,
}


def joint_mouth(rng: Random, *, shows: str = "all_round") -> str:
    """A joint cut open; `shows` says what is seen where the parts meet: one of MOUTHS."""
    return chosen("shows", shows, MOUTHS)(rng)
