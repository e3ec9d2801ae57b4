"""The whole piece: the search against brute force, and what it means for a chair with two damages.

The one case by hand at the end is the classical warning that choices which share a set-up cost must not be made one by one (greedily).
"""

import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from itertools import product

import pytest

from diagnose import words
from diagnose.assess import assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.advise import choosing, gates_of
from diagnose.decision.cost import least_of_each
from diagnose.decision.told_price import whole_price
from diagnose.decision.whole_piece import RETIRED, Way, cheapest_together, loss, whole_ways
from diagnose.planning.compose import Wish, gather
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
CLASSES = ["reglue", "replace_part", RETIRED]


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def random_piece(seed: int) -> tuple[list[list[Way]], float, Callable[[Sequence[str]], float]]:
    """Two to four damages with two to five ways each out of ten steps; a price that counts shared steps once, and a charge at the least."""
    rng = random.Random(seed)
    dear = {f"step_{number}": round(rng.uniform(0, 120), 2) for number in range(10)}
    further = {name: round(rng.uniform(0, 1), 2) for name in dear}
    least = rng.choice([0.0, 40.0, 200.0])
    damages = [
        [
            Way(
                method=f"{place}_{number}",
                decision=rng.choice(CLASSES),
                again=rng.uniform(0, 150),
                kept=rng.choice([0.0, 0.5, 0.9, 1.0]),
                steps={name: dear[name] for name in rng.sample(sorted(dear), rng.randint(0, 6))},
            )
            for number in range(rng.randint(2, 5))
        ]
        for place in range(rng.randint(2, 4))
    ]
    steps = {way.method: way.steps for ways in damages for way in ways}

    def price(methods: Sequence[str]) -> float:
        asked = [name for method in methods for name in steps[method]]
        total = sum(dear[name] * (1.0 + (asked.count(name) - 1) * further[name]) for name in set(asked))
        return max(total, least)

    return damages, rng.choice([0.0, 100.0, 800.0]), price


def by_brute_force(damages: Sequence[Sequence[Way]], value: float, price: Callable[[Sequence[str]], float]) -> float:
    """The least cost over every choice there is: all mended, or all retired where that can be told apart."""
    mended_or_retired = [choice for choice in product(*damages) if len({way.decision == RETIRED for way in choice}) == 1]
    choices = mended_or_retired or list(product(*damages))
    return min(loss(choice, value) + price([way.method for way in choice]) for choice in choices)


def test_five_hundred_random_pieces_come_out_as_by_brute_force() -> None:
    shared = unlike = 0
    for seed in range(500):
        damages, value, price = random_piece(seed)
        chosen = cheapest_together(damages, value, price)
        ways = [next(way for way in of_one if way.method == name) for of_one, name in zip(damages, chosen, strict=True)]
        got = loss(ways, value) + price(chosen)
        assert got == pytest.approx(by_brute_force(damages, value, price), abs=1e-6), seed
        used = [set(way.steps) for way in ways]
        shared += any(one & other for at, one in enumerate(used) for other in used[at + 1 :])
        alone = tuple(min(of_one, key=lambda way: loss([way], value) + price([way.method])).method for of_one in damages)
        unlike += alone != chosen
    assert shared > 200
    assert unlike > 50, "the best for each alone must often differ from the best for all"


def test_the_order_of_the_damages_does_not_matter() -> None:
    for seed in range(100):
        damages, value, price = random_piece(seed)
        forwards = cheapest_together(damages, value, price)
        backwards = cheapest_together(damages[::-1], value, lambda methods: price(methods[::-1]))  # noqa: B023
        costs = [
            loss([w for ways in damages for w in ways if w.method in chosen], value) + price(list(chosen))
            for chosen in (forwards, backwards[::-1])
        ]
        assert costs[0] == pytest.approx(costs[1], abs=1e-6), seed


