"""An entry counts when some story changes without it, and only then."""

from dataclasses import replace

import pytest

from diagnose.proof.counted import Told, counted, story_that_changes, tell, without
from diagnose.rulebase.entries import Rule
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge


@pytest.fixture(scope="module")
def some() -> Knowledge:
    """The rule base with every eighth story, and one rule that nothing in them can make fire."""
    whole = load_knowledge()
    idle = Rule.model_validate(
        {
            "id": "idle",
            "protects": "value",
            "when": {"damage": "loose", "piece": "no_such_piece"},
            "then": [{"finding": next(iter(whole.findings))}],
            "because": "Nothing makes it fire.",
            "sources": ["common_practice"],
            "status": "draft",
        }
    )
    return replace(whole, version=whole.version + " some", stories=whole.stories[::8], logic={**whole.logic, "idle": idle})


@pytest.fixture(scope="module")
def stories(some: Knowledge) -> list[Told]:
    return list(tell(some))


def test_stories_that_hold_are_known_to_hold(stories: list[Told]) -> None:
    assert len(stories) > 20
    assert all(told.holds for told in stories)


def test_a_rule_that_never_fires_does_not_count(some: Knowledge, stories: list[Told]) -> None:
    assert story_that_changes(some, stories, "logic", "idle") == ""


def test_what_a_story_rests_on_counts(some: Knowledge, stories: list[Told]) -> None:
    """Without the cause that a story puts first another comes first; without a rule that a story expects, the story no longer holds."""
    for told in stories:
        expect = told.story.expect
        if expect.first_cause and told.says.first_cause == expect.first_cause:
            assert story_that_changes(some, [told], "causes", expect.first_cause) == told.story.name
        for rule in expect.rules:
            assert story_that_changes(some, [told], "logic", rule) == told.story.name


def test_steps_cautions_and_methods_count_where_they_are_told(some: Knowledge, stories: list[Told]) -> None:
    found = {(kind, name): story for kind, name, story in counted(some, stories, ("methods", "steps", "cautions"))}
    for told in stories:
        assert found[("methods", told.says.method)]
        assert all(found[("steps", step)] for step in told.says.steps)
        assert all(found[("cautions", caution)] for caution in told.says.cautions)
    advised = {told.says.method for told in stories} | {m for told in stories for m in told.story.expect.forbids}
    assert {name for (kind, name), story in found.items() if kind == "methods" and not story} == set(some.methods) - advised


def test_without_takes_out_one_entry_and_nothing_else(some: Knowledge) -> None:
    sign = next(iter(some.signs))
    lesser = without(some, "signs", sign)
    assert set(some.signs) - set(lesser.signs) == {sign}
    assert lesser.causes is some.causes
    assert lesser.version != some.version
