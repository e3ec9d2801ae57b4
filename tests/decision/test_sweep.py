"""Sweeping the value of the piece from 0 to 5,000: the advice passes through several classes, and never back to one it has left."""

from dataclasses import replace
from datetime import date

import pytest

from diagnose.assess import assess
from diagnose.case.told import case_of
from diagnose.rulebase.knowledge import ToldStory
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
KNOWLEDGE = load_knowledge()
STORIES = KNOWLEDGE.stories[::12]
VALUES = [1.0, *range(100, 5001, 350)]
_seen: dict[str, list[str]] = {}


def advice_over_values(told: ToldStory) -> list[str]:
    """The advised method at each value, runs of the same put together."""
    if told.story.name not in _seen:
        case = case_of(told.story, KNOWLEDGE)
        passed: list[str] = []
        for value in VALUES:
            got = assess(replace(case, value=float(value)), KNOWLEDGE, Shop(), TODAY, only=told.story.open)
            method = got.damages[0].decision.method
            if not passed or passed[-1] != method:
                passed.append(method)
        _seen[told.story.name] = passed
    return _seen[told.story.name]


@pytest.mark.parametrize("told", STORIES, ids=lambda told: told.story.name)
def test_the_advice_never_goes_back_and_forth(told: ToldStory) -> None:
    passed = advice_over_values(told)
    assert len(passed) == len(set(passed)), passed


def test_several_classes_are_passed_through() -> None:
    classes = {KNOWLEDGE.methods[method].decision for told in STORIES for method in advice_over_values(told)}
    assert len(classes) >= 3, classes


@pytest.mark.parametrize("told", STORIES[::4], ids=lambda told: told.story.name)
def test_the_flips_are_where_the_advice_changes(told: ToldStory) -> None:
    case = replace(case_of(told.story, KNOWLEDGE), value=400.0)
    flips = assess(case, KNOWLEDGE, Shop(), TODAY, only=told.story.open).damages[0].decision.flips
    for flip in flips[:3]:
        for value, method in ((flip.value * 0.999, flip.below), (flip.value * 1.001, flip.above)):
            got = assess(replace(case, value=value), KNOWLEDGE, Shop(), TODAY, only=told.story.open)
            assert got.damages[0].decision.method == method
