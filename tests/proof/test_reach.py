"""How far the signs carry a cause, measured on the rule base itself."""

import pytest

from diagnose.proof.reach import MOST_ANSWERS, Reach, context, contexts, reach
from diagnose.reasoning.facts import case_values, may_apply
from diagnose.rulebase.entries import When
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


@pytest.fixture(scope="module")
def found(knowledge: Knowledge) -> list[Reach]:
    """Every eighth cause: each is weighed on every group of pieces."""
    return list(reach(knowledge, list(knowledge.causes)[::8]))


def test_every_cause_has_a_place_where_it_may_act(knowledge: Knowledge, found: list[Reach]) -> None:
    assert [cause.id for cause in knowledge.causes.values() if not list(contexts(knowledge, cause))] == []
    assert {one.cause for one in found} == set(list(knowledge.causes)[::8])


def test_figures_stand_in_their_ranges(found: list[Reach]) -> None:
    for one in found:
        assert 0.0 < one.at_counter <= 1.0
        assert 0.0 < one.at_bench <= 1.0
        assert 0 <= one.answers <= MOST_ANSWERS
        assert bool(one.rival) == (one.at_bench < 0.8)
        assert (one.answers > 0) == (one.at_bench >= 0.8)


def test_a_context_is_one_in_which_the_cause_may_act(knowledge: Knowledge) -> None:
    piece = next(iter(knowledge.pieces.values()))
    for cause in knowledge.causes.values():
        case = context(knowledge, cause, piece)
        if case is not None:
            assert may_apply(cause.when, When(), case_values(knowledge, case, case.damages[0]))
