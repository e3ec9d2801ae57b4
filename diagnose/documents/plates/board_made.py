"""What a board is made of, seen at a corner where its edge lies open."""

from random import Random

from diagnose.documents.plates.board_stuff import chips, felt, paper_face, plies, ply_end
from diagnose.documents.plates.canvas import label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, arc, moved, poly, rect
from diagnose.documents.plates.slab import face_behind
from diagnose.documents.plates.stuff import GLUE, GLUE_LINE, shadow
from diagnose.documents.plates.wood import OUTLINE, end_grain, wood, wood_following

X, Y, WIDE, HIGH = 14.0, 120.0, 224.0, 86.0
BACK: Point = (68.0, -86.0)
FRONT, CORNER = rect(X, Y, WIDE, HIGH), (X + WIDE, Y)


def _top(thick: float = 0.0) -> list[Point]:
    return face_behind([(X, Y + thick), (X + WIDE, Y + thick)], BACK)


def _side(top: float = 0.0, bottom: float = HIGH) -> list[Point]:
    return face_behind([(X + WIDE, Y + bottom), (X + WIDE, Y + top)], BACK)


def _veneer_on_solid(rng: Random) -> str:
    # The grain of the face does not come round the corner: it ends in a thin layer of another wood.
    thick = 13.0
    core = wood(rect(X, Y + thick, WIDE, HIGH - thick), rng, 0, "light", 9)
    core += end_grain(_side(thick), rng, (X + WIDE + 30, Y + HIGH * 2.4), "light", 11, rays=False)
    face = wood(_top(), rng, 51, "dark", 11)
    edge = path(poly(rect(X, Y, WIDE, thick)), fill="#8d5a2e", width=OUTLINE) + path(
        poly(_side(0, thick)), fill="#8d5a2e", width=OUTLINE
    )
    return core + face + edge + label("thin layer", (70, 66), (96, Y + thick / 2)) + label("solid core", (120, 174))


def _plywood(rng: Random) -> str:
    thick = HIGH / 5
    side = ""
    for i in range(5):
        layer = _side(thick * i, thick * (i + 1))
        side += wood(layer, rng, 51, "light", 8) if i % 2 else ply_end(layer, rng)
    return wood(_top(), rng, 0, "light", 10) + plies(X, Y, WIDE, HIGH, rng) + side


def _particleboard(rng: Random) -> str:
    return paper_face(_top()) + chips(FRONT, rng) + chips(_side(), rng)


def _fibreboard(rng: Random) -> str:
    return paper_face(_top()) + felt(FRONT, rng) + felt(_side(), rng)


def _bent(rng: Random) -> str:
    drawn, lines = "", ""
    centre = (150.0, 236.0)
    for i in range(5):
        outer, inner = 186.0 - 17 * i, 169.0 - 17 * i
        # The bend of one layer, its upper line first; the lower one runs back.
        upper, lower = arc(centre, outer * 0.72, outer, 172, 18, 14), arc(centre, inner * 0.72, inner, 172, 18, 14)
        middle = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in zip(upper, lower, strict=True)]
        layer = [*upper, *reversed(lower)]
        drawn += wood_following(layer, middle, rng, 3, "light" if i % 2 else "mid", 6)
        lines += poly(lower, closed=False) if i < 4 else ""
    rear = arc(centre, 186 * 0.72, 186, 172, 18, 14)
    wide = [*rear, *reversed(moved(rear, 40, -24))]
    return (
        wood_following(wide, moved(rear, 20, -12), rng, 18, "light", 12)
        + drawn
        + path(lines, line=GLUE_LINE, width=5)
        + path(lines, line=GLUE, width=2.8)
    )


MADE = {
    "veneer_on_solid_core": _veneer_on_solid,
    "plies": _plywood,
    "chips": _particleboard,
    "fibres": _fibreboard,
    "bent_layers": _bent,
}


def board_made(rng: Random, *, of: str = "plies") -> str:
    """A corner of a board with its open edge; `of` says what it is made of: one of MADE."""
    draw = chosen("of", of, MADE)
    return ("" if draw is _bent else shadow(FRONT)) + draw(rng)
