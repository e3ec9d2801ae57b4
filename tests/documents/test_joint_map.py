"""The joint maps: every kind of piece draws, with one numbered dot for each joint, all on the sheet and apart, and a table that names them by number."""

import math
import re
import xml.etree.ElementTree as ET
from functools import cache
from itertools import combinations

import pytest
from pydantic import ValidationError

from diagnose import house, words
from diagnose.documents.fieldguide.picture import piece_picture
from diagnose.documents.plates import joint_map
from diagnose.documents.plates.joint_map import CORNER, DOT_RADIUS, SIZE
from diagnose.documents.plates.piece_forms import FIELD, FORMS, Form, drawn, laid
from diagnose.documents.plates.shapes import Point, number
from diagnose.documents.plates.solids import Solid, bar, block, faces, in_order, profile, seen
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.load import load_rules

SVG = "{http://www.w3.org/2000/svg}"
MOST_BYTES = 12_000
# How far from a drawn line the place of a joint may lie, in units of the sheet: less than half of what its dot covers.
ON_THE_LINE = 4.0


@cache
def pieces() -> dict[str, Piece]:
    """Read without a check of the whole rule base, so that a fault elsewhere does not hide the drawings."""
    loaded = load_rules(house.rules_folder())
    assert [str(fault) for fault in loaded.faults if fault.mark.file.endswith("pieces.yaml")] == []
    return dict(loaded.found["pieces"])


def dots(root: ET.Element) -> list[tuple[float, float, float]]:
    return [(float(c.get("cx") or 0), float(c.get("cy") or 0), float(c.get("r") or 0)) for c in root.iter(f"{SVG}circle")]


def size(root: ET.Element) -> tuple[float, float]:
    return float(root.get("width") or 0), float(root.get("height") or 0)


def small_piece(**said: object) -> Piece:
    part = {"count": 2, "section": [20, 60], "carries": "person"}
    joint = {"id": "one_to_two", "joins": ["one", "two"], "kind": "dowel", "at": [10, 90]}
    entry = {
        "id": "a_piece",
        "name": "A piece",
        "group": "chair",
        "parts": {"one": part, "two": part},
        "joints": [joint],
        "healthy_load": words.LOADS[0],
        "drawing": words.BODY_FORMS[0],
        "sources": ["common_practice"],
    }
    return Piece.model_validate(entry | said)


def test_every_kind_of_piece_has_a_body_form_and_every_form_a_drawing() -> None:
    assert len(pieces()) >= 25
    assert {piece_id for piece_id, piece in pieces().items() if piece.drawing is None} == set()
    assert tuple(sorted(FORMS)) == tuple(sorted(words.BODY_FORMS))
    assert {piece.drawing for piece in pieces().values()} == set(FORMS), "no form without a piece"


@pytest.mark.parametrize("piece_id", sorted(pieces()))
def test_a_map_is_well_formed_small_and_the_same_twice(piece_id: str) -> None:
    piece = pieces()[piece_id]
    text = joint_map(piece)
    assert text == joint_map(piece)
    assert len(text.encode()) <= MOST_BYTES
    root = ET.fromstring(text)
    assert root.tag == f"{SVG}svg"
    assert root.get("viewBox") == "0 0 {:g} {:g}".format(*size(root))
    assert len(root.findall(f".//{SVG}path")) >= 6, "a drawing, not only dots"
    assert (root.get("role"), root[0].text) == ("img", f"The joints of a {piece.name.lower()}")


@pytest.mark.parametrize("piece_id", sorted(pieces()))
def test_one_dot_for_each_joint_on_the_sheet_and_apart(piece_id: str) -> None:
    piece = pieces()[piece_id]
    root = ET.fromstring(joint_map(piece))
    found = dots(root)
    assert len(found) == len(piece.joints)
    wide, high = size(root)
    for x, y, radius in found:
        assert radius == DOT_RADIUS
        assert radius <= x <= wide - radius
        assert radius <= y <= high - radius
    for (one, a), (two, b) in combinations(enumerate(found, 1), 2):
        assert math.dist(a[:2], b[:2]) >= 2 * DOT_RADIUS, f"dots {one} and {two} lie on each other"


