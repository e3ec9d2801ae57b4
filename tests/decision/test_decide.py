"""The decision: flips are where the cheapest line changes, a banned method is never advised, ties are told as ties."""

import random
from collections.abc import Mapping, Sequence
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose import words
from diagnose.decision.ban import BY_NAME, BY_STRENGTH, FIT, forbidden, is_short, not_fit
from diagnose.decision.cost import Price
from diagnose.decision.decide import Choice, Flip, Line, cost_matrix, flips, line_of, table
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.entries import Effect, Method
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

SHOP = Shop()
KNOWLEDGE = load_knowledge()
CLASSES = list(words.CLASSES)
CENT = 1e-6


# Flips.


def random_lines(seed: int) -> list[Line]:
    """Two to eight methods; some alike, some parallel, some starting at the same cost."""
    rng = random.Random(seed)
    found: list[Line] = []
    for number in range(rng.randint(2, 8)):
        at_zero, slope = rng.uniform(0, 900), rng.uniform(0, 1.2)
        if found and rng.random() < 0.15:
            at_zero = rng.choice(found).at_zero
        if found and rng.random() < 0.15:
            slope = rng.choice(found).slope
        found.append(Line(f"m{number}", at_zero, slope))
    return found


def advised(lines: Sequence[Line], corners: Sequence[Flip], value: float) -> str:
    """The method that the flips say is cheapest at a value."""
    name = corners[0].below if corners else min(lines, key=lambda line: (line.at(0.0), line.slope, line.method)).method
    for corner in corners:
        if corner.value <= value:
            assert corner.below == name
            name = corner.above
    return name


def test_flips_agree_with_brute_force_on_three_hundred_sets_of_lines() -> None:
    values = np.arange(0, 5001, dtype=np.float64)
    flipped = 0
    for seed in range(300):
        lines = random_lines(seed)
        corners = flips(lines)
        costs = np.array([line.at_zero + line.slope * values for line in lines])
        cheapest = costs.min(axis=0)
        names = [line.method for line in lines]
        by_flips = np.array([names.index(advised(lines, corners, value)) for value in values])
        assert np.all(costs[by_flips, values.astype(int)] <= cheapest + CENT), seed
        clear = np.sort(costs, axis=0)[1] > cheapest + CENT
        assert np.all(by_flips[clear] == costs.argmin(axis=0)[clear]), seed
        flipped += len(corners)
    assert flipped > 200


def test_flips_are_crossings_in_rising_order() -> None:
    for seed in range(300):
        lines = {line.method: line for line in random_lines(seed)}
        corners = flips(list(lines.values()))
        for corner in corners:
            below, above = lines[corner.below], lines[corner.above]
            assert corner.value >= 0
            assert below.at(corner.value) == pytest.approx(above.at(corner.value), abs=CENT)
            assert below.slope > above.slope
        for one, other in pairwise(corners):
            assert one.value <= other.value + CENT
            assert one.above == other.below
        assert len({corner.above for corner in corners}) == len(corners)


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ([], []),
        ([("a", 10, 1)], []),
        ([("a", 10, 1), ("b", 20, 1)], []),
        ([("a", 10, 1), ("b", 10, 1)], []),
        ([("a", 10, 0.5), ("b", 20, 1)], []),
        ([("a", 10, 1), ("b", 20, 0.5)], [(20, "a", "b")]),
        ([("a", 10, 1), ("b", 20, 0.5), ("c", 30, 0)], [(20, "a", "c")]),
        ([("a", 0, 1), ("b", 50, 0.5), ("c", 300, 0)], [(100, "a", "b"), (500, "b", "c")]),
        ([("a", 0, 1), ("b", 290, 0.5), ("c", 300, 0)], [(300, "a", "c")]),
        ([("a", 10, 1), ("b", 10, 0.5)], []),
        ([("a", 10, 0), ("b", 20, 0.5)], []),
    ],
)
def test_flips_by_hand(lines: list[tuple[str, float, float]], expected: list[tuple[float, str, str]]) -> None:
    got = [(corner.value, corner.below, corner.above) for corner in flips([Line(*line) for line in lines])]
    assert got == [(pytest.approx(value), below, above) for value, below, above in expected]


