"""The schema of a case file: what the reader takes it takes, and the slips of writing a case it underlines."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from diagnose import house
from diagnose.case.read import ANSWER, DAMAGE, PIECE, TOP, case_from_text
from diagnose.case.schema import case_schema
from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from tests.rulebase.editor import deepest, underlined

Schema = dict[str, Any]
EXAMPLES = house.guide_folder() / "examples"
CASES = ("broken_back_leg.yaml", "rocking_table.yaml", "slack_chair.yaml")


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="module")
def schema(knowledge: Knowledge) -> Schema:
    return case_schema(knowledge)


def text(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


def test_it_is_a_schema_of_what_the_reader_knows(schema: Schema) -> None:
    Draft202012Validator.check_schema(schema)
    properties = schema["properties"]
    assert set(properties) == set(TOP)
    assert set(properties["piece"]["properties"]) == set(PIECE)
    assert set(properties["damages"]["items"]["properties"]) == set(DAMAGE)
    for readings in (properties["readings"], properties["damages"]["items"]["properties"]["readings"]):
        assert {tuple(answer["anyOf"][-1]["properties"]) for answer in readings["properties"].values()} == {ANSWER}


def test_every_asked_sign_stands_at_its_own_place(schema: Schema, knowledge: Knowledge) -> None:
    of_piece = schema["properties"]["readings"]["properties"]
    of_damage = schema["properties"]["damages"]["items"]["properties"]["readings"]["properties"]
    for sign in knowledge.signs.values():
        assert (sign.id in of_piece) == (sign.of == "piece" and sign.computed is None)
        assert (sign.id in of_damage) == (sign.of == "damage" and sign.computed is None)


@pytest.mark.parametrize("name", CASES)
def test_the_examples_are_let_through(schema: Schema, name: str) -> None:
    assert underlined(schema, text(name)) == []


# A line of slack_chair.yaml, what is written instead, and what an editor says at that place.
SLIPS: dict[str, tuple[str, str, str]] = {
    "unknown key": ("owner_says:", "owner_say:", ": Additional properties are not allowed ('owner_say'"),
    "unknown piece": ("kind: side_chair", "kind: sidechair", "piece.kind: 'sidechair' is not one of"),
    "joint of another piece": (
        "  front_rail_to_left_front_leg: open", "  top_to_left_rail: open", "joints: Additional properties are not allowed ('top_to_left_rail'",
    ),
    "unknown state": ("  all: tight", "  all: fast", "joints.all: 'fast' is not one of ['tight', 'moves'"),
    "part of another piece": ("part: side_rail", "part: drawer_front", "damages.0.part: 'drawer_front' is not one of"),
    "unknown damage": ("damage: loose", "damage: wobbly", "damages.0.damage: 'wobbly' is not one of ['loose'"),
    "unknown sign": ("mortise_wall: whole", "mortise_walls: whole", "damages.0.readings: Additional properties are not allowed ('mortise_walls'"),
    "sign of the damage at the piece": (
        "  wood_damp: six_to_ten", "  wood_damp: six_to_ten\n  mortise_wall: whole", "readings: Additional properties are not allowed ('mortise_wall'",
    ),
    "unknown reading": ("mortise_wall: whole", "mortise_wall: hole", "damages.0.readings.mortise_wall: 'hole' is not one of"),
    "unknown reading ticked": ("[two_glues, dirt]", "[two_glues, dirtt]", "damages.0.readings.glue_face_state.1: 'dirtt' is not one of"),
    "length without a unit": ("joint_gap: 0.1 mm", "joint_gap: 0.1", "damages.0.readings.joint_gap: 0.1 is not of type 'string'"),
    "who says so": ("reads: got_looser, by: owner", "reads: got_looser, by: aunt", "damages.0.readings.how_it_failed.by: 'aunt' is not one of"),
    "value with its currency": ("value: 480", "value: 480 EUR", "piece.value: '480 EUR' is not of type 'number'"),
    "day in words": ("taken_in: 2026-03-02", "taken_in: 2 March", "taken_in: '2 March' does not match"),
    "newer form": ("schema: 1", "schema: 2", "schema: 1 was expected"),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_underlined_and_refused_by_the_reader(schema: Schema, knowledge: Knowledge, name: str) -> None:
    old, new, said = SLIPS[name]
    sound = text("slack_chair.yaml")
    assert sound.count(old) == 1
    wrong = sound.replace(old, new)
    places = list(deepest(schema, wrong))
    assert [place for place in places if place.startswith(said)], places
    with pytest.raises(FaultsFound):
        case_from_text(wrong, "case.yaml", knowledge)


def test_names_that_people_use_are_let_through(schema: Schema, knowledge: Knowledge) -> None:
    for piece in knowledge.pieces.values():
        for name in (piece.id, piece.name, piece.name.lower(), *piece.also_called):
            assert underlined(schema, f"piece:\n  kind: {name}\n") == []
            assert case_from_text(f"piece:\n  kind: {name}\n", "case.yaml", knowledge).piece
    for piece in knowledge.pieces.values():
        for part, entry in piece.parts.items():
            for name in entry.also_called:
                case = f"piece:\n  kind: {piece.id}\ndamages:\n  - damage: split\n    part: {name}\n"
                assert underlined(schema, case) == []
                assert case_from_text(case, "case.yaml", knowledge).damages[0].part == part
