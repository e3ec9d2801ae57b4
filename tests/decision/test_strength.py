"""Strength in the case: what is measured or read changes the share of as-made strength by what the formula says, and in the end the verdict.

The formulas and their sources are tested in tests/mechanics; here the way from a case to them.
"""

from dataclasses import replace
from datetime import date

import pytest

from diagnose import words
from diagnose.assess import assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.joint_strength import glued_again
from diagnose.decision.sensitivity import sensitivity
from diagnose.decision.strength import chance_of_failing, strength_of
from diagnose.mechanics.fit import gap_factor
from diagnose.mechanics.grain import slope_share
from diagnose.reasoning.facts import facts_of
from diagnose.rulebase.entries import Method
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def reading_with(knowledge: Knowledge, quantity: str, number: float) -> tuple[str, str]:
    """A sign and the reading of it that stands for a number in the sums."""
    for sign in knowledge.signs.values():
        for name, reading in sign.readings.items():
            if reading.means.get(quantity) == number:  # type: ignore[call-overload]
                return sign.id, name
    raise AssertionError((quantity, number))


def by_model(knowledge: Knowledge, model: str) -> Method:
    return next(method for method in knowledge.methods.values() if method.strength == model)


def chair(kind: str, joint: str, joint_kind: str, **more: object) -> Case:
    damage = Damage("a", kind, part="side_rail", joint=joint, facts={"joint": joint_kind, "carries": "person"})
    return Case("side_chair", damages=(replace(damage, **more),))  # type: ignore[arg-type]


def share(knowledge: Knowledge, case: Case, model: str) -> float:
    damage = case.damages[0]
    facts = facts_of(knowledge, case, damage)
    value = strength_of(knowledge, case, damage, facts, [by_model(knowledge, model)]).after[by_model(knowledge, model).id]
    assert value is not None
    return value


RAIL = "left_side_rail_to_back_leg"


def test_a_joint_as_it_was_made_is_as_strong_as_it_was_made(knowledge: Knowledge) -> None:
    assert share(knowledge, chair("loose", RAIL, "mortise_and_tenon"), "reglued_joint") == pytest.approx(1.0)


def test_half_the_tenon_is_half_the_joint_and_is_ruled_out(knowledge: Knowledge) -> None:
    joint = knowledge.pieces["side_chair"].joint(RAIL)
    assert joint is not None
    short = {"tenon_length": joint.size["tenon_length"] / 2}
    case = chair("loose", RAIL, "mortise_and_tenon", sizes=short)
    assert share(knowledge, case, "reglued_joint") == pytest.approx(0.5)
    whole = assess(chair("loose", RAIL, "mortise_and_tenon"), knowledge, Shop(), date(2026, 3, 2))
    halved = assess(case, knowledge, Shop(), date(2026, 3, 2))
    glued = [m.id for m in knowledge.methods.values() if m.strength == "reglued_joint"]
    for got, ruled_out in ((whole, False), (halved, True)):
        weak = {o.method for o in got.damages[0].decision.options if o.verdict == "ruled_out" and "strength" in o.because}
        named = {o.method for o in got.damages[0].decision.options} & set(glued)
        assert named
        assert bool(weak & named) is ruled_out


def test_a_gap_takes_what_the_published_test_says(knowledge: Knowledge) -> None:
    sign = next(s for s in knowledge.signs.values() if s.measure is not None and s.measure.unit == "mm")
    readings = {sign.id: Answer((sign.reading_of(0.25),), measured="0.25 mm")}
    got = share(knowledge, chair("loose", RAIL, "mortise_and_tenon", readings=readings), "reglued_joint")
    assert got == pytest.approx(gap_factor(0.25).value) == pytest.approx(0.79)


@pytest.mark.parametrize("left", [0.7, 0.5, 0.3])
def test_the_sound_share_of_the_face_counts_in_step(knowledge: Knowledge, left: float) -> None:
    sign, reading = reading_with(knowledge, "joint_face_left", left)
    case = chair("loose", RAIL, "mortise_and_tenon", readings={sign: Answer((reading,))})
    assert share(knowledge, case, "reglued_joint") == pytest.approx(left)


def test_a_new_part_gains_what_its_straighter_grain_gives(knowledge: Knowledge) -> None:
    sign, reading = reading_with(knowledge, "slope", 0.25)
    case = chair("broken", RAIL, "none", readings={sign: Answer((reading,))})
    expected = slope_share(1 / 25).value / slope_share(0.25).value
    assert share(knowledge, case, "new_part") == pytest.approx(expected)
    assert share(knowledge, case, "spliced_part") == pytest.approx(0.9 * expected)


def test_what_was_not_read_is_assumed_and_said(knowledge: Knowledge) -> None:
    case = chair("broken", RAIL, "none")
    damage = case.damages[0]
    got = strength_of(knowledge, case, damage, facts_of(knowledge, case, damage), [by_model(knowledge, "reglued_break")])
    assert any("four times the thickness assumed" in text for text in got.assumed.values())
    assert got.warnings


def test_the_chance_of_failing_rises_as_the_share_falls() -> None:
    chances = [chance_of_failing(ratio, 0.02) for ratio in (1.5, 1.0, 0.9, 0.6, 0.3, 0.0)]
    assert chances == sorted(chances)
    assert chances[1] == pytest.approx(0.02)
    assert chances[-1] == 1.0


def test_every_joint_of_every_piece_can_be_reckoned(knowledge: Knowledge) -> None:
    """As the maps give it: nothing lies outside the range of a formula, and glued again as it was made it is as strong as made."""
    reckoned = 0
    for piece in knowledge.pieces.values():
        for joint in piece.joints:
            for kind in joint.kind:
                assert glued_again(piece, joint.id, kind, {}, 0.0, 1.0).value == pytest.approx(1.0), (piece.id, joint.id, kind)
                reckoned += 1
    assert reckoned > 1000


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("size", words.JOINT_SIZES)
def test_every_size_that_a_case_may_state_can_be_reckoned(knowledge: Knowledge, size: str, end: int) -> None:
    """The limits of the case file lie within those of the formulas, whatever the piece, and halved or doubled as well."""
    measured = words.JOINT_SIZES[size][end]
    for piece in knowledge.pieces.values():
        for joint in piece.joints:
            for kind in joint.kind:
                assert glued_again(piece, joint.id, kind, {size: measured}, 0.0, 1.0).value >= 0.0
    for kind in ("mortise_and_tenon", "dowel"):
        got = assess(chair("loose", RAIL, kind, sizes={size: measured}), knowledge, Shop(), date(2026, 3, 2))
        assert sensitivity(got.damages[0].situation, got.damages[0].decision).influences