@pytest.mark.parametrize("piece_id", sorted(pieces()))
def test_every_dot_has_its_number_and_the_sides_are_named_below(piece_id: str) -> None:
    piece = pieces()[piece_id]
    root = ET.fromstring(joint_map(piece))
    texts = list(root.iter(f"{SVG}text"))
    numbers = [text for text in texts if re.fullmatch(r"\d+", text.text or "")]
    assert [text.text for text in numbers] == [str(place) for place in range(1, len(piece.joints) + 1)]
    for text, (x, y, radius) in zip(numbers, dots(root), strict=True):
        assert (float(text.get("x") or 0), text.get("y")) == (x, number(y + 4.3))
        assert radius > 9, "a number can be read on a phone"
    lowest_dot = max(y + radius for _, y, radius in dots(root))
    sides = [text for text in texts if text not in numbers]
    assert {"left side", "right side"} <= {text.text for text in sides}
    assert all(lowest_dot < float(text.get("y") or 0) < size(root)[1] for text in sides)


@pytest.mark.parametrize("name", words.BODY_FORMS)
def test_a_form_stays_on_its_field(name: str) -> None:
    lay = laid(FORMS[name], (0, 0), (FIELD, FIELD))
    places = [
        lay(place) for solid in FORMS[name].solids for place in (*solid.corners, *(p for m in solid.marks for p in m.places))
    ]
    assert all(-1e-9 <= value <= FIELD + 1e-9 for place in places for value in place)
    assert max(max(place) for place in places) == pytest.approx(FIELD), "as large as the field allows"
    assert drawn(FORMS[name], (0, 0), (100, 100)) != drawn(FORMS[name], (0, 0), (200, 200))


def test_every_kind_of_piece_has_a_drawing_of_its_own() -> None:
    by_form: dict[str, str] = {}
    for piece in pieces().values():
        text = drawn(FORMS[piece.drawing or ""], (0, 0), (100, 100))
        assert text not in by_form, f"{piece.id} is drawn like {by_form.get(text)}"
        by_form[text] = piece.id


# ---- every joint lies on what is drawn


def inside(point: Point, corners: list[Point]) -> bool:
    """By the number of edges that a line to the right crosses."""
    x, y = point
    crossed = 0
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        crossed += (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax
    return crossed % 2 == 1


def to_edge(point: Point, corners: list[Point]) -> float:
    far = []
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        long = math.dist(a, b) ** 2
        share = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / long if long else 0.0
        share = min(max(share, 0.0), 1.0)
        far.append(math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))))
    return min(far)


def shapes_of(form: Form) -> list[tuple[list[Point], bool]]:
    """Every shape on the sheet in the order in which it is drawn, and whether it covers what is behind it."""
    lay = laid(form, CORNER, SIZE)
    found = []
    for solid in (*in_order([s for s in form.solids if not s.hidden]), *(s for s in form.solids if s.hidden)):
        end, sides = faces(solid)
        found += [([lay(place) for place in face.places], not solid.hidden) for face in (end, *sides)]
        found += [([lay(place) for place in mark.places], False) for mark in solid.marks]
    return found


def off_the_line(spot: Point, shapes: list[tuple[list[Point], bool]]) -> float:
    """How far a spot is from the nearest line that no later shape covers there."""
    covers = [i for i, (corners, full) in enumerate(shapes) if full and inside(spot, corners) and to_edge(spot, corners) > 0.7]
    return min(to_edge(spot, corners) for corners, _ in shapes[max(covers, default=0) :])


@pytest.mark.parametrize("piece_id", sorted(pieces()))
def test_every_joint_lies_on_a_line_that_is_seen(piece_id: str) -> None:
    piece = pieces()[piece_id]
    shapes = shapes_of(FORMS[piece.drawing or ""])
    for joint in piece.joints:
        assert joint.at is not None
        spot = (CORNER[0] + joint.at[0] * SIZE[0] / FIELD, CORNER[1] + joint.at[1] * SIZE[1] / FIELD)
        assert off_the_line(spot, shapes) <= ON_THE_LINE, f"{joint.id} lies beside the drawing"


def test_a_joint_beside_the_drawing_or_behind_a_part_is_seen_to_be_so() -> None:
    shapes = shapes_of(Form((block(0, 20, 0, 2, 2, 20), block(-20, 0, 0, 60, 2, 60))))
    lay = laid(Form((block(0, 20, 0, 2, 2, 20), block(-20, 0, 0, 60, 2, 60))), CORNER, SIZE)
    assert off_the_line(lay((-20, 0, 30)), shapes) < 0.1
    assert off_the_line(lay((0, 20, 10)), shapes) > ON_THE_LINE, "it lies behind the board"
    assert off_the_line((CORNER[0] + SIZE[0], CORNER[1]), shapes) > ON_THE_LINE


