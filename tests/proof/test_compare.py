"""Two rule bases compared: the same says nothing, a worsened one is named where it was worsened."""

from dataclasses import replace

import pytest

from diagnose.proof.compare import compare
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge


@pytest.fixture(scope="module")
def some() -> Knowledge:
    whole = load_knowledge()
    return replace(whole, stories=whole.stories[::12])


def test_the_same_differs_in_nothing(some: Knowledge) -> None:
    heard: list[tuple[int, int]] = []
    assert list(compare(some, some, lambda done, of: heard.append((done, of)))) == []
    assert heard[-1] == (len(some.stories), len(some.stories))


def test_a_changed_row_is_named_in_its_words_and_in_its_stories(some: Knowledge) -> None:
    told = next(t for t in some.stories if t.story.expect.first_cause and not t.story.open)
    name = str(told.story.expect.first_cause)
    cause = some.causes[name]
    sign = next(key for key in cause.shows if key in told.story.given)
    readings = list(some.signs[sign].readings)
    worse = {**cause.shows, sign: {readings[-1]: "nearly_always"}}
    if worse == cause.shows:
        worse = {**cause.shows, sign: {readings[0]: "nearly_always"}}
    changed = replace(
        some, version="worse", causes={**some.causes, name: cause.model_copy(update={"shows": worse, "name": "Other"})}
    )
    lines = list(compare(some, changed))
    assert any(line.startswith(f"causes {name}: {sign}: ") and "→" in line for line in lines)
    assert f"causes {name}: changed in name" in lines


def test_entries_gone_and_new_are_named_and_so_are_the_stories_they_change(some: Knowledge) -> None:
    told = next(t for t in some.stories if len(t.story.expect.rules) == 1 and t.story.expect.findings)
    rule = told.story.expect.rules[0]
    lesser = replace(some, version="lesser", logic={k: v for k, v in some.logic.items() if k != rule})
    lines = list(compare(some, lesser))
    assert f"logic {rule}: gone" in lines
    assert any(line.startswith(f"story {told.story.name}: ") for line in lines)
    assert f"logic {rule}: new" in list(compare(lesser, some))
