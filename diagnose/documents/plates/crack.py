"""A crack in a block that is cut open: how deep it goes, and what lies inside it."""

from random import Random

from diagnose.documents.plates.canvas import label, path
from diagnose.documents.plates.chosen import chosen, within
from diagnose.documents.plates.shapes import Point, poly, rect
from diagnose.documents.plates.stuff import VOID, dirt, film, old_glue, shadow, void
from diagnose.documents.plates.wood import FIBRE, end_grain, torn, wood

LEFT, RIGHT, TOP, BOTTOM = 26.0, 270.0, 84.0, 214.0
MIDDLE = (LEFT + RIGHT) / 2
BACK = (34.0, -40.0)
FILM = 11.0


def _walls(deep: float, mouth: float) -> tuple[list[Point], list[Point]]:
    """The left wall from the mouth down, and the right one, of a crack that ends `deep` below the top, in a point unless it goes through."""
    end = 6.0 if TOP + deep == BOTTOM else 0.0
    shares = (0.0, 0.3, 0.55, 0.8, 1.0)
    sway = (0.0, 3.0, -2.0, 2.0, 0.0)
    left = [(MIDDLE + s - (mouth * (1 - t) + end * t) / 2, TOP + deep * t) for t, s in zip(shares, sway, strict=True)]
    right = [(MIDDLE + s + (mouth * (1 - t) + end * t) / 2, TOP + deep * t) for t, s in zip(shares, sway, strict=True)]
    return left, right


def _bright(left: list[Point], right: list[Point], rng: Random) -> str:
    drawn = path(poly([*left, *reversed(right)]), fill=FIBRE, line="#33261b", width=1.6)
    return drawn + torn(left, rng, 9, 10, 20, 7) + torn(right, rng, 9, 170, 20, 7)


def _dirty(left: list[Point], right: list[Point], rng: Random) -> str:
    return dirt([*left, *reversed(right)], rng, 2.5) + path(poly([*left, *reversed(right)]), width=1.6)


def _finished(left: list[Point], right: list[Point], rng: Random) -> str:
    # The film runs over the edge of the mouth and down both walls.
    drawn = void([*left, *reversed(right)])
    return drawn + film(left[:4], 8) + film([*reversed(right[:4])], 8)


def _glued(left: list[Point], right: list[Point], rng: Random) -> str:
    filled = [*left[1:], *reversed(right[1:])]
    return void([*left, *reversed(right)]) + old_glue(filled)


def _old_end_new_end(rng: Random) -> str:
    """A long crack from above: dirt in the end that opened long ago, bright fibre in the end that opened now."""
    upper: list[Point] = [(26, 118), (70, 96), (120, 92), (160, 95), (200, 100), (244, 108), (296, 120)]
    lower: list[Point] = [(x, 240 - y + (3 if 30 < x < 290 else 0)) for x, y in upper]
    board = rect(10, 30, 300, 180)
    drawn = shadow(board) + wood(board, rng, 0, "mid", 11)
    drawn += _bright(upper[3:], lower[3:], rng) + _dirty(upper[:4], lower[:4], rng)
    drawn += path(poly([*upper, *reversed(lower)]), width=2)
    return drawn + label("old end", (90, 70), (100, 110)) + label("fresh end", (236, 70), (226, 114))


def _dark(left: list[Point], right: list[Point], rng: Random) -> str:
    return void([*left, *reversed(right)])


# What lies inside → how it is drawn in the cut, and the colour of the mouth that runs back from it.
INSIDE = {
    "gap": (_dark, VOID),
    "nothing": (_bright, FIBRE),
    "dirt": (_dirty, "#94795a"),
    "finish": (_finished, VOID),
    "glue": (_glued, VOID),
}
PARTLY = "old_to_new"


def _block(rng: Random, finished: bool) -> str:
    (bx, by) = BACK
    face, top = (
        rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP),
        [(LEFT, TOP), (RIGHT, TOP), (RIGHT + bx, TOP + by), (LEFT + bx, TOP + by)],
    )
    side = [(RIGHT, TOP), (RIGHT + bx, TOP + by), (RIGHT + bx, BOTTOM + by), (RIGHT, BOTTOM)]
    drawn = shadow(side) + wood(side, rng, 50, "mid", 8) + wood(top, rng, 50, "light", 9)
    drawn += end_grain(face, rng, (MIDDLE - 30, BOTTOM + 190), "light", 15, rays=False)
    return drawn + (film([(LEFT, TOP), (RIGHT, TOP)], FILM) if finished else "")


def _mouth(wide: float, colour: str) -> str:
    """The mouth of the crack on the upper face, running back from the cut."""
    (bx, by) = BACK
    near, far = (MIDDLE - wide / 2, MIDDLE + wide / 2), (MIDDLE + bx - wide * 0.1, MIDDLE + bx + wide * 0.25)
    return path(poly([(near[0], TOP), (near[1], TOP), (far[1], TOP + by), (far[0], TOP + by)]), fill=colour, width=1.2)


def crack(rng: Random, *, depth: float = 0.7, mouth: float = 40.0, inside: str = "nothing", finished: bool = False) -> str:
    """A crack from the top of a block: `depth` is the share of the block that it goes through (0 to 1; 0 means only the film is cracked),
    `mouth` its width at the top (2 to 50), `inside` one of INSIDE or PARTLY (seen from above), `finished` puts a film on the top."""
    if inside == PARTLY:
        return _old_end_new_end(rng)
    deep = within("depth", depth, 0, 1) * (BOTTOM - TOP)
    wide = within("mouth", mouth, 2, 50)
    fill, colour = chosen("inside", inside, INSIDE)
    drawn = _block(rng, finished)
    if depth == 0:
        notch = [(MIDDLE - wide / 2, TOP - FILM - 1), (MIDDLE + wide / 2, TOP - FILM - 1), (MIDDLE, TOP)]
        return drawn + void(notch) + label("film cracked", (92, 40), (MIDDLE - 2, TOP - 7)) + label("wood whole", (MIDDLE, 176))
    drawn += _mouth(wide, colour)
    left, right = _walls(deep, wide)
    return drawn + fill(left, right, rng)
