"""A healthy example of every kind of piece is fit for use with no work advised: a tool that fails sound chairs is switched off."""

from dataclasses import replace
from datetime import date

import pytest

from diagnose.assess import assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.next_signs import AT_THE_DOOR
from diagnose.documents.diagnosis import diagnosis
from diagnose.documents.letters import estimate
from diagnose.documents.plan import plan
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.rows import background
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
KNOWLEDGE = load_knowledge()
# Nobody in a workshop can say of these that they are fit: the law of the day and a test house do.
REFUSED = ("cot", "bunk_bed")
KINDS = [kind for kind in KNOWLEDGE.pieces if kind not in REFUSED]


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return KNOWLEDGE


def healthy(knowledge: Knowledge, kind: str) -> Case:
    """A piece whose every joint is tight, with what is usual at the door."""
    piece = knowledge.pieces[kind]
    door = {}
    for sign in knowledge.signs.values():
        if sign.station == AT_THE_DOOR and sign.of == "piece":
            usual = background(knowledge.scale, sign)
            ticked = sign.kind == "tick_all"
            door[sign.id] = Answer(() if ticked else (max(usual, key=lambda reading: usual[reading]),))
    return Case(piece=kind, joints={joint.id: "tight" for joint in piece.joints}, readings=door)


@pytest.mark.parametrize("kind", KINDS)
def test_a_healthy_piece_is_fit_for_use_and_needs_no_work(knowledge: Knowledge, kind: str) -> None:
    for case in (healthy(knowledge, kind), replace(healthy(knowledge, kind), readings={})):
        got = assess(case, knowledge, Shop(), TODAY)
        assert got.triage == "take_in"
        assert got.piece_decision == "no_structural_work"
        assert got.plan == ()
        assert got.price is None
        assert got.moving == "none"
        assert "fit for its use as before" in diagnosis(got)
        assert "fit for its use as before" in plan(got)
        assert "nothing that needs work" in estimate(got)


@pytest.mark.parametrize("kind", REFUSED)
def test_a_childs_bed_is_declined_however_sound_it_looks_and_nobody_calls_it_fit(knowledge: Knowledge, kind: str) -> None:
    for case in (healthy(knowledge, kind), replace(healthy(knowledge, kind), readings={})):
        got = assess(case, knowledge, Shop(), TODAY)
        assert got.triage == "decline"
        assert got.plan == ()
        assert got.price is None
        for text in (diagnosis(got), plan(got), estimate(got)):
            assert "fit for its use as before" not in text
            assert "nothing that needs work" not in text


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("stands", ["stands_firm", "firm_here_rocks_at_home"])
def test_a_piece_that_stands_firm_here_gets_no_structural_work(knowledge: Knowledge, kind: str, stands: str) -> None:
    """It is said to rock, but its joints are tight, its frame is rigid and on our flat table it stands."""
    case = healthy(knowledge, kind)
    case = replace(
        case,
        damages=(Damage("a", "rocks"),),
        readings={**case.readings, "rock_on_flat": Answer((stands,)), "rack_test": Answer(("rigid",))},
    )
    got = assess(case, knowledge, Shop(), TODAY)
    assert got.triage == "take_in"
    assert got.damages[0].decision.decision == "no_structural_work"
    assert got.piece_decision == "no_structural_work"
    assert {planned.step.phase for planned in got.plan}.isdisjoint({"take_apart", "glue", "make_part", "mend_parts"})
