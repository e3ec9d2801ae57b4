"""A bolt and the threaded piece let into the wood for it, cut open along the bolt."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path, turn_arrow
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, number, oval, poly, ragged, rect, turned
from diagnose.documents.plates.stuff import METAL_LINE, VOID, crack, metal, shadow, void
from diagnose.documents.plates.wood import torn, wood

BLOCK = rect(134, 26, 172, 188)
MIDDLE, HALF, BORE = 120.0, 32.0, 15.0
INSERT = (134.0, 236.0)


def _block(rng: Random) -> str:
    return shadow(BLOCK) + wood(BLOCK, rng, 90, "mid", 9)


def _other(rng: Random, x: float = 94.0) -> str:
    """The part that the bolt draws against the block, cut through its hole."""
    upper, lower = rect(x, 40, 40, MIDDLE - 16 - 40), rect(x, MIDDLE + 16, 40, 200 - MIDDLE - 16)
    return (
        wood(upper, rng, 90, "light", 8) + wood(lower, rng, 90, "light", 8) + path(poly(rect(x, MIDDLE - 16, 40, 32)), fill=VOID)
    )


def _insert(x: float = INSERT[0], worn: bool = False) -> str:
    """The threaded piece, cut open: ribs outside, thread inside."""
    end = x + INSERT[1] - INSERT[0]
    drawn = ""
    for sign in (-1, 1):
        outer: list[Point] = [(x, MIDDLE + sign * HALF)]
        step = x + 10
        while step < end - 4:
            outer += [(step, MIDDLE + sign * HALF), (step + 5, MIDDLE + sign * (HALF + 8)), (step + 10, MIDDLE + sign * HALF)]
            step += 18
        inner: list[Point] = []
        step = end
        while step > x:
            depth = 0.0 if worn else 4.0
            inner += [(step, MIDDLE + sign * BORE), (step - 4, MIDDLE + sign * (BORE + depth))]
            step -= 8
        drawn += metal([*outer, (end, MIDDLE + sign * HALF), *inner, (x, MIDDLE + sign * BORE)])
    return void(rect(x, MIDDLE - BORE - 3, end - x, 2 * BORE + 6), line=False) + drawn


def _bolt(head: float, bent: float = 0.0, worn: bool = False) -> str:
    """A bolt from its head at x = `head` to the right; `bent` degrees out of straight in its middle."""
    end = head + 150
    shank = [(head + 14, MIDDLE - 12.0), (head + 76, MIDDLE - 12), (head + 76, MIDDLE + 12), (head + 14, MIDDLE + 12)]
    point: Points = [
        (head + 74, MIDDLE - 12),
        (end - 8, MIDDLE - 12),
        (end, MIDDLE - 6),
        (end, MIDDLE + 6),
        (end - 8, MIDDLE + 12),
        (head + 74, MIDDLE + 12),
    ]
    about = (head + 76, MIDDLE)
    drawn = metal(turned(point, about, bent)) + metal(shank, [(head + 20, MIDDLE - 6), (head + 72, MIDDLE - 6)])
    thread = ""
    x = head + 80
    while x < end - 8:
        thread += poly(turned([(x, MIDDLE - 13), (x + 4, MIDDLE + 13)], about, bent), closed=False)
        x += 13 if worn else 7
    drawn += path(thread, line=METAL_LINE, width=0.8 if worn else 2.6)
    cap = [(head, MIDDLE - 24), (head + 14, MIDDLE - 28), (head + 14, MIDDLE + 28), (head, MIDDLE + 24)]
    return drawn + metal(cap, [(head + 5, MIDDLE - 16), (head + 5, MIDDLE + 12)])


def _bolt_loose(rng: Random) -> str:
    drawn = _block(rng) + _other(rng) + _insert() + _bolt(46)
    return (
        drawn
        + arrow((52, 62), (22, 62), 3)
        + label("gap", (70, 196), (77, 136))
        + label("threaded piece firm", (226, 232), (206, 156))
    )


def _turns(rng: Random) -> str:
    hole = oval((INSERT[0] + 50, MIDDLE), 66, 54, 24)
    drawn = _block(rng) + clip(BLOCK, void(hole)) + _other(rng) + _insert() + _bolt(80)
    return drawn + turn_arrow((40, MIDDLE), 32, 250, 40, 4) + label("it turns too", (226, 232), (214, 158))


def _out(rng: Random) -> str:
    upper = ragged((134, MIDDLE - 46), (238, MIDDLE - 34), rng, 10, 9)
    lower = ragged((238, MIDDLE + 34), (134, MIDDLE + 46), rng, 10, 9)
    drawn = _block(rng) + void([*upper, *lower]) + torn(upper, rng, 12, 250, 25, 4) + torn(lower, rng, 12, 110, 25, 4)
    drawn += clip(rect(8, 0, 126, 240), _insert(28), _bolt(-26))
    return drawn + arrow((110, 54), (62, 54), 4) + label("torn hole", (216, 232), (200, MIDDLE + 24))


def _worn(rng: Random) -> str:
    # The bolt is drawn out of the hole and above it, so that its shank can be seen.
    drawn = _block(rng) + _other(rng) + _insert(worn=True)
    return (
        drawn
        + f'<g transform="translate(0 {number(-74)})">{_bolt(18, 16, worn=True)}</g>'
        + label("bent, thread gone", (226, 232), (206, MIDDLE + 14))
    )


def _split(rng: Random) -> str:
    drawn = _block(rng) + _other(rng) + _insert() + _bolt(80)
    for line in (
        [(178, 80), (182, 62), (176, 44), (181, 25)],
        [(210, 80), (216, 60), (212, 42)],
        [(178, 160), (174, 180), (180, 198), (176, 215)],
        [(212, 160), (208, 182), (214, 196)],
    ):
        drawn += crack(line, 17, rng, 3)
    return drawn + label("wood splits", (246, 234), (178, 196))


STATES = {"bolt_slack": _bolt_loose, "turns_along": _turns, "out": _out, "worn": _worn, "cracked_round": _split}


def threaded_piece(rng: Random, *, state: str = "bolt_slack") -> str:
    """A bolt through one part into a threaded piece in another; `state` is one of STATES."""
    return chosen("state", state, STATES)(rng)
