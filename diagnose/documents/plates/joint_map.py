"""The joint map of a kind of piece: its body form with a numbered dot for every joint. The table beside it names them."""

import html
import math
from itertools import combinations

from diagnose.documents.plates.canvas import INK, PAPER, page
from diagnose.documents.plates.piece_forms import FIELD, FORMS, Form, drawn
from diagnose.documents.plates.shapes import Point, number, poly
from diagnose.rulebase.entries import Joint, Piece
from diagnose.rulebase.fault import nearest

SHEET = (440, 336)
DOT_RADIUS = 9.5
CORNER, SIZE = (20.0, 14.0), (400.0, 280.0)
_SIDES_Y, _SAID_Y, _NUMBER_SIZE = 310, 328, 12
# Dots stand so far apart, from middle to middle, and give way to each other in so many turns.
_ROOM, _TURNS = 2 * DOT_RADIUS + 1.6, 80


def _text(said: str, x: float, y: float, anchor: str = "") -> str:
    placed = f' text-anchor="{anchor}"' if anchor else ""
    return f'<text x="{number(x)}" y="{number(y)}"{placed}>{html.escape(said)}</text>'


def _spot(joint: Joint) -> Point:
    if joint.at is None:
        raise ValueError(f"joint {joint.id} has no place on the drawing; give it at: [x, y], each 0 to 100")
    return CORNER[0] + joint.at[0] * SIZE[0] / FIELD, CORNER[1] + joint.at[1] * SIZE[1] / FIELD


def _apart(spots: list[Point]) -> list[Point]:
    """Places for the dots, as near to their spots as they can be without lying on each other.

    >>> [(round(x), round(y)) for x, y in _apart([(100, 100), (110, 100), (200, 100)])]
    [(95, 100), (115, 100), (200, 100)]
    """
    places = list(spots)
    for turn in range(_TURNS):
        # At first each dot is drawn back to its spot a little; in the second half they only give way.
        back = 0.15 if turn < _TURNS / 2 else 0.0
        places = [(x + (sx - x) * back, y + (sy - y) * back) for (x, y), (sx, sy) in zip(places, spots, strict=True)]
        for one, two in combinations(range(len(places)), 2):
            (ax, ay), (bx, by) = places[one], places[two]
            far = math.dist(places[one], places[two])
            if far < _ROOM:
                ux, uy = ((bx - ax) / far, (by - ay) / far) if far else (1.0, 0.0)
                give = (_ROOM - far) / 2
                places[one], places[two] = (ax - ux * give, ay - uy * give), (bx + ux * give, by + uy * give)
    return places


def _pins(spots: list[Point], places: list[Point]) -> str:
    """A pin from each dot that had to give way to the spot that it stands for."""
    given = [(spot, place) for spot, place in zip(spots, places, strict=True) if math.dist(spot, place) > DOT_RADIUS - 3]
    if not given:
        return ""
    lines = "".join(poly([place, spot], closed=False) for spot, place in given)
    heads = "".join(f"M{number(x)} {number(y)}h.1" for (x, y), _ in given)
    return (
        f'<path d="{lines}" stroke="{PAPER}" stroke-width="3.4"/><path d="{lines}" stroke="{INK}" stroke-width="1.6"/>'
        f'<path d="{heads}" stroke="{INK}" stroke-width="5" stroke-linecap="round"/>'
    )


def _dots(joints: tuple[Joint, ...]) -> str:
    # What all dots and all numbers share is said once, for a small file.
    spots = [_spot(joint) for joint in joints]
    places = _apart(spots)
    rings = "".join(f'<circle cx="{number(x)}" cy="{number(y)}" r="{DOT_RADIUS}"/>' for x, y in places)
    numbers = "".join(_text(str(place), x, y + 4.3) for place, (x, y) in enumerate(places, 1))
    return (
        f'{_pins(spots, places)}<g fill="{INK}" stroke="{PAPER}" stroke-width="1.2">{rings}</g>'
        f'<g fill="{PAPER}" font-size="{_NUMBER_SIZE}" font-weight="bold" text-anchor="middle">{numbers}</g>'
    )


def _sides(form: Form) -> str:
    left, right = ("right side", "left side") if form.faces_us else ("left side", "right side")
    said = _text(left, 12, _SIDES_Y) + _text(right, SHEET[0] - 12, _SIDES_Y, "end")
    return said + (_text(form.said, SHEET[0] / 2, _SAID_Y, "middle") if form.said else "")


def joint_map(piece: Piece) -> str:
    """The joint map of a piece as an SVG file; the same piece gives the same text.

    The number of a joint is its place in the piece's list. Raises ValueError, in one line that names the piece,
    for a piece without a known `drawing` and for a joint without a place.
    """
    form = FORMS.get(piece.drawing or "")
    if form is None:
        raise ValueError(f"piece {piece.id}: {piece.drawing} is not a body form; {nearest(piece.drawing or '', FORMS)}")
    try:
        dots = _dots(piece.joints)
    except ValueError as error:
        raise ValueError(f"piece {piece.id}: {error}") from None
    return page(
        f"The joints of a {piece.name.lower()}",
        f'{drawn(form, CORNER, SIZE)}{dots}<g fill="{INK}" font-size="14">{_sides(form)}</g>',
        SHEET,
    )
