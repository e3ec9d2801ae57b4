"""Body forms of furniture for the joint maps: solids laid on a field of 100 by 100, x right, y down."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from diagnose.documents.plates import case_forms as cases
from diagnose.documents.plates import frame_forms as frames
from diagnose.documents.plates.canvas import INK
from diagnose.documents.plates.frame_forms import Frame
from diagnose.documents.plates.shapes import Point, Points, bounds, poly
from diagnose.documents.plates.solids import Place, Solid, faces, in_order, seen

FIELD = 100.0
_TONES = {"front": "#e8d5b2", "top": "#f3e7cd", "side": "#d2ba90"}
_DARK = "#a98f68"
_MAYBE_DASH, _HIDDEN_DASH = "5 3", "1.5 2.5"
# A face smaller than this (units of the sheet, squared) has the tone of its solid, so that the file stays small.
_LARGE = 420.0
# An edge between two sides is drawn where they meet at more than this (radians), so that what is sawn round looks round.
_SHARP = 0.6


@dataclass(frozen=True)
class Form:
    """What is drawn, whether it faces us as a sitter does, so that its left lies at our right, and what to know of the drawing."""

    solids: tuple[Solid, ...]
    faces_us: bool = False
    note: str = ""

    @property
    def said(self) -> str:
        """The note, and what the broken and the dotted lines mean where there are some."""
        lines = [
            "broken lines: not on every one" if any(solid.maybe for solid in self.solids) else "",
            "dotted: hidden behind" if any(solid.hidden for solid in self.solids) else "",
        ]
        return "; ".join(words for words in (self.note, *lines) if words)


# The closed list of forms, by their names in words.BODY_FORMS.
_TABLE, _BENCH = Frame(110, 50, 6), Frame(112, 34, 5.5)
FORMS: Mapping[str, Form] = {
    "chair": Form(frames.chair(), faces_us=True),
    "chair_with_arms": Form(frames.chair(arms=70), faces_us=True),
    "slat_back_chair": Form(frames.slat_back_chair(), faces_us=True),
    "spindle_chair": Form(frames.spindle_chair(), faces_us=True),
    "chair_on_rockers": Form(frames.rocking_chair(), faces_us=True),
    "crossed_chair": Form(frames.folding_chair(), faces_us=True),
    "padded_chair": Form(frames.padded_seat(Frame(66, 58, 5.5)), faces_us=True, note="the bare frame with its webbing"),
    "slatted_chair": Form(frames.slatted_seat(Frame(60, 54, 5), 5), faces_us=True),
    "low_seat_on_legs": Form(frames.stool(42, 62, (15,)), faces_us=True, note="the seat is lifted off"),
    "high_seat_on_legs": Form(frames.stool(68, 86, (17, 45)), faces_us=True, note="the seat is lifted off"),
    "seat_on_frame": Form(frames.table(_BENCH, 40, 8, 17, 12, cross=True, over=5), faces_us=True, note="the seat is lifted off"),
    "settee": Form(frames.padded_seat(Frame(132, 58, 5.5), middle=True), faces_us=True, note="the bare frame with its webbing"),
    "slatted_settee": Form(frames.slatted_seat(Frame(128, 54, 5), 11, middle=True), faces_us=True),
    "top_on_legs": Form(frames.table(_TABLE, 66, 10, 24), note="the top is lifted off"),
    "low_top_on_legs": Form(frames.table(_TABLE, 38, 9, 24, 11), note="the top is lifted off"),
    "top_on_gates": Form(frames.gate_table(), note="the top is lifted off"),
    "top_on_slides": Form(frames.slide_table(), note="the top is lifted off and drawn apart"),
    "top_on_pillar": Form(frames.pillar_table(), note="the top is lifted off"),
    "slatted_top_on_legs": Form(frames.slatted_table(), note="the top is lifted off"),
    "case_of_drawers": Form(cases.case_of_drawers(), note="one drawer is taken out, one drawn out"),
    "case_with_doors": Form(cases.case_with_doors(), note="one door is open"),
    "tall_case_with_doors": Form(cases.tall_case_with_doors(), note="a door is open, the drawer drawn out"),
    "case_on_legs": Form(cases.case_on_legs(), note="a door is open, a drawer drawn out"),
    "case_of_boards": Form(cases.case_of_boards(), note="a door is open, a drawer drawn out"),
    "case_of_shelves": Form(cases.case_of_shelves()),
    "case_with_kneehole": Form(cases.case_with_kneehole(), note="a drawer is drawn out"),
    "case_with_lid": Form(cases.case_with_lid(), note="the lid is open"),
    "bedstead": Form(cases.bed()),
    "bed_with_bars": Form(cases.cot(), note="the bars of the far side are dashed"),
    "bed_over_bed": Form(cases.bunk(), note="the rails of the upper bed are dashed"),
    "bed_on_slats": Form(cases.slatted_bed(), note="half the slats are taken out"),
    "frame": Form(cases.mirror(), note="its back panel is drawn off"),
}


@dataclass(frozen=True)
class Laid:
    """Where the places of a form fall on a rectangle of the sheet, as large as they can be."""

    scale: float
    left: float
    top: float

    def __call__(self, place: Place) -> Point:
        x, y = seen(place)
        return self.left + x * self.scale, self.top + y * self.scale


def laid(form: Form, corner: Point, size: Point) -> Laid:
    """The form laid on the rectangle of that corner and size, in the middle of it."""
    left, top, right, bottom = bounds([seen(place) for solid in form.solids for place in solid.corners])
    scale = min(size[0] / (right - left), size[1] / (bottom - top))
    spare = size[0] - scale * (right - left), size[1] - scale * (bottom - top)
    return Laid(scale, corner[0] + spare[0] / 2 - left * scale, corner[1] + spare[1] / 2 - top * scale)


def _area(points: Points) -> float:
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(points, [*points[1:], points[0]], strict=True))) / 2


def _bends(a: Point, b: Point, c: Point) -> bool:
    """Whether a line bends so much at its middle point that an edge is seen there."""
    turned = math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
    return abs(math.remainder(turned, 2 * math.pi)) > _SHARP


def _sides(quads: list[list[Point]]) -> str:
    """Sides of one sweep as an open line round them, since the end has the edge they share; where it bends an edge is drawn."""
    text, place = "", 0
    while place < len(quads):
        run = [quads[place]]
        while place + len(run) < len(quads) and quads[place + len(run)][0] == run[-1][1]:
            run.append(quads[place + len(run)])
        place += len(run)
        text += poly([run[0][0], run[0][3], *(quad[2] for quad in run), run[-1][1]], closed=False)
        bends = [one for one, two in pairwise(run) if _bends(one[0], one[1], two[1])]
        text += "".join(poly([quad[1], quad[2]], closed=False) for quad in bends)
    return text


def _solid(solid: Solid, lay: Laid) -> str:
    end, sides = faces(solid)
    cap = [lay(place) for place in end.places]
    quads = [(side.tone, [lay(place) for place in side.places]) for side in sides]
    if solid.hidden:
        return f'<path d="{poly(cap)}{_sides([quad for _, quad in quads])}" fill="none" stroke-dasharray="{_HIDDEN_DASH}"/>'
    dash = f' stroke-dasharray="{_MAYBE_DASH}"' if solid.maybe else ""
    large = [(tone, points) for tone, points in quads if tone != "front" and _area(points) > _LARGE]
    small = _sides([points for tone, points in quads if (tone, points) not in large])
    if end.tone != "front" and _area(cap) > _LARGE:
        large.append((end.tone, cap))
    else:
        small = poly(cap) + small
    text = f'<path d="{small}"{dash}/>' if small else ""
    text += "".join(f'<path d="{poly(points)}" fill="{_TONES[tone]}"{dash}/>' for tone, points in large)
    for mark in solid.marks:
        line = poly([lay(place) for place in mark.places], closed=mark.closed)
        text += f'<path d="{line}" fill="{_DARK if mark.dark else "none"}"/>'
    return text


def drawn(form: Form, corner: Point, size: Point) -> str:
    """The form on the rectangle of that corner and size (units of the sheet)."""
    lay = laid(form, corner, size)
    here = [solid for solid in form.solids if not solid.hidden]
    ordered = [*in_order(here), *(solid for solid in form.solids if solid.hidden)]
    parts = "".join(_solid(solid, lay) for solid in ordered)
    return f'<g fill="{_TONES["front"]}" stroke="{INK}" stroke-width="1.2">{parts}</g>'