def test_one_by_one_is_not_always_together() -> None:
    """By hand. Opening the frame costs 100. Damage A: patch 90, or open (100) and do it right 5. B: patch 80, or open (100) and 10.

    One by one: A takes 90 (< 105), B takes 80 (< 110): together 170. Opened once: 100 + 5 + 10 = 115.
    """
    one = [Way("patch_a", "reglue", 0, 1, {"a": 90.0}), Way("open_a", "reglue", 0, 1, {"open": 100.0, "right_a": 5.0})]
    two = [Way("patch_b", "reglue", 0, 1, {"b": 80.0}), Way("open_b", "reglue", 0, 1, {"open": 100.0, "right_b": 10.0})]
    costs = {"a": 90.0, "b": 80.0, "open": 100.0, "right_a": 5.0, "right_b": 10.0}
    steps = {way.method: set(way.steps) for way in (*one, *two)}

    def price(methods: Sequence[str]) -> float:
        return sum(costs[name] for name in set().union(*(steps[method] for method in methods)))

    greedy = [min(ways, key=lambda way: price([way.method])).method for ways in (one, two)]
    assert (greedy, price(greedy)) == (["patch_a", "patch_b"], 170.0)
    assert cheapest_together([one, two], 300.0, price) == ("open_a", "open_b")
    assert price(["open_a", "open_b"]) == 115.0


def test_a_piece_is_retired_whole_and_its_value_lost_once() -> None:
    """By hand. Mending 2 × 150 = 300. Retiring loses 200 once and 10 for the paper: 210, and not 2 × 200 + 10."""
    damages = [
        [Way(f"mend_{place}", "reglue", 0, 1, {f"mend_{place}": 150.0}), Way(f"retire_{place}", RETIRED, 0, 0, {"paper": 10.0})]
        for place in "ab"
    ]

    def price(methods: Sequence[str]) -> float:
        return sum({"m": 150.0}.get(name[0], 0.0) for name in methods) + (10.0 if methods[0].startswith("r") else 0.0)

    assert cheapest_together(damages, 200.0, price) == ("retire_a", "retire_b")
    assert cheapest_together(damages, 300.0, price) == ("mend_a", "mend_b")
    mixed = [[damages[0][0]], [damages[1][1]]]
    assert whole_ways(mixed) == [mixed], "where one can only be mended and the other only retired, each takes what it has"
    with pytest.raises(ValueError, match="no way left"):
        cheapest_together([damages[0], []], 1.0, price)


# With the rule base.


def chair(*damages: Damage, value: float = 600.0, **readings: str) -> Case:
    slack = {
        "left_side_rail_to_back_leg": "moves",
        "right_side_rail_to_back_leg": "moves",
        "left_side_rail_to_front_leg": "moves",
    }
    return Case(
        "side_chair",
        value=value,
        joints=slack,
        readings={name: Answer((reading,)) for name, reading in readings.items()},
        damages=damages,
    )


RAIL = Damage("rail", "loose", part="side_rail", joint="left_side_rail_to_back_leg", facts={"joint": "dowel"})
OTHER = Damage("other", "loose", part="side_rail", joint="right_side_rail_to_back_leg", facts={"joint": "dowel"})
LEG = Damage(
    "leg",
    "split",
    part="back_leg",
    facts={"joint": "none"},
    readings={"break_path": Answer(("along_grain",)), "dirt_in_crack": Answer(("fresh_clean",))},
)


def test_a_method_for_the_whole_frame_is_paid_once_for_two_loose_joints(knowledge: Knowledge) -> None:
    both = assess(chair(RAIL, OTHER), knowledge, Shop(), TODAY)
    one = assess(chair(RAIL), knowledge, Shop(), TODAY)
    methods = {d.decision.method for d in both.damages}
    assert len(methods) == 1
    assert {d.decision.extent for d in both.damages} == {"whole_frame"}
    assert one.price is not None
    assert both.price is not None
    assert both.price.expected < 1.3 * one.price.expected, "the frame is opened once"


