"""Body forms of furniture for the joint maps: a few bars and boards on a field of 100 by 100, x right, y down, what is behind first."""

from collections.abc import Mapping
from dataclasses import dataclass

from diagnose.documents.plates.canvas import INK
from diagnose.documents.plates.shapes import Point, band, poly

FIELD = 100.0
_WOOD, _MAYBE_DASH = "#e8d5b2", "5 4"


@dataclass(frozen=True)
class Bar:
    """A strip from `a` to `b`, `wide` units of the sheet; `maybe` where not every piece of this form has it."""

    a: Point
    b: Point
    wide: float = 9.0
    maybe: bool = False


@dataclass(frozen=True)
class Board:
    """A flat face by its corners."""

    corners: tuple[Point, ...]


Shapes = tuple[Bar | Board, ...]


@dataclass(frozen=True)
class Form:
    """What is drawn, and whether the piece faces us as a sitter does, so that its left side lies at our right."""

    shapes: Shapes
    faces_us: bool = False

    @property
    def has_maybe(self) -> bool:
        """Whether some bar of it is drawn in broken lines."""
        return any(isinstance(shape, Bar) and shape.maybe for shape in self.shapes)


def _box(x: float, y: float, width: float, height: float) -> Board:
    return Board(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))


def _pair(a: Point, b: Point, apart: float, wide: float = 9.0, maybe: bool = False) -> tuple[Bar, Bar]:
    """The same bar twice, the second `apart` to the right."""
    return Bar(a, b, wide, maybe), Bar((a[0] + apart, a[1]), (b[0] + apart, b[1]), wide, maybe)


_STRETCHERS: Shapes = (*_pair((42, 64), (24, 82), 38, 7), Bar((33, 73), (71, 73), 7))
_CHAIR: Shapes = (
    *_pair((42, 4), (42, 78), 38, 10),
    Bar((42, 8), (80, 8), 13),
    Bar((61, 8), (61, 38), 26),
    Bar((42, 38), (80, 38), 11),
    *_STRETCHERS,
    *_pair((42, 38), (24, 56), 38, 11),
    *_pair((24, 54), (24, 96), 38, 11),
    Bar((24, 56), (62, 56), 11),
)
_ARMS: Shapes = (*_pair((24, 34), (24, 54), 38, 8), *_pair((42, 20), (23, 35), 38, 10))
_SLAT_BACK: Shapes = (
    *_pair((42, 4), (42, 80), 38, 10),
    *(Bar((42, y), (80, y), wide) for y, wide in ((8, 13), (18, 11), (28, 11), (38, 9), (60, 6))),
    *(bar for y in (56, 71, 85) for bar in _pair((42, y - 18), (24, y), 38, 7)),
    *_pair((24, 52), (24, 96), 38, 11),
    *(Bar((24, y), (62, y), 7) for y in (56, 71, 85)),
)
_SPINDLES: Shapes = tuple(Bar((x, 8), (x, 40), 4) for x in (50, 56, 62, 68, 74))
_SPINDLE_CHAIR: Shapes = (
    *_pair((43, 6), (45, 40), 36, 8),
    *_SPINDLES,
    Bar((41, 8), (82, 8), 13),
    *_pair((44, 40), (40, 78), 38, 9),
    *_pair((41, 66), (24, 82), 38, 7),
    Bar((33, 74), (71, 74), 7),
    *_pair((27, 56), (23, 96), 38, 9),
    Board(((22, 57), (64, 57), (83, 38), (41, 38))),
    Bar((22, 58.5), (64, 58.5), 8),
)
_CROSSED_CHAIR: Shapes = (
    *_pair((42, 78), (23, 52), 38, 9),
    *_pair((22, 96), (46, 4), 38, 10),
    Bar((45, 8), (83, 8), 13),
    *_pair((44, 40), (22, 54), 38, 9),
    *(Bar((22 + i * 5.5, 54 - i * 3.5), (60 + i * 5.5, 54 - i * 3.5), 5) for i in range(5)),
    Bar((40, 74), (78, 74), 7),
    Bar((24, 88), (62, 88), 7),
)
_SEAT_ON_LEGS: Shapes = (
    *_pair((42, 12), (42, 78), 40, 10),
    Bar((42, 36), (82, 36), 7, maybe=True),
    Bar((42, 60), (82, 60), 7),
    *_pair((42, 36), (24, 54), 40, 7, maybe=True),
    *_pair((42, 60), (24, 78), 40, 7),
    *_pair((24, 28), (24, 96), 40, 11),
    Bar((24, 54), (64, 54), 7, maybe=True),
    Bar((24, 78), (64, 78), 7),
    Board(((19, 27), (68, 27), (87, 9), (38, 9))),
    Bar((19, 28.5), (68, 28.5), 9),
)
# The top is lifted off, so that the frame under it is seen.
_LIFTED_TOP: Shapes = (Board(((6, 22), (74, 22), (94, 5), (26, 5))), Bar((6, 23.2), (74, 23.2), 7))
_TOP_ON_LEGS: Shapes = (
    *_pair((30, 32), (30, 80), 58, 10),
    Bar((30, 37), (88, 37), 12),
    *_pair((30, 70), (12, 86), 58, 6, maybe=True),
    Bar((21, 78), (79, 78), 6, maybe=True),
    *_pair((30, 37), (12, 53), 58, 12),
    *_pair((12, 48), (12, 96), 58, 11),
    Bar((12, 53), (70, 53), 12),
    *_LIFTED_TOP,
)
_GATES: Shapes = (
    *(Bar((20, y), (4, y + 12), 7) for y in (46, 74)),
    *(Bar((80, y), (96, y - 4), 7) for y in (46, 74)),
    Bar((4, 52), (4, 94), 9),
    Bar((96, 36), (96, 82), 9),
)
_TOP_ON_PILLAR: Shapes = (
    Bar((50, 70), (72, 75), 11),
    Bar((50, 36), (50, 80), 20),
    Bar((49, 76), (24, 94), 11),
    Bar((51, 76), (76, 94), 11),
    Bar((38, 36), (62, 36), 12),
    *_LIFTED_TOP,
)
_CASE: Shapes = (
    Board(((10, 18), (74, 18), (90, 5), (26, 5))),
    Board(((74, 18), (90, 5), (90, 77), (74, 90))),
    *_pair((13, 90), (13, 97), 58, 14),
    Bar((88, 78), (88, 85), 12),
    _box(10, 18, 64, 72),
    _box(14, 23, 27, 17),
    _box(43, 23, 27, 17),
    _box(14, 44, 27, 42),
    _box(43, 44, 27, 42),
    _box(18.5, 51, 18, 28),
    _box(47.5, 51, 18, 28),
)
_BEDSTEAD: Shapes = (
    Board(((32, 16), (90, 16), (90, 52), (32, 52))),
    *_pair((32, 8), (32, 70), 58, 11),
    *(Bar((9 + i * 4.4, 76 - i * 5.6), (67 + i * 4.4, 76 - i * 5.6), 5) for i in range(1, 5)),
    Bar((61, 50), (38, 78), 7, maybe=True),
    *_pair((32, 50), (9, 78), 58, 13),
    Board(((9, 64), (67, 64), (67, 86), (9, 86))),
    *_pair((9, 56), (9, 97), 58, 12),
)
_SETTEE: Shapes = (
    *_pair((28, 6), (28, 82), 62, 10),
    Bar((28, 9), (90, 9), 13),
    Bar((28, 44), (90, 44), 11),
    Bar((28, 34), (90, 34), 6, maybe=True),
    *_pair((28, 34), (8, 52), 62, 6, maybe=True),
    *_pair((28, 44), (8, 64), 62, 11),
    *_pair((28, 64), (8, 84), 62, 6, maybe=True),
    Bar((59, 44), (39, 64), 9, maybe=True),
    *_pair((8, 62), (8, 96), 62, 11),
    Bar((39, 64), (39, 96), 9, maybe=True),
    Bar((8, 64), (70, 64), 11),
    *_pair((8, 40), (8, 64), 62, 9),
    *_pair((28, 22), (7, 41), 62, 11),
)
_FRAME: Shapes = (
    _box(14, 6, 72, 88),
    _box(24, 20, 52, 60),
    *(Bar(a, b, 1) for a, b in (((14, 6), (24, 20)), ((86, 6), (76, 20)), ((14, 94), (24, 80)), ((86, 94), (76, 80)))),
)

