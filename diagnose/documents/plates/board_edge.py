"""What happens to the edges and holes of a board of chips: swollen, crumbled, torn out, its edging or its face off."""

from random import Random

from diagnose.documents.plates.board_stuff import chips, paper_face
from diagnose.documents.plates.canvas import PAPER, arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, arc, disc, moved, oval, poly, ragged, rect, smooth, turned
from diagnose.documents.plates.stuff import METAL, METAL_LINE, VOID, hatch, metal, powder, screw, shadow, void
from diagnose.documents.plates.wood import OUTLINE

X, Y, WIDE, HIGH = 14.0, 122.0, 224.0, 60.0
BACK: Point = (68.0, -84.0)


def _behind(front: Points) -> list[Point]:
    return [*front, *((x + BACK[0], y + BACK[1]) for x, y in reversed(front))]


def _board(rng: Random, upper: Points | None = None, lower: Points | None = None) -> str:
    """A board of chips in the house view; `upper` and `lower` are the edges of its front, from left to right."""
    over = list(upper or [(X, Y), (X + WIDE, Y)])
    under = list(lower or [(X, Y + HIGH), (X + WIDE, Y + HIGH)])
    front = [*over, *reversed(under)]
    side = _behind([under[-1], over[-1]])
    return shadow(front) + paper_face(_behind(over)) + chips(side, rng) + chips(front, rng)


def _swollen(rng: Random) -> str:
    # Only the part near the wet end has swollen: it stands above and below the dry part.
    up: list[Point] = [(X, Y), (X + 96, Y), (X + 132, Y - 5), (X + 166, Y - 21), (X + WIDE, Y - 30)]
    down: list[Point] = [
        (X, Y + HIGH),
        (X + 96, Y + HIGH),
        (X + 132, Y + HIGH + 4),
        (X + 166, Y + HIGH + 17),
        (X + WIDE, Y + HIGH + 24),
    ]
    drawn = _board(rng, up, down)
    return drawn + label("dry", (50, 222), (50, Y + HIGH - 12)) + label("swollen", (200, 232), (204, Y + HIGH + 6))


def _crumbles(rng: Random) -> str:
    # Lumps have broken off along the upper corner, into the face and into the edge; below, the edge is bitten.
    drawn = _board(rng)
    for x, wide, deep in ((78.0, 46.0, 24.0), (186.0, 38.0, 20.0)):
        lump = [(px + rng.uniform(-5, 5), py + rng.uniform(-4, 4)) for px, py in oval((x, Y + 2), wide, deep, 13)]
        drawn += (
            path(poly(lump), fill="#8a693e", line="none")
            + chips(lump, rng, 22)
            + path(poly(lump), fill=VOID, line="none", opacity=0.5)
        )
    for x, wide in ((36.0, 44.0), (136.0, 50.0)):
        bite = [(x, Y + HIGH + 8), *ragged((x, Y + HIGH - 6), (x + wide, Y + HIGH - 8), rng, 16, 9), (x + wide, Y + HIGH + 8)]
        drawn += path(poly(bite), fill=PAPER, line="none") + path(poly(bite[1:-1], closed=False), width=2.2)
    for _ in range(9):
        at = (rng.uniform(24, 230), rng.uniform(198, 222))
        crumb = turned(rect(at[0] - 6, at[1] - 2.5, 12, 5), at, rng.uniform(-60, 60))
        drawn += path(poly(crumb), fill="#efd9ab", width=1)
    return drawn + powder((124, 232), rng, 170, 18, 30)


def _hole(rng: Random) -> str:
    drawn = _board(rng)
    at = (150.0, 96.0)
    ring = [(x + rng.uniform(-3, 3), y + rng.uniform(-2, 2)) for x, y in arc(at, 30, 20, -20, 200, 12)]
    torn = [*ring, *ragged((112, Y), (104, Y + HIGH * 0.8), rng, 9, 9), *ragged((178, Y + HIGH * 0.8), (172, Y), rng, 9, 9)]
    drawn += chips([(x + (x - at[0]) * 0.32, y + (y - at[1]) * 0.16) for x, y in torn], rng) + void(torn)
    return drawn + screw((216, 20), (170, 74), 13)


def _edging(rng: Random) -> str:
    drawn = _board(rng)
    # The strip hangs on at the left and curls away to the front.
    fast: list[Point] = [(X, Y), (X + 50, Y), (X + 50, Y + HIGH), (X, Y + HIGH)]
    upper: list[Point] = [(X + 50, Y), (X + 110, Y + 8), (X + 164, Y + 26), (X + 204, Y + 56)]
    loose = [*upper, *reversed([(x, y + HIGH * 0.72) for x, y in upper])]
    loose[-1] = (X + 50, Y + HIGH)
    drawn += path(poly(fast), fill="#efe9dc", width=OUTLINE) + shadow(loose, 6, 6) + path(poly(loose), fill="#efe9dc", width=2)
    return drawn + hatch(loose, 80, 14) + label("edging off", (100, 64), (X + 104, Y + 22))


def _fitting(centre: Point, radius: float = 22.0) -> str:
    """A cam fitting from above: a round metal body with a cross slot."""
    cross = "".join(
        poly([(centre[0] - dx, centre[1] - dy), (centre[0] + dx, centre[1] + dy)], closed=False)
        for dx, dy in ((radius * 0.55, 0.0), (0.0, radius * 0.4))
    )
    return path(disc(centre, radius, radius * 0.72), fill=METAL, line=METAL_LINE, width=2) + path(cross, line=METAL_LINE, width=5)


def _crumbled_round(rng: Random) -> str:
    drawn = _board(rng)
    at = (160.0, 80.0)
    bitten = [(x + rng.uniform(-8, 8), y + rng.uniform(-6, 6)) for x, y in oval(at, 56, 34, 20)]
    drawn += chips(bitten, rng, 18) + void([(x + rng.uniform(-3, 3), y) for x, y in oval(at, 34, 23, 16)])
    for x, y in ((100, 100), (224, 92), (118, 54), (206, 58), (160, 124)):
        drawn += path(poly(turned(rect(x - 7, y - 3, 14, 6), (x, y), rng.uniform(-60, 60))), fill="#efd9ab", width=1.2)
    return drawn + _fitting((164, 82)) + path(smooth([(106, Y + 8), (120, Y + 22), (112, Y + 40)]), width=2)


def _face_torn(rng: Random) -> str:
    drawn = _board(rng)
    at = (158.0, 92.0)
    torn = [(x + rng.uniform(-9, 9), y + rng.uniform(-5, 5)) for x, y in oval(at, 66, 25, 20)]
    drawn += chips(torn, rng, 18) + void(oval(at, 22, 11))
    piece = moved([(x + rng.uniform(-5, 5), y + rng.uniform(-3, 3)) for x, y in oval(at, 56, 15, 18)], 0, -56)
    under = moved(piece, 0, 9)
    drawn += chips([*under], rng, 18) + path(poly(piece), fill="#efe9dc", width=OUTLINE)
    post = metal(rect(146, 8, 24, 28), [(152, 12), (152, 32)])
    return drawn + post + arrow((254, 66), (254, 28))


STATES = {
    "swollen_end": _swollen,
    "crumbling": _crumbles,
    "hole_torn": _hole,
    "edging_loose": _edging,
    "crumbled_round_fitting": _crumbled_round,
    "face_off": _face_torn,
}


def board_edge(rng: Random, *, state: str = "swollen_end") -> str:
    """A corner of a board of chips with a printed face; `state` says what has become of it: one of STATES."""
    return chosen("state", state, STATES)(rng)
