"""The joint maps: every kind of piece draws, with one dot and one line of legend for each joint, all on the sheet and apart."""

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
from diagnose.documents.plates.joint_map import DOT_RADIUS, LEGEND_SIZE
from diagnose.documents.plates.piece_forms import FORMS, drawn
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.load import load_rules

SVG = "{http://www.w3.org/2000/svg}"
# A joint map carries a legend of up to thirty lines, but stays as small as a plate.
MOST_BYTES = 12_000
EVERY_LETTER = 0.56


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
    assert (root.get("aria-labelledby") or "").split() == [root[0].get("id"), root[1].get("id")]


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
def test_the_legend_names_every_joint_below_the_drawing(piece_id: str) -> None:
    piece = pieces()[piece_id]
    root = ET.fromstring(joint_map(piece))
    texts = list(root.iter(f"{SVG}text"))
    said = {text.text or "": text for text in texts}
    wide, high = size(root)
    lowest_dot = max(y + radius for _, y, radius in dots(root))
    numbers = [text.text for text in texts if re.fullmatch(r"\d+", text.text or "")]
    assert numbers == [str(place) for place in range(1, len(piece.joints) + 1)]
    for place, joint in enumerate(piece.joints, 1):
        line = said[f"{place} = {joint.id.replace('_', ' ')}"]
        x, y = float(line.get("x") or 0), float(line.get("y") or 0)
        right = x + EVERY_LETTER * LEGEND_SIZE * len(line.text or "")
        assert lowest_dot < y <= high
        assert right <= (wide / 2 if x < wide / 2 else wide), f"{line.text} runs out of its column"
    places = [(text.get("x"), text.get("y")) for text in texts]
    assert len(set(places)) == len(places)


@pytest.mark.parametrize("name", words.BODY_FORMS)
def test_a_form_stays_on_its_field(name: str) -> None:
    for shape in FORMS[name].shapes:
        points = getattr(shape, "corners", None) or (shape.a, shape.b)  # type: ignore[union-attr]
        assert all(0 <= value <= 100 for point in points for value in point)
    assert drawn(FORMS[name], (0, 0), (100, 100)) != drawn(FORMS[name], (0, 0), (200, 100))


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
        ({"drawing": "teapot"}, "drawing teapot is not one of chair"),
        ({"joints": [{"id": "a_to_b", "joins": ["one", "two"], "kind": "dowel"}]}, "joint a_to_b has no place on the drawing"),
        ({"joints": [{"id": "a_to_b", "joins": ["one", "two"], "kind": "dowel", "at": [10, 101]}]}, "less than or equal to 100"),
    ],
)
def test_the_rule_base_refuses_a_wrong_drawing(said: dict[str, object], words_of_it: str) -> None:
    with pytest.raises(ValidationError, match=words_of_it):
        small_piece(**said)