@pytest.mark.parametrize("piece_id", sorted(pieces()))
def test_a_dot_lies_on_its_joint_or_has_a_pin_to_it(piece_id: str) -> None:
    piece = pieces()[piece_id]
    root = ET.fromstring(joint_map(piece))
    pins = sum(len(re.findall("h", path.get("d") or "")) for path in root.iter(f"{SVG}path") if path.get("stroke-linecap"))
    away = 0
    for joint, (x, y, _) in zip(piece.joints, dots(root), strict=True):
        assert joint.at is not None
        far = math.dist((x, y), (CORNER[0] + joint.at[0] * SIZE[0] / FIELD, CORNER[1] + joint.at[1] * SIZE[1] / FIELD))
        assert far <= 2 * DOT_RADIUS, f"the dot of {joint.id} is far from it"
        away += far > DOT_RADIUS
    assert pins >= away


# ---- solids


def test_a_block_shows_its_front_its_top_and_its_right_side() -> None:
    for solid in (
        block(0, 0, 0, 10, 20, 30),
        bar((0, 0, 0), (0, 40, 0), 4),
        bar((0, 0, 0), (30, 0, 0), 4),
        bar((0, 0, 0), (0, 0, 9), 4),
    ):
        end, sides = faces(solid)
        assert {end.tone, *(side.tone for side in sides)} == {"front", "top", "side"}
        assert len(sides) == 2
        assert all(set(side.places[:2]) <= set(end.places) for side in sides), "a side shares its first edge with the end"


def test_what_is_behind_is_drawn_first_whatever_the_order_given() -> None:
    near, far, over, right = block(0, 0, 0, 9, 2, 9), block(0, 9, 0, 9, 2, 9), block(0, 0, 9, 9, 9, 2), block(9, 0, 0, 2, 9, 9)
    for given in ([near, far, over, right], [right, over, far, near]):
        found = in_order(given)
        assert found.index(far) < found.index(near) < found.index(over)
        assert found.index(far) < found.index(right)
        assert sorted(map(id, found)) == sorted(map(id, given))


def test_a_sawn_shape_is_drawn_round_without_an_edge_at_every_point() -> None:
    points = [(float(i), 0.1 * (i - 5) ** 2) for i in range(11)]
    bent: Solid = profile([*points, *((y, z + 2) for y, z in reversed(points))], 0, 3)
    text = drawn(Form((bent,)), (0, 0), (100, 100))
    _, sides = faces(bent)
    assert len(sides) > 10
    assert text.count("M") < len(sides)
    assert seen((0, 10, 0))[0] > 0 > seen((0, 10, 0))[1]


def test_a_piece_that_sits_facing_us_has_its_left_at_our_right() -> None:
    """The rule base counts left and right as a sitter does, and as one who stands before a case or table."""
    for piece in pieces().values():
        assert piece.drawing is not None
        left = [joint.at[0] for joint in piece.joints if joint.at and joint.id.startswith("left_")]
        right = [joint.at[0] for joint in piece.joints if joint.at and joint.id.startswith("right_")]
        if left and right:
            at_our_right = sum(left) / len(left) > sum(right) / len(right)
            assert at_our_right is FORMS[piece.drawing].faces_us, piece.id
            assert joint_map(piece).index("right side") < joint_map(piece).index("left side") or not at_our_right


def test_a_piece_without_a_form_has_no_picture_and_a_wrong_one_is_said() -> None:
    piece = small_piece()
    picture = piece_picture(piece)
    assert picture is not None
    assert picture.svg == joint_map(piece)
    bare = small_piece(drawing=None)
    assert piece_picture(bare) is None
    with pytest.raises(ValueError, match="piece a_piece: None is not a body form"):
        joint_map(bare)
    unplaced = piece.model_copy(update={"joints": (piece.joints[0].model_copy(update={"at": None}),)})
    with pytest.raises(ValueError, match="piece a_piece: joint one_to_two has no place on the drawing"):
        joint_map(unplaced)


@pytest.mark.parametrize(
    ("said", "words_of_it"),
    [
        ({"drawing": "teapot"}, "teapot is not a body form; one of: bed_on_slats"),
        ({"joints": [{"id": "a_to_b", "joins": ["one", "two"], "kind": "dowel"}]}, "joint a_to_b has no place on the drawing"),
        ({"joints": [{"id": "a_to_b", "joins": ["one", "two"], "kind": "dowel", "at": [10, 101]}]}, "less than or equal to 100"),
    ],
)
def test_the_rule_base_refuses_a_wrong_drawing(said: dict[str, object], words_of_it: str) -> None:
    with pytest.raises(ValidationError, match=words_of_it):
        small_piece(**said)
