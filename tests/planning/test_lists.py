"""The lists: nothing twice, enough of everything, whole things of what is counted, and the line left inside."""

from datetime import date
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.planning.lists import evidence, pencil_line, photographs, to_buy, to_get, tools, used_up
from diagnose.rulebase.store import load_knowledge
from tests.planning.random_cases import random_plan

KNOWLEDGE = load_knowledge()
SEEDS = st.integers(0, 5000)
LAW = settings(max_examples=60, deadline=None, derandomize=True)


@LAW
@given(SEEDS)
def test_all_that_the_steps_use_is_laid_ready_with_its_allowance(seed: int) -> None:
    plan = random_plan(KNOWLEDGE, seed).plan
    used = {one.thing.id: one for one in used_up(KNOWLEDGE, plan)}
    assert set(used) == {name for planned in plan for name in planned.step.uses}
    for name, one in used.items():
        wanted = sum(p.step.uses.get(name, 0.0) * p.count for p in plan)
        assert one.used == pytest.approx(wanted)
        assert one.ready >= wanted * (1 + one.thing.over) - 1e-6
        if one.thing.counted:
            assert one.ready == ceil(wanted * (1 + one.thing.over) - 1e-9)
        assert [plan[number - 1].step.uses[name] for number in one.steps]
    assert sorted(set(tools(plan))) == list(tools(plan))
    assert set(tools(plan)) == {tool for planned in plan for tool in planned.step.tools}


@LAW
@given(SEEDS)
def test_what_is_bought_is_in_the_rack_or_has_days(seed: int) -> None:
    used = used_up(KNOWLEDGE, random_plan(KNOWLEDGE, seed).plan)
    bought = to_buy(used)
    assert [one.used.thing.id for one in bought] == [u.thing.id for u in used if u.thing.buy_days is not None]
    assert all(0 <= one.days[0] <= one.days[1] for one in bought)
    days = to_get(bought)
    assert set(days) == {number for one in bought for number in one.used.steps}
    assert max(days.values(), default=0.0) == max((one.days[1] for one in bought), default=0.0)
    assert all(days[number] >= one.days[1] for one in bought for number in one.used.steps)
    rack = [one.used.thing.id for one in bought]
    assert to_get(to_buy(used, rack)) == {}
    assert all(one.in_rack for one in to_buy(used, rack))


@LAW
@given(SEEDS)
def test_photographs_and_evidence_name_their_steps(seed: int) -> None:
    plan = random_plan(KNOWLEDGE, seed).plan
    for number, text in photographs(plan):
        assert plan[number - 1].step.photo == text
    for number, text in evidence(plan):
        assert plan[number - 1].step.keep == text
    for number, planned in enumerate(plan, start=1):
        if planned.step.id == "photograph_glue_faces":
            assert number in dict(photographs(plan))


def test_the_faces_are_photographed_before_they_are_cleaned() -> None:
    seen = 0
    for seed in range(150):
        plan = random_plan(KNOWLEDGE, seed).plan
        names = [planned.step.id for planned in plan]
        if "photograph_glue_faces" in names:
            cleaned = [names.index(n) for n in ("scrape_to_bare_wood", "wash_off_animal_glue") if n in names]
            assert all(names.index("photograph_glue_faces") < index for index in cleaned)
            seen += bool(cleaned)
    assert seen > 5


def test_the_line_inside_holds_number_month_glue_and_joints() -> None:
    assert (
        pencil_line("R-1", date(2026, 3, 9), ["Fish glue", "Fish glue", "Epoxy"], ["a", "b"])
        == "R-1 · 2026-03 · fish glue + epoxy · a, b"
    )
    assert pencil_line("", date(2026, 3, 9), [], []) == "no number · 2026-03 · no glue"
