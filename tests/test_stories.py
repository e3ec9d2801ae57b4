"""Every story of the rule base holds: what it expects comes, what it forbids does not. The stories are the proof beside each entry."""

import statistics

import pytest

from diagnose.proof.stories import verdicts
from diagnose.rulebase.knowledge import Knowledge, ToldStory
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
PAIRS = [told for told in KNOWLEDGE.stories if len(told.story.open) == 2]


def name_of(told: ToldStory) -> str:
    return f"{told.file.removeprefix('rules/')}: {told.story.name}"


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return KNOWLEDGE


@pytest.mark.parametrize("told", KNOWLEDGE.stories, ids=name_of)
def test_the_story_holds(told: ToldStory, knowledge: Knowledge) -> None:
    assert verdicts(told.story, knowledge) == []


def test_every_cause_comes_first_in_some_story(knowledge: Knowledge) -> None:
    first = {told.story.expect.first_cause for told in knowledge.stories if not told.story.open}
    assert set(knowledge.causes) <= first


def test_look_alikes_are_told_on_either_side_with_few_answers(knowledge: Knowledge) -> None:
    sides: dict[frozenset[str], set[str]] = {}
    answers = []
    for told in PAIRS:
        story = told.story
        assert story.expect.at_least, name_of(told)
        assert all(floor >= 0.8 for floor in story.expect.at_least.values())
        sides.setdefault(frozenset(story.open), set()).update(story.expect.at_least)
        answers.append(sum(key in knowledge.signs for key in story.given))
    assert statistics.median(answers) <= 8
    whole = {pair for pair, told_for in sides.items() if told_for == pair}
    # The six pairs that the first rule base must tell apart, by what the shop calls them.
    for one, other in (
        ("glue_starved", "years_of_use"),
        ("animal_glue_aged", "new_glue_over_old"),
        ("glue_starved", "made_loose"),
        ("glue_starved", "face_contaminated"),
        ("glue_starved", "neighbour_joint_went_first"),
        ("glue_starved", "uneven_floor"),
    ):
        assert frozenset({one, other}) in whole, (one, other)
