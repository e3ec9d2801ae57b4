"""What changed between two plans: every step is added, gone, changed or the same, and the plan reads itself back."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.assess import Assessment, assess
from diagnose.case.read import read_case
from diagnose.documents import plan_glue
from diagnose.documents.plan import plan
from diagnose.documents.plan_since import NotAPlan, changes
from diagnose.documents.plan_steps import read_steps, told_steps
from diagnose.planning.since import Worded, since, swaps
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.planning.random_cases import TODAY

KNOWLEDGE = load_knowledge()
EXAMPLES = sorted(path for path in Path("guide/examples").glob("*.yaml") if path.name != "shop.yaml")
ACTIONS = st.text("abc de", min_size=1, max_size=24).map(lambda text: f"Do {text}.")
STEPS = st.lists(st.builds(Worded, st.sampled_from(["Glue", "Cure", "Clean"]), ACTIONS), max_size=8)
LAW = settings(max_examples=150, deadline=None, derandomize=True)


@LAW
@given(STEPS, STEPS)
def test_every_step_is_in_one_heap_and_only_one(old: list[Worded], new: list[Worded]) -> None:
    found = since(old, new)
    assert len(found.added) + len(found.changed) + found.same == len(new)
    assert len(found.gone) + len(found.changed) + found.same == len(old)
    assert all(before != after and before.phase == after.phase for before, after in found.changed)
    assert {*found.added, *(after for _, after in found.changed)} <= set(new)
    assert {*found.gone, *(before for before, _ in found.changed)} <= set(old)


@LAW
@given(STEPS, st.randoms())
def test_the_same_steps_in_any_order_are_no_change(steps: list[Worded], chance: object) -> None:
    assert since(steps, steps).none
    assert since(steps, list(reversed(steps))).none


def assessed(path: Path, **changed: object) -> Assessment:
    case = read_case(path, KNOWLEDGE)
    return assess(replace(case, **changed), KNOWLEDGE, Shop(), TODAY)  # type: ignore[arg-type]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_plan_reads_itself_back_word_for_word(path: Path) -> None:
    assessment = assessed(path)
    told = told_steps(assessment, plan_glue.gluings_of(assessment))
    assert list(read_steps(plan(assessment))) == [step.worded for step in told]
    assert "are the same, word for word" in changes(assessment, plan(assessment))


def test_a_changed_answer_shows_what_it_changed() -> None:
    path = next(path for path in EXAMPLES if path.stem == "slack_chair")
    before = assessed(path)
    wood = "teak" if before.case.wood != "teak" else "beech"
    after = assessed(path, wood=wood)
    text = changes(after, plan(before))
    assert "Nothing: all" not in text
    old = {step.text for step in read_steps(plan(before))}
    for step in read_steps(plan(after)):
        assert step.text in old or step.action in text


def test_a_changed_step_tells_only_the_words_that_changed() -> None:
    path = next(path for path in EXAMPLES if path.stem == "slack_chair")
    text = changes(assessed(path, wood="teak"), plan(assessed(path)))
    assert "is now “" in text
    assert "Work " in text.partition("## In all")[2].partition("##")[0]
    for line in text.partition("## Changed")[2].splitlines():
        if line.startswith("    - ") and "is now" in line:
            assert len(line) < 400, "the words that changed, and not the whole step again"


@LAW
@given(st.lists(st.sampled_from("abcd"), max_size=9), st.lists(st.sampled_from("abcd"), max_size=9))
def test_the_words_that_differ_are_told_and_no_others(old: list[str], new: list[str]) -> None:
    found = swaps(" ".join(old), " ".join(new))
    assert bool(found) == (old != new)
    for swap in found:
        assert swap.was != swap.now
        assert swap.was in " ".join(old)
        assert swap.now in " ".join(new)


@pytest.mark.parametrize("text", ["", "# A letter\n\nDear Mr Wren\n", "## Steps\n\nnone\n"])
def test_what_is_no_plan_is_said_to_be_none(text: str) -> None:
    with pytest.raises(NotAPlan, match="no steps are found"):
        changes(assessed(EXAMPLES[0]), text)