def test_flips_beyond_what_furniture_is_worth_are_not_told() -> None:
    lines = [Line("a", 0.0, 0.2), Line("b", 1000.0, 0.1)]
    assert [corner.value for corner in flips(lines)] == [pytest.approx(10_000)]
    assert flips(lines, highest=9_000) == ()


# The table.

POSTERIOR = np.array([0.2, 0.5, 0.3])


def random_choices(seed: int) -> list[Choice]:
    rng = random.Random(seed)
    found = []
    for number in range(rng.randint(1, 7)):
        low = rng.uniform(0, 400)
        likely = low + rng.uniform(0, 200)
        price = Price(low, likely, likely + rng.uniform(0, 400))
        fails = np.array([rng.uniform(0, 1) for _ in POSTERIOR])
        found.append(Choice(f"m{number}", rng.choice(CLASSES[:4]), price, rng.choice([1.0, 0.9, 0.5, 0.0]), fails))
    return found


def sweep(choices: Sequence[Choice], banned: Mapping[str, str]) -> list[str]:
    """What is advised as the value rises from 0 to 5000."""
    return [table(choices, banned, POSTERIOR, float(value), SHOP)[0][0].method for value in range(0, 5001, 10)]


@pytest.mark.parametrize("seed", range(40))
def test_as_the_value_rises_the_advice_never_comes_back(seed: int) -> None:
    choices = random_choices(seed)
    rng = random.Random(seed)
    banned = {choice.method: "forbidden" for choice in choices[1:] if rng.random() < 0.3}
    course = sweep(choices, banned)
    turns = [name for index, name in enumerate(course) if index == 0 or name != course[index - 1]]
    assert len(turns) == len(set(turns))
    lines = {c.method: line_of(c, POSTERIOR, SHOP.failing_again_costs, SHOP.failing_again_share) for c in choices}
    slopes = [lines[name].slope for name in turns]
    assert slopes == sorted(slopes, reverse=True)
    _, corners = table(choices, banned, POSTERIOR, 300.0, SHOP)
    told = [corners[0].below, *(corner.above for corner in corners if corner.value <= 5000)] if corners else turns
    assert [name for name in turns if name not in told] == [], "what is ever advised stands among the flips"
    assert not {corner.above for corner in corners} & set(banned)


def test_a_banned_method_is_never_advised_and_never_the_measure_of_another() -> None:
    checked = 0
    for seed in range(60):
        choices = random_choices(seed)
        for kept in product([True, False], repeat=len(choices)):
            banned = {c.method: f"because of {c.method}" for c, keep in zip(choices, kept, strict=True) if not keep}
            options, corners = table(choices, banned, POSTERIOR, 400.0, SHOP)
            assert sorted(option.method for option in options) == sorted(choice.method for choice in choices)
            for option in options:
                assert (option.verdict is words.Verdict.RULED_OUT) is (option.method in banned)
                assert option.method not in banned or option.because == f"because of {option.method}"
            named = {name for corner in corners for name in (corner.below, corner.above)}
            assert not named & set(banned)
            best = [option.method for option in options if option.verdict is words.Verdict.ADVISED]
            open_ones = [option for option in options if option.method not in banned]
            assert best == [option.method for option in open_ones[:1]]
            assert [option.cost for option in open_ones] == sorted(option.cost for option in open_ones)
            assert list(options[len(open_ones) :]) == [option for option in options if option.method in banned]
            only_open, _ = table([c for c in choices if c.method not in banned], {}, POSTERIOR, 400.0, SHOP)
            assert tuple(open_ones) == only_open
            checked += 1
    assert checked > 1000


def choice(method: str, likely: float, width: float, decision: str = "reglue", fails: float = 0.0, kept: float = 1.0) -> Choice:
    """A method whose price lies evenly about `likely`, so that it is also what is expected."""
    return Choice(method, decision, Price(likely - width / 2, likely, likely + width / 2), kept, np.full(3, fails))


def verdicts(*choices: Choice, value: float = 0.0) -> dict[str, words.Verdict]:
    options, _ = table(choices, {}, POSTERIOR, value, SHOP)
    return {option.method: option.verdict for option in options}


