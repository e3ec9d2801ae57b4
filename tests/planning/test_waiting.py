"""How long is waited behind a step: by the glue that was chosen, at the warmth of the wood, and by the finish that was found."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.planning.waiting import coat_hours, cure_hours, cured, gluing_at, soft_at, waits, worked_hours
from diagnose.rulebase.store import load_knowledge
from tests.planning.story_plans import StoryPlan, story_plans

KNOWLEDGE = load_knowledge()
PLANS = story_plans(20.0, 120)
LAW = settings(max_examples=80, deadline=None, derandomize=True)


@LAW
@given(st.sampled_from(sorted(KNOWLEDGE.adhesives)), st.floats(-10, 45), st.floats(0, 20))
def test_a_cure_is_never_shorter_than_the_label_and_never_shorter_in_the_cold(name: str, wood_c: float, colder: float) -> None:
    glue = KNOWLEDGE.adhesives[name]
    hours = cure_hours(glue, wood_c)
    assert hours >= glue.full_cure_h
    if glue.two_part:
        assert cure_hours(glue, wood_c - colder) >= hours - 1e-9
    if not glue.two_part:
        assert hours == glue.full_cure_h


def test_ten_degrees_colder_is_twice_the_time_for_a_glue_of_two_parts() -> None:
    two = [glue for glue in KNOWLEDGE.adhesives.values() if glue.two_part]
    assert two
    for glue in two:
        assert cure_hours(glue, glue.temp_c - 10) == pytest.approx(2 * glue.full_cure_h)


def test_a_finish_of_one_coat_waits_for_no_next_one() -> None:
    for finish in KNOWLEDGE.finishes.values():
        low, high = finish.coats
        assert 0 <= coat_hours(finish) <= (high - 1) * finish.recoat_h[1]
        assert (coat_hours(finish) == 0) == (low == high == 1)


def test_no_wait_is_shorter_than_its_step_says_but_a_cure_that_is_over() -> None:
    for found in PLANS:
        for planned, hours in zip(found.plan, found.waits, strict=True):
            assert hours >= planned.step.wait_hours or (planned.step.phase == "cure" and hours == 0), found.name


def finishing(found: StoryPlan) -> list[int]:
    return [i for i, p in enumerate(found.plan) if p.step.lays == "finish" and p.step.wait_hours]


def test_a_finish_that_was_found_makes_its_own_wait() -> None:
    slow = max(KNOWLEDGE.finishes.values(), key=coat_hours)
    seen = 0
    for found in PLANS:
        plain = waits(KNOWLEDGE, found.plan, found.gluings)
        longer = waits(KNOWLEDGE, found.plan, found.gluings, [slow])
        places = finishing(found)
        assert all(longer[i] >= coat_hours(slow) for i in places)
        assert all(longer[i] == plain[i] for i in range(len(plain)) if i not in places)
        seen += len(places)
    assert seen


def test_a_step_speaks_of_its_own_glue_before_the_cure_of_the_next_and_behind_it_of_the_last() -> None:
    several = 0
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            spoken = gluing_at(found.gluings, found.plan, index)
            mine = [g for g in found.gluings if set(g.work.damages) & set(planned.damages)]
            assert (spoken is None) == (not mine)
            if spoken is None:
                continue
            own = [g for g in mine if g.work.step is planned]
            if own:
                assert spoken is own[0]
            elif planned.step.phase == "hand_over":
                assert spoken is mine[-1]
            several += len(mine) > 1
    assert several


@LAW
@given(st.sampled_from(sorted(KNOWLEDGE.adhesives)), st.floats(-10, 45), st.floats(0, 20))
def test_glue_is_cut_no_sooner_than_out_of_its_clamps_and_no_later_than_its_cure(name: str, wood_c: float, colder: float) -> None:
    glue = KNOWLEDGE.adhesives[name]
    hours = worked_hours(glue, wood_c)
    assert min(24.0, glue.full_cure_h) <= hours <= cure_hours(glue, wood_c)
    assert hours >= min(glue.clamp_min[1] / 60, glue.full_cure_h)
    assert worked_hours(glue, wood_c - colder) >= hours - 1e-9


def test_slow_glue_is_cut_days_before_it_is_loaded() -> None:
    slow = max(KNOWLEDGE.adhesives.values(), key=lambda glue: glue.full_cure_h)
    assert worked_hours(slow, slow.temp_c) < slow.full_cure_h


def test_every_glue_has_had_its_full_cure_when_the_cure_of_the_whole_is_over() -> None:
    mended = 0
    for found in PLANS:
        for gluing in found.gluings:
            start = next(i for i, planned in enumerate(found.plan) if planned is gluing.work.step)
            mine = set(gluing.work.damages)
            cures = [i for i in range(start + 1, len(found.plan)) if found.plan[i].step.phase == "cure"]
            if not cures or not mine <= set(found.plan[cures[0]].damages):
                assert found.waits[start] >= cured(gluing) or not gluing.work.step.step.wait_hours, found.name
                continue
            waited = sum(found.waits[i] for i in range(start, cures[0] + 1) if mine & set(found.plan[i].damages))
            assert waited >= cured(gluing) - 1e-9, found.name
            mended += gluing.work.step.step.phase == "mend_parts"
    assert mended


def test_what_is_cut_beside_a_soft_glue_lies_between_its_gluing_and_the_cure() -> None:
    slow = 0
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            for glue in soft_at(found.plan, found.gluings, index):
                before = [g for g in found.gluings if g.best is not None and g.best.adhesive.id == glue.id]
                assert any(planned is not g.work.step and set(g.work.damages) & set(planned.damages) for g in before)
                assert not any(p.step.phase == "cure" for p in found.plan[:index] if set(p.damages) >= set(planned.damages))
                slow += 1
    assert slow or not any(g.best and g.best.adhesive.full_cure_h > 24 for found in PLANS for g in found.gluings)