# The closed list of forms, by their names in words.BODY_FORMS.
FORMS: Mapping[str, Form] = {
    "chair": Form(_CHAIR, faces_us=True),
    "chair_with_arms": Form((*_CHAIR, *_ARMS), faces_us=True),
    "slat_back_chair": Form(_SLAT_BACK, faces_us=True),
    "spindle_chair": Form(_SPINDLE_CHAIR, faces_us=True),
    "crossed_chair": Form(_CROSSED_CHAIR, faces_us=True),
    "seat_on_legs": Form(_SEAT_ON_LEGS, faces_us=True),
    "seat_on_frame": Form(_TOP_ON_LEGS, faces_us=True),
    "settee": Form(_SETTEE, faces_us=True),
    "top_on_legs": Form(_TOP_ON_LEGS),
    "top_on_gates": Form((*_TOP_ON_LEGS, *_GATES)),
    "top_on_pillar": Form(_TOP_ON_PILLAR),
    "case": Form(_CASE),
    "bedstead": Form(_BEDSTEAD),
    "frame": Form(_FRAME),
}


def drawn(form: Form, corner: Point, size: Point) -> str:
    """The form on a sheet: its field of 100 by 100 laid on the rectangle of that corner and size (units of the sheet)."""

    def laid(point: Point) -> Point:
        return corner[0] + point[0] * size[0] / FIELD, corner[1] + point[1] * size[1] / FIELD

    parts = []
    for shape in form.shapes:
        corners = (
            [laid(p) for p in shape.corners] if isinstance(shape, Board) else band([laid(shape.a), laid(shape.b)], shape.wide)
        )
        maybe = isinstance(shape, Bar) and shape.maybe
        parts.append(f'<path d="{poly(corners)}"' + (f' fill="none" stroke-dasharray="{_MAYBE_DASH}"/>' if maybe else "/>"))
    return f'<g fill="{_WOOD}" stroke="{INK}" stroke-width="1.2">{"".join(parts)}</g>'