ADVISED, TIE = words.Verdict.ADVISED, words.Verdict.TIE
POSSIBLE, NOT_ADVISED = words.Verdict.POSSIBLE, words.Verdict.NOT_ADVISED


def test_costs_closer_than_half_a_price_range_are_a_tie() -> None:
    near = verdicts(choice("a", 100, 40), choice("b", 119, 40, "replace_part"))
    far = verdicts(choice("a", 100, 40), choice("b", 120.5, 40, "replace_part"))
    assert near == {"a": ADVISED, "b": TIE}
    assert far == {"a": ADVISED, "b": POSSIBLE}


def test_two_methods_of_one_class_are_no_tie() -> None:
    assert verdicts(choice("a", 100, 40), choice("b", 101, 40)) == {"a": ADVISED, "b": POSSIBLE}


def test_a_method_with_a_very_wide_price_is_not_as_good_as_everything() -> None:
    assert verdicts(choice("a", 300, 20), choice("b", 400, 600, "replace_part")) == {"a": ADVISED, "b": POSSIBLE}


def test_the_same_cost_is_a_tie_however_exact_the_prices() -> None:
    assert verdicts(choice("a", 100, 2), choice("b", 100, 2, "replace_part")) == {"a": ADVISED, "b": TIE}


def test_what_costs_more_than_the_best_over_again_is_not_advised() -> None:
    got = verdicts(choice("a", 100, 10), choice("b", 199, 10, "replace_part"), choice("c", 201, 10, "level_or_trim"))
    assert got == {"a": ADVISED, "b": POSSIBLE, "c": NOT_ADVISED}


def test_at_the_same_cost_the_name_decides_and_not_the_order() -> None:
    one, other = choice("b", 100, 10), choice("a", 100, 10)
    assert verdicts(one, other) == verdicts(other, one) == {"a": ADVISED, "b": POSSIBLE}


def test_the_reasons_say_what_is_saved() -> None:
    options, _ = table([choice("a", 100, 10), choice("b", 150, 10)], {}, POSTERIOR, 0.0, SHOP)
    assert options[0].because == "the least expected cost over 5 years: about EUR 100"
    assert options[1].because == "expected to cost about EUR 50 more over 5 years"


def test_where_everything_is_banned_nothing_is_advised() -> None:
    options, corners = table([choice("a", 100, 10), choice("b", 50, 10)], {"a": "no", "b": "never"}, POSTERIOR, 0.0, SHOP)
    assert [(option.method, option.verdict.value, option.because) for option in options] == [
        ("a", "ruled_out", "no"),
        ("b", "ruled_out", "never"),
    ]
    assert corners == ()
    assert table([], {}, POSTERIOR, 0.0, SHOP) == ((), ())


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.integers(0, 10_000), st.floats(0, 5000))
def test_the_cost_is_price_and_loss_and_failing_again(seed: int, value: float) -> None:
    choices = random_choices(seed)
    redo, harm = SHOP.failing_again_costs, SHOP.failing_again_share
    matrix = cost_matrix(choices, value, redo, harm)
    options, _ = table(choices, {}, POSTERIOR, value, SHOP)
    cost = {option.method: option.cost for option in options}
    for index, one in enumerate(choices):
        again = float(one.fails @ POSTERIOR)
        by_hand = one.price.expected + (1 - one.kept) * value + again * (redo + harm * value)
        assert cost[one.method] == pytest.approx(by_hand, rel=1e-12)
        assert matrix[index] @ POSTERIOR == pytest.approx(by_hand, rel=1e-12)
        option = next(option for option in options if option.method == one.method)
        assert option.fails_again == pytest.approx(again)
        assert option.chance_it_holds == pytest.approx(1 - again)


# Bans.


def of_class(decision: str) -> Method:
    return next(method for method in KNOWLEDGE.methods.values() if method.decision == decision)


def deduced(*effects: tuple[str, str]) -> Deduction:
    rules = list(KNOWLEDGE.logic)
    return Deduction(
        (), (), tuple((rules[i], Effect.model_validate({"kind": k, "target": t})) for i, (k, t) in enumerate(effects))
    )