@pytest.mark.parametrize("value", [60.0, 350.0, 600.0, 2000.0])
@pytest.mark.parametrize("damages", [(RAIL, LEG), (LEG, OTHER), (RAIL, OTHER, LEG)])
def test_what_is_advised_is_the_cheapest_of_every_choice_of_the_rule_base(
    knowledge: Knowledge, damages: tuple[Damage, ...], value: float
) -> None:
    got = assess(chair(*damages, value=value), knowledge, Shop(), TODAY)
    at = got.damages[0].situation
    open_to = [[o for o in d.decision.options if o.verdict is not words.Verdict.RULED_OUT] for d in got.damages]

    def cost(methods: Sequence[str]) -> float:
        wishes = [Wish(d.damage, knowledge.methods[m], d.deduction, d.facts) for d, m in zip(got.damages, methods, strict=True)]
        again, kept = 0.0, 1.0
        for options, name in zip(open_to, methods, strict=True):
            option = next(o for o in options if o.method == name)
            again += option.fails_again * (at.shop.failing_again_costs + at.shop.failing_again_share * value)
            kept *= knowledge.scale.keeps[knowledge.methods[name].keeps]
        return whole_price(knowledge, at.shop, got.case, wishes).expected + again + (1 - kept) * value

    groups = [
        [[o.method for o in options if (o.decision == RETIRED) is retired] for options in open_to] for retired in (False, True)
    ]
    least = min(cost(choice) for group in groups if all(group) for choice in product(*group))
    assert cost([d.decision.method for d in got.damages]) == pytest.approx(least, abs=1e-6)


def test_the_floor_under_a_price_is_never_above_it(knowledge: Knowledge) -> None:
    """What lets the search leave choices out: a step costs at least its first time, and a trade is paid once."""
    got = assess(chair(RAIL, LEG), knowledge, Shop(), TODAY)
    at = got.damages[0].situation
    for damage in got.damages:
        for option in damage.decision.options:
            method = knowledge.methods[option.method]
            wish = Wish(damage.damage, method, damage.deduction, damage.facts)
            least = least_of_each(knowledge, at.shop, gather(knowledge, got.case, [wish]), [method.by])
            assert sum(least.values()) <= whole_price(knowledge, at.shop, got.case, [wish]).expected + 1e-9


def test_what_is_chosen_for_the_whole_piece_has_gates_of_its_own(knowledge: Knowledge) -> None:
    """What could rule the method out is what could rule *this* method out, and it is settled only if nothing can."""
    checked = 0
    for damage in assess(chair(RAIL, LEG), knowledge, Shop(), TODAY).damages:
        at = damage.situation
        for option in damage.decision.options:
            if option.verdict is words.Verdict.RULED_OUT or option.method == damage.decision.method:
                continue
            got = choosing(at, damage.decision, option.method)
            wanted = gates_of(at, knowledge.methods[option.method])
            assert got.method == option.method
            assert got.provided_that == wanted
            assert got.settled is not any(gate.forbids for gate in wanted)
            assert got.options[0].verdict is words.Verdict.ADVISED
            assert [o.verdict for o in got.options].count(words.Verdict.ADVISED) == 1
            assert not got.tie
            assert words.Verdict.TIE not in {o.verdict for o in got.options}
            assert sorted(o.method for o in got.options) == sorted(o.method for o in damage.decision.options)
            checked += wanted != damage.decision.provided_that
    assert checked >= 2, "some method must have gates unlike those of the one advised first"


def test_retiring_comes_when_mending_all_costs_more_than_the_piece(knowledge: Knowledge) -> None:
    cheap, dear = (assess(chair(RAIL, LEG, value=v), knowledge, Shop(), TODAY) for v in (60.0, 3000.0))
    assert {d.decision.decision for d in cheap.damages} == {RETIRED}
    assert RETIRED not in {d.decision.decision for d in dear.damages}
    assert replace(cheap.case, value=3000.0).damages == dear.case.damages
