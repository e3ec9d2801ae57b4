"""A plain chair, table, cupboard, bookcase or bed, with the place of the damage ringed."""

from random import Random

from diagnose.documents.plates.canvas import path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, disc, poly, rect
from diagnose.documents.plates.stuff import VOID, shadow
from diagnose.documents.plates.wood import TONES, outline, wood

BACK: Point = (60.0, -34.0)


def _sticks(*lines: Points, width: float = 10.0) -> str:
    """Bars between points, drawn as plain strips; too many and too thin for grain."""
    d = "".join(poly(line, closed=False) for line in lines)
    return path(d, width=width + 3) + path(d, line=TONES["mid"][0], width=width)


def _set_back(points: Points) -> list[Point]:
    return [(x + BACK[0], y + BACK[1]) for x, y in points]


def _chair(rng: Random) -> str:
    front: Points = [(80, 146), (190, 146)]
    back = _set_back(front)
    behind = [[(x, y + 78), (x, y), (x + 10, 18)] for x, y in back]
    rungs = [[(x, 198), (x + BACK[0], 198 + BACK[1])] for x in (80, 190)]
    drawn = _sticks(*behind, width=11) + _sticks(*rungs, [(110, 181), (220, 181)], width=6)
    drawn += _sticks([(150, 26), (260, 26)], width=17) + _sticks([(148, 66), (256, 66)], width=9)
    drawn += _sticks(*[[(x, 146), (x, 230)] for x in (80, 190)], width=11)
    seat: Points = [(72, 146), (198, 146), (258, 110), (134, 110)]
    drawn += wood(seat, rng, 0, "light", 8) + wood([(72, 146), (198, 146), (198, 157), (72, 157)], rng, 0, "mid", 6)
    arms = [[(80, 142), (80, 106), (146, 70)], [(190, 142), (190, 106), (256, 70)]]
    return drawn + _sticks(*arms, width=8)


def _table(rng: Random) -> str:
    legs = [[(x, 120), (x, 226)] for x in (44, 216)]
    behind = [[(x + BACK[0], 100), (x + BACK[0], 190)] for x in (44, 216)]
    rails = wood([(216, 106), (284, 72), (284, 96), (216, 134)], rng, 30, "dark", 7) + wood(
        rect(44, 106, 172, 28), rng, 0, "mid", 8
    )
    top: Points = [(22, 92), (232, 92), (304, 50), (100, 50)]
    edge = wood(rect(22, 92, 210, 13), rng, 0, "mid", 6) + wood([(232, 92), (304, 50), (304, 63), (232, 105)], rng, 30, "dark", 6)
    return _sticks(*behind) + rails + _sticks(*legs, width=13) + wood(top, rng, 0, "light", 9) + edge


def _body(rng: Random) -> str:
    """The outside of a case: top and right side, with its front left open."""
    front = rect(60, 62, 170, 166)
    side: Points = [(230, 62), (284, 32), (284, 198), (230, 228)]
    top: Points = [(60, 62), (230, 62), (284, 32), (118, 32)]
    return shadow(front) + wood(side, rng, 90, "dark", 9) + wood(top, rng, 0, "light", 8) + wood(front, rng, 90, "mid", 14)


def _cupboard(rng: Random) -> str:
    drawer, left, right = rect(72, 74, 146, 38), rect(72, 120, 70, 98), rect(148, 120, 70, 98)
    doors = wood(left, rng, 90, "light", 9) + wood(right, rng, 90, "light", 9) + outline(rect(86, 134, 42, 70))
    doors += outline(rect(162, 134, 42, 70)) + wood(drawer, rng, 0, "light", 8)
    knobs = "".join(path(disc(at, 4.5), fill=VOID) for at in ((145, 93), (136, 168), (154, 168)))
    return _body(rng) + doors + knobs


def _bookcase(rng: Random) -> str:
    inside = wood(rect(72, 74, 146, 144), rng, 90, "grey", 12)
    shelves = "".join(wood(rect(72, y, 146, 12), rng, 0, "light", 6) for y in (114, 164))
    return _body(rng) + inside + shelves


def _bed(rng: Random) -> str:
    head = _sticks([(36, 46), (36, 178)], [(126, 20), (126, 130)], width=12) + _sticks([(36, 66), (126, 38)], width=24)
    far = _sticks([(126, 100), (282, 136)], width=12)
    slats = _sticks(*[[(60 + 25 * i, 148 + 8 * i), (140 + 24 * i, 108 + 6 * i)] for i in range(6)], width=7)
    near = wood([(36, 132), (206, 178), (206, 200), (36, 154)], rng, -15, "light", 7)
    foot = _sticks([(282, 110), (282, 186)], width=12) + _sticks([(206, 178), (282, 142)], width=20)
    return head + far + slats + foot + near + _sticks([(206, 140), (206, 228)], width=14)


# Each place: what is drawn, the middle of the ring, and its two radii.
PLACES = {
    "chair_behind": (_chair, (250.0, 116.0), 24.0, 24.0),
    "chair_before": (_chair, (190.0, 152.0), 24.0, 24.0),
    "chair_rungs": (_chair, (166.0, 181.0), 72.0, 21.0),
    "chair_crest": (_chair, (204.0, 40.0), 84.0, 31.0),
    "chair_arms": (_chair, (214.0, 96.0), 46.0, 36.0),
    "chair_toe": (_chair, (190.0, 213.0), 24.0, 20.0),
    "table_board": (_table, (166.0, 72.0), 80.0, 28.0),
    "table_rails": (_table, (204.0, 122.0), 62.0, 26.0),
    "case_edges": (_cupboard, (64.0, 66.0), 27.0, 27.0),
    "case_fronts": (_cupboard, (150.0, 146.0), 82.0, 80.0),
    "case_boards": (_bookcase, (145.0, 144.0), 84.0, 56.0),
    "bed_corner": (_bed, (206.0, 188.0), 30.0, 30.0),
}


def place_ringed(rng: Random, *, place: str = "chair_behind") -> str:
    """A whole piece seen from the front and a little from above, with a ring round one of PLACES."""
    piece, centre, rx, ry = chosen("place", place, PLACES)
    return piece(rng) + ring_round(centre, rx, ry)
