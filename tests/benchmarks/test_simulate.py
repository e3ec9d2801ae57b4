"""The simulation works, and shows a worsened rule base: with the rows of every second sign blanked the first cause is right less often."""

import os
from dataclasses import replace

import pytest

from diagnose.reasoning.engine import set_aside
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from tests.benchmarks.simulate import Run, simulated

CASES = int(os.environ.get("SIMULATED_CASES", "16"))


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="module")
def runs(knowledge: Knowledge) -> list[Run]:
    return list(simulated(knowledge, CASES, seed=3, wrong=0.0))


def first_right(runs: list[Run]) -> float:
    return sum(bool(run.true_cause_first) for run in runs) / len(runs)


def test_interviews_mostly_end_with_a_true_cause_first(runs: list[Run]) -> None:
    assert len(runs) == CASES
    assert first_right(runs) > 0.55
    assert all(run.asked > 0 for run in runs)


def test_no_interview_is_shorter_than_its_entropy_allows_on_average(runs: list[Run]) -> None:
    assert sum(run.asked for run in runs) >= sum(run.bound for run in runs)


def test_a_worsened_rule_base_shows(knowledge: Knowledge, runs: list[Run]) -> None:
    """Every second sign of every cause says nothing any more; the cases are still drawn from the whole base."""
    causes = {
        name: cause.model_copy(update={"shows": dict(list(cause.shows.items())[::2])}) for name, cause in knowledge.causes.items()
    }
    worse = replace(knowledge, version=knowledge.version + " worse", causes=causes)
    with set_aside():
        then = list(simulated(worse, CASES, seed=3, wrong=0.0, drawn_from=knowledge))
    assert first_right(then) < first_right(runs)
