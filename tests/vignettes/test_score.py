"""The engine on published accounts holds what was set out for it, and beats a word count that has read all the other accounts."""

import pytest

from diagnose.rulebase.store import load_knowledge
from tests.vignettes.score import Said, Score, Vignette, by_engine, by_word_count, score, vignettes

TOLD = vignettes()


@pytest.fixture(scope="module")
def engine() -> list[tuple[Vignette, Said]]:
    """What the engine says of every account."""
    knowledge = load_knowledge()
    return [(told, by_engine(told, knowledge)) for told in TOLD]


def _parts(found: Score) -> tuple[float, float, float]:
    return found.family, found.among_three, found.decision


def test_accounts_are_many_and_from_many_publications() -> None:
    """Sixty accounts, a third of them committed before the causes were written."""
    assert len(TOLD) == 60
    assert sum(told.early for told in TOLD) == 20
    assert len({told.source for told in TOLD}) > 50


def test_family_cause_and_class_are_as_good_as_was_asked(engine: list[tuple[Vignette, Said]]) -> None:
    """First cause in the right family 75 %, a stated cause among the first three 90 %, class acceptable 80 %."""
    found = score(engine)
    assert found.family >= 0.75
    assert found.among_three >= 0.90
    assert found.decision >= 0.80


def test_early_accounts_fare_no_worse_than_ten_points_below(engine: list[tuple[Vignette, Said]]) -> None:
    """The base was not written towards the accounts that came after it."""
    early = score([pair for pair in engine if pair[0].early])
    for share, of_all in zip(_parts(early), _parts(score(engine)), strict=True):
        assert share >= of_all - 0.10


def test_the_engine_says_more_than_a_word_count(engine: list[tuple[Vignette, Said]]) -> None:
    """A word count that has read all the other accounts does worse at each of the three."""
    counted = score([(told, by_word_count(told, [other for other in TOLD if other is not told])) for told in TOLD])
    assert all(ours > theirs for ours, theirs in zip(_parts(score(engine)), _parts(counted), strict=True))
