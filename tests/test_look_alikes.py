"""Causes that are taken for each other: a story on either side with only the two of them open, and a sign that parts them."""

import math
from collections import defaultdict
from collections.abc import Mapping
from datetime import date

import pytest

from diagnose.assess import assess
from diagnose.case.told import case_of
from diagnose.rulebase.entries import Story
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
KNOWLEDGE = load_knowledge()
Pair = tuple[str, str]
# Those that are taken for each other most often, in the order of the counter (judgement).
NAMED: Mapping[str, Pair] = {
    "weak rung glue, or a whole frame worn slack": ("glue_starved", "years_of_use"),
    "aged glue, or new glue over old": ("animal_glue_aged", "new_glue_over_old"),
    "starved, or a gap too wide": ("glue_starved", "made_loose"),
    "starved, or a soiled face": ("face_contaminated", "glue_starved"),
    "poor glue, or oily wood": ("glue_starved", "oily_or_dense_wood"),
    "the glue let go, or the wood beside it broke": ("glue_starved", "grain_runout"),
    "a failed edge joint, or wood held across its grain": ("edge_joint_opened_at_ends", "held_across_grain_split"),
    "a crack to fill, or a filling that makes it grow": ("drying_checks", "filler_in_moving_crack"),
    "a worn hinge, or a racked case": ("back_panel_off", "hinge_worn"),
    "a loose joint, or an uneven floor": ("glue_starved", "uneven_floor"),
    "beetles at work, or old holes": ("beetle_active", "beetle_old"),
    "a crack in the wood, or in the finish only": ("finish_failure_only", "old_crack_grew"),
}


def _sides() -> dict[Pair, dict[str, list[Story]]]:
    """For each pair that stories leave open: the stories in which the one or the other is demanded."""
    found: dict[Pair, dict[str, list[Story]]] = defaultdict(lambda: defaultdict(list))
    for told in KNOWLEDGE.stories:
        story = told.story
        if len(story.open) != 2:
            continue
        one, other = sorted(story.open)
        demanded = {story.expect.first_cause, *(cause for cause, least in story.expect.at_least.items() if least >= 0.8)}
        for cause in (name for name in (one, other) if name in demanded):
            found[one, other][cause].append(story)
    return found


SIDES = _sides()
TOLD_APART = sorted(pair for pair, sides in SIDES.items() if len(sides) == 2)


@pytest.mark.parametrize("pair", NAMED.values(), ids=NAMED)
def test_a_named_pair_has_a_story_on_either_side(pair: Pair) -> None:
    assert pair in TOLD_APART


def test_there_are_fifteen_more_pairs_at_the_least() -> None:
    assert len(set(TOLD_APART) - set(NAMED.values())) >= 15


@pytest.mark.parametrize("pair", TOLD_APART, ids="-".join)
def test_one_sign_parts_the_two_by_itself(pair: Pair) -> None:
    """In the story on either side one single sign speaks for its cause and against the other, three to one or more (5 dB); or
    the other cannot act in that place at all."""
    for cause, stories in SIDES[pair].items():
        other = next(name for name in pair if name != cause)
        weights = [db for story in stories for db in _weights(story, pair).values()]
        assert max(db[cause] - db.get(other, -math.inf) for db in weights) >= 5.0, cause


def _weights(story: Story, pair: Pair) -> Mapping[str, Mapping[str, float]]:
    return assess(case_of(story, KNOWLEDGE), KNOWLEDGE, Shop(), TODAY, only=pair).damages[0].weights