METHODS = [of_class("reglue"), of_class("reglue_with_reinforcement"), of_class("replace_part"), of_class("retire_piece")]
NAMES = [method.id for method in METHODS]
BECAUSE = [rule.because for rule in KNOWLEDGE.logic.values()]


@pytest.mark.parametrize(
    ("ratio", "must_exceed", "short"),
    [(None, False, False), (None, True, False), (FIT, False, False), (0.89, False, True), (1.0, True, True), (1.01, True, False)],
)
def test_what_is_too_weak(ratio: float | None, must_exceed: bool, short: bool) -> None:
    assert is_short(ratio, must_exceed) is short


def test_rules_forbid_a_method_a_class_or_whatever_is_left_too_weak() -> None:
    ratios: dict[str, float | None] = {NAMES[0]: 0.5, NAMES[1]: 0.95, NAMES[2]: 1.2, NAMES[3]: None}

    def ban(*effects: tuple[str, str], must_exceed: bool = False) -> dict[str, str]:
        every = (*BY_STRENGTH, *BY_NAME)
        return forbidden(deduced(*effects), METHODS, KNOWLEDGE.logic, ratios, must_exceed, every)

    assert ban(("forbid_method", NAMES[0])) == {NAMES[0]: BECAUSE[0]}
    assert ban(("forbid_class", METHODS[2].decision)) == {NAMES[2]: BECAUSE[0]}
    assert ban(("forbid_whose", "short")) == {NAMES[0]: BECAUSE[0]}
    assert set(ban(("forbid_whose", "short"), must_exceed=True)) == {NAMES[0], NAMES[1]}
    assert set(ban(("forbid_whose", "ample"))) == {NAMES[1], NAMES[2]}
    assert ban(("require", NAMES[0]), ("finding", NAMES[1]), ("caution", NAMES[2])) == {}
    both = ban(("forbid_class", METHODS[0].decision), ("forbid_method", NAMES[1]))
    assert both == {NAMES[0]: BECAUSE[0], NAMES[1]: BECAUSE[1]}


def test_the_ground_nearest_to_the_method_is_told() -> None:
    """A ban by name tells more than one of its class, and that more than one of its strength; of two alike the first."""
    ratios: dict[str, float | None] = dict.fromkeys(NAMES, 0.5)
    short, by_class, by_name = ("forbid_whose", "short"), ("forbid_class", METHODS[0].decision), ("forbid_method", NAMES[0])

    def told(*effects: tuple[str, str]) -> str:
        every = (*BY_STRENGTH, *BY_NAME)
        return forbidden(deduced(*effects), METHODS, KNOWLEDGE.logic, ratios, False, every)[NAMES[0]]

    assert told(short, by_class, by_name) == told(by_class, short, by_name) == BECAUSE[2]
    assert told(short, by_class) == BECAUSE[1]
    assert told(by_name, by_name, by_class) == BECAUSE[0]
    assert forbidden(deduced(short, by_name), METHODS, KNOWLEDGE.logic, ratios, False, BY_STRENGTH)[NAMES[0]] == BECAUSE[0]
    assert list(forbidden(deduced(short, by_name), METHODS, KNOWLEDGE.logic, ratios, False, BY_NAME)) == [NAMES[0]]


@pytest.mark.parametrize("consequence", [None, *words.CONSEQUENCES])
def test_where_somebody_could_fall_what_is_too_weak_is_ruled_out(consequence: str | None) -> None:
    ratios: dict[str, float | None] = dict.fromkeys(NAMES, 0.6)
    got = not_fit(METHODS, consequence, ratios, must_exceed=False)
    if consequence not in words.NOT_FOR_MONEY:
        assert got == {}
        return
    in_use = {method.id for method in METHODS if method.end_use not in ("show_only", "not_to_be_used") and method.by == "us"}
    assert set(got) == in_use
    assert len(in_use) >= 3
    assert all("60%" in reason and words.CONSEQUENCES[consequence] in reason for reason in got.values())
    assert not_fit(METHODS, consequence, dict.fromkeys(NAMES, 0.95), must_exceed=False) == {}
    assert set(not_fit(METHODS, consequence, dict.fromkeys(NAMES, 1.0), must_exceed=True)) == in_use
