"""What a text names: pieces by any of their names, woods by a word that they share, and what is offered where nothing fits."""

import pytest

from diagnose.case.naming import find_part, find_piece, piece_hint, pieces_like, wood_hint, wood_named, woods_like
from diagnose.case.read import case_from_text
from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()


def test_names_of_pieces_mean_one_piece_each() -> None:
    for piece in KNOWLEDGE.pieces.values():
        for name in (piece.id, piece.name, *piece.also_called):
            assert find_piece(KNOWLEDGE, name) is piece
            assert find_piece(KNOWLEDGE, f"  {name.upper()} ") is piece
    assert find_piece(KNOWLEDGE, "wardrobe of the neighbours") is None


def test_names_of_parts_mean_one_part_each_on_their_piece() -> None:
    for piece in KNOWLEDGE.pieces.values():
        for part, entry in piece.parts.items():
            for name in (part, part.replace("_", " "), *entry.also_called):
                assert find_part(piece, f" {name.upper()} ") == part, (piece.id, name)
    assert find_part(KNOWLEDGE.pieces["table"], "steering wheel") is None


@pytest.mark.parametrize(
    ("kind", "name", "part"),
    [
        ("bar_stool", "Foot rest", "rung"),
        ("table", "rail", "apron"),
        ("side_chair", "cross bar", "stretcher"),
        ("side_chair", "back slat", "splat"),
        ("drop_leaf_table", "flap", "leaf"),
        ("cot", "bar", "slat"),
        ("bunk_bed", "guard rail", "bed_rail"),
    ],
)
def test_a_case_may_call_a_part_by_any_of_its_names(kind: str, name: str, part: str) -> None:
    text = f"piece: {{kind: {kind}}}\ndamages: [{{damage: broken, part: {name}}}]\n"
    assert case_from_text(text, "case.yaml", KNOWLEDGE).damages[0].part == part


def test_an_unknown_part_is_met_with_the_nearest_name() -> None:
    text = "piece: {kind: bar_stool}\ndamages: [{damage: broken, part: foot rset}]\n"
    with pytest.raises(FaultsFound) as found:
        case_from_text(text, "case.yaml", KNOWLEDGE)
    assert found.value.faults[0].hint == "did you mean foot rest?"


@pytest.mark.parametrize("name", ["side_chair", "side chair", "Side Chair", "dining chair", "Dining_Chair", "Stuhl"])
def test_a_piece_may_be_called_by_any_of_its_names(name: str) -> None:
    assert case_from_text(f"piece: {{kind: {name}}}\n", "case.yaml", KNOWLEDGE).piece == "side_chair"


def test_a_wider_word_means_the_pieces_of_its_group() -> None:
    chairs = [piece.id for piece in KNOWLEDGE.pieces.values() if piece.group == "chair"]
    assert [piece.id for piece in pieces_like(KNOWLEDGE, "Chair")] == chairs
    assert piece_hint(KNOWLEDGE, "chair") == f"one of: {', '.join(chairs)}"
    named = {piece.id for piece in pieces_like(KNOWLEDGE, "garden")}
    assert named >= {"garden_chair", "garden_bench", "garden_table"}
    assert pieces_like(KNOWLEDGE, "") == pieces_like(KNOWLEDGE, "throne") == ()
    assert piece_hint(KNOWLEDGE, "side_chiar") == "did you mean side_chair?"


def test_a_word_that_several_woods_share_names_them_all() -> None:
    oaks = [wood.id for wood in woods_like(KNOWLEDGE, "oak")]
    assert len(oaks) > 1
    assert all("oak" in wood for wood in oaks)
    assert wood_named(KNOWLEDGE, "oak") is None
    assert wood_hint(KNOWLEDGE, "oak") == f"one of: {', '.join(oaks)}"
    teak = wood_named(KNOWLEDGE, "Teak")
    white = wood_named(KNOWLEDGE, "white oak")
    assert teak is not None
    assert white is not None
    assert (teak.id, white.id) == ("teak", "white_oak")


def test_a_word_that_one_wood_alone_has_names_it() -> None:
    sitka = wood_named(KNOWLEDGE, "sitka")
    assert sitka is not None
    assert sitka.id == "sitka_spruce"


def test_a_misspelt_wood_is_met_with_the_nearest() -> None:
    assert wood_hint(KNOWLEDGE, "wallnut") == "did you mean black_walnut?"
    assert wood_hint(KNOWLEDGE, "zzz").startswith("one of: ")
    assert woods_like(KNOWLEDGE, "") == woods_like(KNOWLEDGE, "-") == ()
