"""Which methods come to the table at all: nobody is called in, and nothing is opened, for what nobody has seen."""

from datetime import date

import pytest

from diagnose.assess import assess
from diagnose.case.told import case_of
from diagnose.rulebase.entries import Story
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
LOOSE = {"piece": "side_chair", "damage": "loose", "part": "stretcher", "joint": "round_tenon"}


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def on_the_table(knowledge: Knowledge, given: dict[str, str]) -> set[str]:
    story = Story(name="a case", given=given)
    assessed = assess(case_of(story, knowledge), knowledge, Shop(), TODAY)
    return {option.method for damage in assessed.damages for option in damage.decision.options}


@pytest.mark.parametrize(
    ("method", "seen"),
    [
        ("to_licensed_or_maker", {"kind_with_rules": "aid_for_ill_person"}),
        ("to_licensed_or_maker", {"water_story": "foul_water"}),
        ("send_for_treatment", {"insect_holes": "powder_falls"}),
        ("let_in_patch", {"mortise_wall": "blown_out"}),
    ],
)
def test_a_branch_that_must_be_known_opens_only_once_it_is(knowledge: Knowledge, method: str, seen: dict[str, str]) -> None:
    assert method not in on_the_table(knowledge, LOOSE)
    assert method in on_the_table(knowledge, LOOSE | seen)


def test_a_branch_that_need_not_be_known_stays_open(knowledge: Knowledge) -> None:
    assert "send_for_treatment" in on_the_table(knowledge, {"piece": "side_chair", "damage": "insect", "part": "front_leg"})


def test_where_no_cause_is_open_somebody_else_may_still_have_an_answer(knowledge: Knowledge) -> None:
    """A sofa leg that sticks is no fault that the base knows of; under guarantee it is the seller's to look at all the same."""
    given = {"piece": "sofa", "damage": "sticks", "part": "front_leg", "guarantee_and_recall": "in_guarantee"}
    case = case_of(Story(name="a case", given=given), knowledge)
    (damage,) = assess(case, knowledge, Shop(), TODAY).damages
    assert damage.belief.causes == {}
    assert damage.decision.method == "back_to_the_maker"
