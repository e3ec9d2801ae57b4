"""Stories of the rule base told as cases."""

from typing import Any

import pytest

from diagnose.case.case import Answer, Case
from diagnose.case.told import StoryError, case_of
from diagnose.rulebase.entries import Story
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()


def told(**given: Any) -> Case:
    return case_of(Story(name="a story", given=given), KNOWLEDGE)


def test_a_story_is_a_case() -> None:
    case = told(piece="chair", damage="loose", part="side_rail", joint="dowel", value="200", used_how="none",
                joints={"left_side_rail_to_back_leg": "moves", "all": "tight"}, joint_gap="0.4 mm",
                break_path={"reads": "along_glue_line", "by": "owner", "unsure": "yes"})  # fmt: skip
    (damage,) = case.damages
    assert (case.piece, case.value, damage.part, damage.facts) == ("side_chair", 200.0, "side_rail", {"joint": "dowel"})
    assert case.joints["left_side_rail_to_back_leg"] == "moves"
    assert list(case.joints.values()).count("tight") == len(case.joints) - 1
    assert case.readings == {"used_how": Answer(())}
    assert damage.readings["joint_gap"] == Answer(("loose",), measured="0.4 mm")
    assert damage.readings["break_path"] == Answer(("along_glue_line",), by="owner", unsure=True)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"piece": "coach"}, "coach is not a piece"),
        ({"part": "wheel"}, "there is no chair with a part wheel"),
        ({"part": ["leg"]}, "is not one part"),
        ({"damage": "lose"}, "lose is not a kind of damage"),
        ({"damage": ["loose"]}, "is not a kind of damage"),
        ({"brake_path": "x"}, "brake_path is neither a fact of a case nor a sign"),
        ({"moving_joints": "four"}, "four is not a value of moving_joints"),
        ({"joint": ["dowel", "screwed"]}, "is not a value of joint"),
        ({"break_path": "along"}, "along is not a reading of break_path"),
        ({"break_path": ["along_glue_line"]}, "break_path takes one reading"),
        ({"used_how": ["flying"]}, "flying is not a reading of used_how"),
        ({"used_how": [["flying"]]}, "is not a reading of used_how"),
        ({"used_how": None}, "used_how needs its readings, or none"),
        ({"break_path": {"reads": "along_glue_line", "by": "nobody"}}, "nobody is nobody who could say break_path"),
        ({"joint_gap": "0.4"}, "has no unit"),
        ({"joint_gap": "9 mm"}, "outside 0 to 6 mm"),
        ({"wood": "chocolate"}, "chocolate is neither a wood of the rule base nor a group of woods"),
        ({"value": "much"}, "much is no value of a piece"),
        ({"value": "nan"}, "nan is no value of a piece"),
        ({"value": ["1"]}, "is no value of a piece"),
        ({"joints": "tight"}, "joints is a mapping of joints and states"),
        ({"joints": {"all": "tihgt"}}, "all: tihgt is not a joint of this piece and a state"),
        ({"joints": {"nose": "tight"}}, "nose: tight is not a joint of this piece and a state"),
    ],
)
def test_a_story_that_no_case_could_hold(given: dict[str, Any], says: str) -> None:
    with pytest.raises(StoryError) as error:
        told(**{"piece": "chair", "damage": "loose", **given})
    assert says in str(error.value)
