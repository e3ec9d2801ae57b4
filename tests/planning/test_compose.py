"""From methods to a plan: every step after what it needs, asked for twice and done once, priced by what it takes."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.decision.cost import Price, price_of
from diagnose.planning.compose import PlannedStep, Wish, bonds, compose, in_order, steps_of
from diagnose.reasoning.deduce import Deduction
from diagnose.reasoning.facts import Facts
from diagnose.rulebase.entries import Effect, Method, Step
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import load_rules
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.rulebase.small import small_rules

REAL = load_knowledge()
PHASES = list(words.PHASES)
LAW = settings(max_examples=200, deadline=None, derandomize=True)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    folder, _ = small_rules(tmp_path_factory.mktemp("small"))
    return load_rules(folder).knowledge()


def step(name: str, phase: str = "clean", after: tuple[str, ...] = (), **more: Any) -> Step:
    """A step with the fixed prose of the test."""
    return Step.model_validate(
        {
            "id": name, "phase": phase, "per": "damage", "do": "Do it.", "why": "So it is done.", "minutes": [1, 2, 3],
            "after": after, "undo": "yes", "sources": ["common_practice"], **more,
        }
    )  # fmt: skip


def requires(*names: str) -> Deduction:
    return Deduction((), (), tuple((f"rule_{name}", Effect(kind="require", target=name)) for name in names))


def wish(method: Method, damage: str = "a", deduction: Deduction | None = None, part: str | None = None) -> Wish:
    return Wish(Damage(id=damage, kind="loose", part=part), method, deduction or requires())


CHAIR = Case(piece="side_chair")


# Order.


@st.composite
def step_sets(draw: st.DrawFn) -> dict[str, Step]:
    """Steps that wait only for steps made before them, so that there is no circle, given in another order."""
    names = [f"s{number}" for number in range(draw(st.integers(1, 9)))]
    made = []
    for index, name in enumerate(names):
        after = draw(st.lists(st.sampled_from([*names[:index], "elsewhere"]), max_size=3, unique=True))
        made.append(step(name, draw(st.sampled_from(PHASES)), tuple(after)))
    return {one.id: one for one in draw(st.permutations(made))}


@LAW
@given(step_sets())
def test_every_step_comes_after_what_it_needs_and_none_is_lost(steps: dict[str, Step]) -> None:
    order = in_order(steps)
    assert sorted(order) == sorted(steps)
    for name in order:
        for needed in steps[name].after:
            assert needed not in steps or order.index(needed) < order.index(name)
    assert in_order(steps) == order


@LAW
@given(step_sets())
def test_the_phase_decides_wherever_nothing_waits(steps: dict[str, Step]) -> None:
    """At every place stands the earliest in phase, then in the order given, of the steps that could stand there."""
    left = dict(steps)
    for name in in_order(steps):
        ready = [one for one in left.values() if not set(one.after) & set(left)]
        assert name == min(ready, key=lambda one: (PHASES.index(one.phase), list(steps).index(one.id))).id
        del left[name]


@pytest.mark.parametrize("length", [1, 2, 5])
def test_a_circle_is_an_error_that_names_its_steps(length: int) -> None:
    circle = {f"c{n}": step(f"c{n}", after=(f"c{(n + 1) % length}",)) for n in range(length)}
    free = {"free": step("free"), "behind": step("behind", after=("c0",))}
    with pytest.raises(ValueError, match="steps wait for each other: ") as error:
        in_order({**free, **circle})
    named = str(error.value).split(": ")[1].split(", ")
    assert set(circle) <= set(named)
    assert "free" not in named


def test_no_steps_are_no_plan(small: Knowledge) -> None:
    assert in_order({}) == ()
    assert compose(small, CHAIR, []) == ()


def test_every_two_methods_of_the_rule_base_go_together_in_order() -> None:
    for one, other in combinations(REAL.methods.values(), 2):
        plan = compose(REAL, CHAIR, [wish(one, "a"), wish(other, "b")])
        names = [planned.step.id for planned in plan]
        assert len(set(names)) == len(names)
        assert set(names) == {*steps_of(REAL, one, requires()), *steps_of(REAL, other, requires())} >= {*one.steps, *other.steps}
        for index, planned in enumerate(plan):
            assert not set(planned.step.after) & set(names[index:])


def test_an_order_through_a_step_that_is_not_in_the_plan_is_kept() -> None:
    """Feet are cut level after the level is checked, which comes after the screws are tightened: so after the screws."""
    plan = compose(REAL, CHAIR, [wish(REAL.methods["level_feet"], "a"), wish(REAL.methods["plug_and_rescrew"], "b")])
    names = [planned.step.id for planned in plan]
    assert "tighten_all" in REAL.steps["check_level"].after
    assert "check_level" in REAL.steps["mark_feet_for_level"].after
    assert names.index("tighten_all") < names.index("cut_feet_level")


# Asked twice, done once.


def test_a_step_asked_for_by_two_damages_stands_once(small: Knowledge) -> None:
    method = small.methods["reglue_cleaned"]
    one = compose(small, CHAIR, [wish(method, "a", part="side_rail")])
    two = compose(small, CHAIR, [wish(method, "a", part="side_rail"), wish(method, "b", part="back_leg")])
    assert [planned.step.id for planned in one] == ["part_joint", "scrape_to_bare_wood", "spread_glue", "clamp"]
    assert [planned.step.id for planned in two] == [planned.step.id for planned in one]
    assert [planned.count for planned in one] == [1, 1, 1, 1]
    assert [planned.count for planned in two] == [2, 2, 2, 1], "clamping is done once for the piece"
    assert all(planned.damages == ("a", "b") for planned in two)
    assert all(planned.asked_by == ("reglue_cleaned",) for planned in two)


def test_a_step_says_everything_that_asked_for_it(small: Knowledge) -> None:
    reglue, renew = small.methods["reglue_cleaned"], small.methods["new_rail"]
    plan = compose(small, CHAIR, [wish(reglue, "a", requires("spread_glue", "scrape_to_bare_wood")), wish(renew, "b")])
    by_name = {planned.step.id: planned for planned in plan}
    assert by_name["spread_glue"].asked_by == ("reglue_cleaned", "rule_spread_glue", "new_rail")
    assert by_name["spread_glue"].count == 2
    assert by_name["scrape_to_bare_wood"].asked_by == ("reglue_cleaned", "rule_scrape_to_bare_wood")
    assert by_name["scrape_to_bare_wood"].damages == ("a",)


@pytest.mark.parametrize(("per", "expected"), [("piece", 1), ("damage", 3), ("part", 2), ("bond", 3)])
def test_how_often_a_step_is_done(small: Knowledge, per: str, expected: int) -> None:
    """Three damages on two parts."""
    steps = {**small.steps, "part_joint": small.steps["part_joint"].model_copy(update={"per": per})}
    knowledge = replace(small, steps=steps)
    method = knowledge.methods["new_rail"]
    wishes = [wish(method, "a", part="side_rail"), wish(method, "b", part="side_rail"), wish(method, "c", part="back_leg")]
    counts = {planned.step.id: planned.count for planned in compose(knowledge, CHAIR, wishes)}
    assert counts["part_joint"] == expected


def test_parts_that_nobody_named_are_parts_of_their_own(small: Knowledge) -> None:
    steps = {**small.steps, "part_joint": small.steps["part_joint"].model_copy(update={"per": "part"})}
    knowledge = replace(small, steps=steps)
    method = knowledge.methods["new_rail"]
    plan = compose(knowledge, CHAIR, [wish(method, "a"), wish(method, "b"), wish(method, "c", part="side_rail")])
    assert plan[0].count == 3


@pytest.mark.parametrize(("moving", "expected"), [(0, 2), (1, 2), (2, 2), (5, 5)])
def test_a_whole_frame_has_as_many_bonds_as_joints_that_move(moving: int, expected: int) -> None:
    joints = [joint.id for joint in REAL.pieces["side_chair"].joints]
    states = dict.fromkeys(joints, "tight") | dict(
        zip(joints[:moving], ["moves", "open", "broken", "moves", "open"], strict=False)
    )
    case = Case(piece="side_chair", joints=states)
    of_bonds = {name for name, one in REAL.steps.items() if one.per == "bond"}
    frame = next(method for method in REAL.methods.values() if method.extent == "whole_frame" and of_bonds & {*method.steps})
    joint = next(method for method in REAL.methods.values() if method.extent == "joint")
    assert bonds(case, frame) == expected
    assert bonds(case, joint) == 1
    counts = {planned.step.per: planned.count for planned in compose(REAL, case, [wish(frame)])}
    assert counts["bond"] == expected
    assert counts["piece"] == 1


# What rules require.

EXTRA = {
    "note": step("note", "record"), "warn": step("warn", "hand_over"), "open_up": step("open_up", "take_apart"),
    "wash": step("wash", "clean", ("open_up",)), "polish": step("polish", "finish"), "hang_tag": step("hang_tag", "isolate"),
}  # fmt: skip
ALL = requires(*EXTRA)


def method(small: Knowledge, steps: tuple[str, ...], by: str = "us") -> tuple[Knowledge, Method]:
    one = small.methods["new_rail"].model_copy(update={"steps": steps, "by": by})
    return replace(small, steps={**small.steps, **EXTRA, "saw": step("saw", "level")}), one


def asked(small: Knowledge, steps: tuple[str, ...], by: str = "us") -> set[str]:
    knowledge, one = method(small, steps, by)
    return set(steps_of(knowledge, one, ALL)) - set(steps)


def test_a_plan_that_glues_takes_every_requirement(small: Knowledge) -> None:
    assert asked(small, ("spread_glue",)) == set(EXTRA)


def test_a_plan_without_glue_takes_no_step_of_gluing(small: Knowledge) -> None:
    assert asked(small, ("saw",)) == {"note", "warn", "polish", "hang_tag"}


def test_a_plan_that_takes_apart_takes_what_opens(small: Knowledge) -> None:
    assert asked(small, ("part_joint",)) == {"note", "warn", "polish", "hang_tag", "open_up"}


def test_a_plan_that_cleans_takes_what_cleans(small: Knowledge) -> None:
    assert asked(small, ("scrape_to_bare_wood",)) == {"note", "warn", "polish", "hang_tag", "wash"}


def test_what_another_trade_does_takes_only_paper_and_safety(small: Knowledge) -> None:
    assert asked(small, ("spread_glue",), by="conservator") == {"note", "warn", "hang_tag"}


def test_a_plan_of_words_alone_takes_only_paper_and_safety(small: Knowledge) -> None:
    knowledge, one = method(small, ("saw",))
    only_paper = one.model_copy(update={"steps": ("note",)})
    assert set(steps_of(knowledge, only_paper, ALL)) == {"note", "warn", "hang_tag"}


def known(**facts: str) -> Facts:
    return Facts({key: frozenset({value}) for key, value in facts.items()}, {})


DOORS = {
    "door_off": step("door_off", where={"part": "door"}, needs=["door_on", "note"]),
    "door_on": step("door_on", "refit"),
    "sand": step("sand", unless={"part": "veneer"}),
    "note": EXTRA["note"],
}


def with_doors(small: Knowledge, facts: Facts | None, deduction: Deduction | None = None) -> set[str]:
    one = small.methods["new_rail"].model_copy(update={"steps": ("door_off", "sand")})
    return set(steps_of(replace(small, steps={**small.steps, **DOORS}), one, deduction or requires(), facts))


def test_a_step_that_is_known_to_have_no_place_is_left_out_with_what_it_alone_needs(small: Knowledge) -> None:
    assert with_doors(small, known(part="rail")) == {"sand"}
    assert with_doors(small, known(part="door")) == set(DOORS)
    assert with_doors(small, known(part="veneer")) == set()
    assert with_doors(small, known(part="rail"), requires("note")) == {"sand", "note"}, "what is asked for besides stays"
    assert with_doors(small, known(part="rail"), requires("door_off")) == {"sand"}, "whoever asks for it"


def test_a_step_that_takes_the_place_of_another_puts_it_out_whoever_asks_for_it(small: Knowledge) -> None:
    dry_only = step("dry_only", instead_of=["note"])
    one = small.methods["new_rail"].model_copy(update={"steps": ("dry_only", "note")})
    knowledge = replace(small, steps={**small.steps, "dry_only": dry_only, "note": EXTRA["note"]})
    assert set(steps_of(knowledge, one, requires("note"))) == {"dry_only"}


def test_what_only_dries_takes_no_requirement_of_the_bench(small: Knowledge) -> None:
    knowledge, one = method(small, ("saw",))
    drying = one.model_copy(update={"steps": ("stand",)})
    steps = {**knowledge.steps, "stand": step("stand", "dry_or_treat")}
    assert "polish" not in steps_of(replace(knowledge, steps=steps), drying, ALL)
    assert "polish" in steps_of(knowledge, one, ALL)


def test_where_nothing_is_known_a_step_keeps_its_place(small: Knowledge) -> None:
    assert with_doors(small, None) == with_doors(small, Facts({}, {})) == set(DOORS)


def test_what_has_no_place_at_one_damage_is_done_at_another(small: Knowledge) -> None:
    knowledge = replace(small, steps={**small.steps, **DOORS})
    one = small.methods["new_rail"].model_copy(update={"steps": ("door_off", "sand")})
    wishes = [replace(wish(one, name, part=part), facts=known(part=part)) for name, part in (("a", "door"), ("b", "veneer"))]
    plan = {planned.step.id: planned.damages for planned in compose(knowledge, CHAIR, wishes)}
    assert plan == {"door_off": ("a",), "note": ("a",), "door_on": ("a",), "sand": ("a",)}


def test_required_steps_of_the_rule_base_belong_to_some_method() -> None:
    required = {effect.target for rule in REAL.logic.values() for effect in rule.then if effect.kind == "require"}
    assert len(required) > 20
    for name in required:
        assert any(name in steps_of(REAL, one, requires(name)) for one in REAL.methods.values())


# Minutes and money.


def planned(count: int = 1, **more: Any) -> PlannedStep:
    return PlannedStep(step("s", **more), count, ("a",), ("m",))


def test_further_ones_take_the_minutes_of_then() -> None:
    assert planned(1, minutes=[5, 10, 25], then=[3, 6, 15]).minutes() == (5, 10, 25)
    assert planned(4, minutes=[5, 10, 25], then=[3, 6, 15]).minutes() == (14, 28, 70)
    assert planned(4, minutes=[5, 10, 25]).minutes() == (20, 40, 100)


def priced(small: Knowledge, steps: list[PlannedStep], shop: Shop | None = None, outside: tuple[str, ...] = ()) -> Price:
    return price_of(small, shop or Shop(minimum_charge=0.0), steps, outside)


def test_a_price_to_the_cent(small: Knowledge) -> None:
    """60 an hour: a minute is 1; three sheets at 0.5, 0.8, 1.2 for each of two."""
    steps = [planned(2, minutes=[5, 10, 25], then=[3, 6, 15], uses={"abrasive_sheet": 3}, wait="90 min"), planned(wait="1 d")]
    price = priced(small, steps)
    assert (price.low, price.likely, price.high) == pytest.approx((8 + 3 + 1, 16 + 4.8 + 2, 40 + 7.2 + 3))
    assert price.minutes == pytest.approx((9, 18, 43))
    assert price.waiting_hours == pytest.approx(25.5)
    assert price.expected == pytest.approx((12 + 4 * 22.8 + 50.2) / 6)
    assert price.width == pytest.approx(38.2)


def test_the_shop_says_what_its_materials_cost(small: Knowledge) -> None:
    steps = [planned(uses={"abrasive_sheet": 2})]
    shop = Shop(minimum_charge=0.0, rate_per_hour=0.0, prices={"abrasive_sheet": (1.0, 2.0, 4.0)})
    assert priced(small, steps, shop).likely == pytest.approx(4.0)


def test_never_under_the_minimum_charge(small: Knowledge) -> None:
    shop = Shop(minimum_charge=40.0)
    price = price_of(small, shop, [])
    assert (price.low, price.likely, price.high) == (40.0, 40.0, 40.0)
    assert price_of(small, shop, [planned(30)]).likely == pytest.approx(60.0)


def test_outside_work_is_paid_for(small: Knowledge) -> None:
    bare, sent = priced(small, [planned()]), priced(small, [planned()], outside=("caner",))
    assert (sent.low - bare.low, sent.likely - bare.likely, sent.high - bare.high) == pytest.approx((132.0, 264.0, 528.0)), (
        "with a tenth for sending and fetching"
    )


MORE: dict[str, Callable[[PlannedStep, Shop, float], tuple[PlannedStep, Shop]]] = {
    "more minutes": lambda one, shop, by: (
        replace(one, step=one.step.model_copy(update={"minutes": tuple(m + by for m in one.step.minutes)})), shop,
    ),
    "a higher rate": lambda one, shop, by: (one, shop.model_copy(update={"rate_per_hour": shop.rate_per_hour + by})),
    "more of it": lambda one, shop, by: (replace(one, count=one.count + 1), shop),
    "more used up": lambda one, shop, by: (
        replace(one, step=one.step.model_copy(update={"uses": {"abrasive_sheet": one.step.uses["abrasive_sheet"] + by}})), shop,
    ),
    "dearer materials": lambda one, shop, by: (
        one, shop.model_copy(update={"prices": {"abrasive_sheet": (0.5 + by, 0.8 + by, 1.2 + by)}}),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", MORE)
@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    minutes=st.lists(st.floats(1, 500), min_size=3, max_size=3).map(sorted),
    count=st.integers(1, 6),
    rate=st.floats(1, 200),
    sheets=st.floats(0.1, 20),
    by=st.floats(0.5, 60),
)
def test_a_price_grows_with_whatever_it_is_made_of(
    small: Knowledge, what: str, minutes: list[float], count: int, rate: float, sheets: float, by: float
) -> None:
    one = planned(count, minutes=minutes, uses={"abrasive_sheet": sheets})
    shop = Shop(minimum_charge=0.0, rate_per_hour=rate)
    less, more = priced(small, [one], shop), priced(small, *listed(MORE[what](one, shop, by)))
    assert less.low <= less.likely <= less.high
    assert more.low <= more.likely <= more.high
    assert more.low > less.low
    assert more.likely > less.likely
    assert more.high > less.high


def listed(pair: tuple[PlannedStep, Shop]) -> tuple[list[PlannedStep], Shop]:
    return [pair[0]], pair[1]


def test_a_plan_for_two_costs_less_than_two_plans(small: Knowledge) -> None:
    """Shared steps are paid once."""
    method = small.methods["reglue_cleaned"]
    each: Mapping[str, Price] = {name: priced(small, list(compose(small, CHAIR, [wish(method, name)]))) for name in ("a", "b")}
    both = priced(small, list(compose(small, CHAIR, [wish(method, "a"), wish(method, "b")])))
    assert both.likely < each["a"].likely + each["b"].likely
    assert both.likely > each["a"].likely
