"""Small decisions worked out by hand, every step printed, and every figure of it asserted of the real functions.

The worked case of the design (`test_worked_case`) has six causes; here are two to four, so that the arithmetic fits beside the
test. Published results that are used: expected value, perfect and sample information as in Raiffa and Schlaifer 1961; that checks
tried one after another until the fault is found take least in the order of probability over cost (Kadane and Simon, as told by
Ottosen and Jensen, "The Cost of Troubleshooting Cost Clusters with Inside Information", UAI 2010, abstract, read); and, from the
same abstract, that this is not so where checks lie inside something to be opened first: there they are weighed as a whole.
"""

import itertools
import random
from collections.abc import Mapping, Sequence
from dataclasses import fields

import numpy as np
import pytest

from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.advise import Situation
from diagnose.decision.cost import Price
from diagnose.decision.decide import Choice, cost_matrix, flips, line_of
from diagnose.decision.inquire import Question, branches, perfect, reading_chances, worth
from diagnose.decision.next_signs import Questions, next_signs
from diagnose.reasoning.believe import answer_tables, believe
from diagnose.reasoning.deduce import Deduction
from diagnose.reasoning.facts import Facts
from diagnose.reasoning.model import Array, SignTable, build_model
from diagnose.rulebase.entries import Cause, Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop
from tests import worked

CLOSE = 1e-9

# ---- one decision: a loose joint, two causes that exclude each other, two methods
#
#                      old glue   gap too wide
#   chance                 .7          .3
#   reglue   80 again      .10         .80      price (60 + 4x80 + 100)/6  = 480/6 = 80
#   rebuild 150 again      .05         .10      price (120 + 4x150 + 180)/6 = 900/6 = 150
#
#   failing again costs 150 and .3 of the value; at a value of 400 that is 150 + .3x400 = 270.
MEMBERS = np.eye(2)
CHANCE = np.array([0.7, 0.3])
REDO, HARM, VALUE, WRONG_REASON = 150.0, 0.3, 400.0, 60.0
REGLUE = Choice("reglue", "reglue", Price(60, 80, 100), 1.0, np.array([0.10, 0.80]))
REBUILD = Choice("rebuild", "rebuild", Price(120, 150, 180), 1.0, np.array([0.05, 0.10]))
COSTS = cost_matrix([REGLUE, REBUILD], VALUE, REDO, HARM)


def two_readings(wide_if_old_glue: float, wide_if_gap: float) -> SignTable:
    """A look with two readings: how often each cause shows a wide gap."""
    look = worked.sign("gap", "choose_one", {"wide": {"background": "often"}, "snug": {"background": "often"}})
    return SignTable(look, ("wide", "snug"), np.array([[w, 1.0 - w] for w in (wide_if_old_glue, wide_if_gap)]))


def decision_worth(table: SignTable, error: float = 0.0) -> float:
    return worth(table, MEMBERS, CHANCE, COSTS, WRONG_REASON, error).decision


def test_expected_cost() -> None:
    """reglue   fails .7x.10 + .3x.80 = .07 + .24 = .31      80 + .31x270  =  80 + 83.70 = 163.70
    rebuild  fails .7x.05 + .3x.10 = .035 + .03 = .065   150 + .065x270 = 150 + 17.55 = 167.55
    """
    assert (REGLUE.price.expected, REBUILD.price.expected) == (80.0, 150.0)
    assert [choice.fails @ CHANCE for choice in (REGLUE, REBUILD)] == pytest.approx([0.31, 0.065])
    reglue, rebuild = COSTS @ CHANCE
    assert (reglue, rebuild) == pytest.approx((163.70, 167.55))


def test_break_even_value() -> None:
    """reglue   80 + .31x150 = 126.50 and .31x.3 = .093 of the value; rebuild 150 + .065x150 = 159.75 and .065x.3 = .0195 of it.

    Equal at (159.75 - 126.50) / (.093 - .0195) = 33.25 / .0735 = 452.38.
    """
    lines = [line_of(choice, CHANCE, REDO, HARM) for choice in (REGLUE, REBUILD)]
    assert [(line.at_zero, line.slope) for line in lines] == [pytest.approx((126.50, 0.093)), pytest.approx((159.75, 0.0195))]
    (flip,) = flips(lines)
    assert (flip.below, flip.above) == ("reglue", "rebuild")
    assert flip.value == pytest.approx(33.25 / 0.0735) == pytest.approx(452.38, abs=0.005)


def test_break_even_chance() -> None:
    """With q for the gap: reglue 80 + 270(.1 + .7q) = 107 + 189q; rebuild 150 + 270(.05 + .05q) = 163.5 + 13.5q.

    Equal at q = 56.5 / 175.5 = .3219; below it regluing is the cheaper, above it rebuilding.
    """
    q = 56.5 / 175.5
    assert q == pytest.approx(0.3219, abs=5e-5)
    at = {share: COSTS @ np.array([1.0 - share, share]) for share in (q - 0.01, q, q + 0.01)}
    assert at[q][0] == pytest.approx(at[q][1]) == pytest.approx(107 + 189 * q)
    assert at[q - 0.01][0] < at[q - 0.01][1]
    assert at[q + 0.01][0] > at[q + 0.01][1]


def test_perfect_information() -> None:
    """old glue: reglue 80 + 27 = 107, rebuild 150 + 13.5 = 163.5; gap: reglue 80 + 216 = 296, rebuild 150 + 27 = 177.

    Knowing which: .7x107 + .3x177 = 74.90 + 53.10 = 128.00, so it is worth 163.70 - 128.00 = 35.70.
    The letter names the right cause in 1 of 1 instead of .7: .3 x 60 = 18.00.
    """
    (reglue_old, reglue_gap), (rebuild_old, rebuild_gap) = COSTS
    assert (reglue_old, rebuild_old, reglue_gap, rebuild_gap) == pytest.approx((107.0, 163.5, 296.0, 177.0))
    assert np.array([107.0, 177.0]) @ CHANCE == pytest.approx(128.00)
    roof = perfect(MEMBERS, CHANCE, COSTS, WRONG_REASON)
    assert (roof.decision, roof.naming, roof.total) == pytest.approx((35.70, 18.00, 53.70))


def test_an_imperfect_look() -> None:
    """Old glue shows a wide gap in .2, a gap too wide in .9.

    wide   .7x.2 + .3x.9 = .14 + .27 = .41    reglue 14.98 + 79.92 = 94.90    rebuild 22.89 + 47.79 = 70.68
    snug   .7x.8 + .3x.1 = .56 + .03 = .59    reglue 59.92 +  8.88 = 68.80    rebuild 91.56 +  5.31 = 96.87
    The cheaper in each: 70.68 + 68.80 = 139.48, so the look is worth 163.70 - 139.48 = 24.22.
    Named right: .27 + .56 = .83 instead of .70, 60 x .13 = 7.80. Together 32.02; in two minutes 16.01 a minute.
    """
    table = two_readings(0.2, 0.9)
    assert reading_chances(table, CHANCE) == pytest.approx({"wide": 0.41, "snug": 0.59})
    found = {branch.reads[0]: branch for branch in branches(table, MEMBERS, CHANCE, COSTS, 0.0)}
    assert found["wide"].costs * 0.41 == pytest.approx([94.90, 70.68])
    assert found["snug"].costs * 0.59 == pytest.approx([68.80, 96.87])
    assert found["wide"].causes == pytest.approx([0.14 / 0.41, 0.27 / 0.41])
    got = worth(table, MEMBERS, CHANCE, COSTS, WRONG_REASON, 0.0)
    assert (got.decision, got.naming, got.total) == pytest.approx((24.22, 7.80, 32.02))
    assert Question("gap", got.total, 2.0).per_minute == pytest.approx(16.01)


def test_the_same_look_by_a_hurried_eye() -> None:
    """Off in one of five: .8x.2 + .1 = .26 and .8x.9 + .1 = .82.

    wide   .182 + .246 = .428    reglue 19.474 + 72.816 = 92.290    rebuild 29.757 + 43.542 = 73.299
    snug   .518 + .054 = .572    reglue 55.426 + 15.984 = 71.410    rebuild 84.693 +  9.558 = 94.251
    163.70 - (73.299 + 71.410) = 163.70 - 144.709 = 18.991, against 24.22 by a sure eye.
    """
    assert decision_worth(two_readings(0.2, 0.9), 0.2) == pytest.approx(18.991)


def test_a_look_that_cannot_turn_the_advice_is_worth_nothing_and_two_of_them_are_worth_something() -> None:
    """Where looking one answer ahead falls short: readings .5 and .55 leave the gap at .165/.515 = .3204, under .3219.

    Both wide: .7x.25 = .175 and .3x.3025 = .09075, .3415 of them a gap. reglue 18.725 + 26.862 = 45.587, rebuild 28.6125 + 16.06275
    = 44.67525: there rebuilding is the cheaper by .91175. With one or none wide regluing stays: the two together are worth .91175.
    """
    once = two_readings(0.5, 0.55)
    assert decision_worth(once) == pytest.approx(0.0, abs=CLOSE)
    both = worked.sign("both", "choose_one", {name: {"background": "sometimes"} for name in ("ww", "ws", "sw", "ss")})
    like = np.array([[first * second for first, second in itertools.product(row, row)] for row in once.like])
    table = SignTable(both, ("ww", "ws", "sw", "ss"), like)
    assert like[:, 0] * CHANCE == pytest.approx([0.175, 0.09075])
    assert COSTS @ (like[:, 0] * CHANCE) == pytest.approx([45.587, 44.67525])
    assert decision_worth(table) == pytest.approx(0.91175)


# ---- checks tried one after another until the fault is found


def expected_minutes(
    order: Sequence[str], chance: Mapping[str, float], minutes: Mapping[str, float], opening: float = 0.0
) -> float:
    """Minutes until the fault is found, or all is looked at: each check is paid if none before it found it, and opening once,
    before the first check whose name begins with "inside"."""
    left, total, opened = 1.0, 0.0, False
    for name in order:
        inside = name.startswith("inside")
        total += left * (minutes[name] + (opening if inside and not opened else 0.0))
        opened = opened or inside
        left -= chance[name]
    return total


def by_rank(chance: Mapping[str, float], minutes: Mapping[str, float]) -> list[str]:
    """The order in which our questions rank when finding the fault is worth the same whatever it is."""
    asked = [Question(name, 100.0 * chance[name], minutes[name]) for name in chance]
    return [question.sign for question in sorted(asked, key=lambda question: -question.per_minute)]


def test_probability_over_cost() -> None:
    """a .5 in 5 min (.10 a min), b .3 in 2 min (.15), c .2 in 4 min (.05): b, a, c takes 2 + .7x5 + .2x4 = 6.30 minutes.

    Likeliest first   a b c   5 + .5x2 + .2x4 = 6.80        a c b   5 + .5x4 + .3x2 = 7.60
    Quickest first    b c a   2 + .7x4 + .5x5 = 7.30        c a b   4 + .8x5 + .3x2 = 8.60
                                                            c b a   4 + .8x2 + .5x5 = 8.10
    """
    chance, minutes = {"a": 0.5, "b": 0.3, "c": 0.2}, {"a": 5.0, "b": 2.0, "c": 4.0}
    printed = {"bac": 6.30, "abc": 6.80, "acb": 7.60, "bca": 7.30, "cab": 8.60, "cba": 8.10}
    assert {"".join(order): expected_minutes(order, chance, minutes) for order in itertools.permutations("abc")} == pytest.approx(
        printed
    )
    assert by_rank(chance, minutes) == ["b", "a", "c"]
    assert min(printed, key=lambda order: printed[order]) == "bac"


def test_what_the_repair_costs_does_not_change_the_order_of_two_checks() -> None:
    """Two causes, p = .3; checks 4 and 10, repairs 20 and 30 (the exercise of the textbooks: first the first if (1-p)x4 < px10).

    First, then second   .3x(4 + 20) + .7x(4 + 10 + 30) =  7.20 + 30.80 = 38.00
    Second, then first   .7x(10 + 30) + .3x(10 + 4 + 20) = 28.00 + 10.20 = 38.20
    .7x4 - .3x10 = -.20 is the whole difference: the repairs are paid either way.
    """
    p, checks, repairs = 0.3, (4.0, 10.0), (20.0, 30.0)
    first = p * (checks[0] + repairs[0]) + (1 - p) * (sum(checks) + repairs[1])
    second = (1 - p) * (checks[1] + repairs[1]) + p * (sum(checks) + repairs[0])
    assert (first, second) == pytest.approx((38.00, 38.20))
    assert first - second == pytest.approx((1 - p) * checks[0] - p * checks[1])
    assert by_rank({"first": p, "second": 1 - p}, {"first": checks[0], "second": checks[1]}) == ["first", "second"]


def test_no_order_beats_probability_over_cost() -> None:
    """Every order of up to six checks, 200 times: none takes less than ours."""
    rng = random.Random("order")
    better_than_likeliest = 0
    for _ in range(200):
        names = "abcdef"[: rng.randint(2, 6)]
        weights = [rng.random() for _ in names]
        chance = {name: weight / sum(weights) for name, weight in zip(names, weights, strict=True)}
        minutes = {name: rng.uniform(0.5, 10.0) for name in names}
        ours = expected_minutes(by_rank(chance, minutes), chance, minutes)
        least = min(expected_minutes(order, chance, minutes) for order in itertools.permutations(names))
        assert ours == pytest.approx(least)
        likeliest = sorted(names, key=lambda name: -chance[name])
        better_than_likeliest += ours < expected_minutes(likeliest, chance, minutes) - 1e-6
    assert better_than_likeliest > 100


# ---- where that order fails: what must be opened first, by the real ranking
#
#   rest .40 (no look shows it)   outside .24 in 5 min   inside_a .20 and inside_b .16: the first in 5 min with the opening, then 1
NO_DOUBT = {"nearly_always": 1.0, "often": 0.6, "never": 0.0}
SURE = worked.SCALE.model_copy(
    update={
        "words": {**worked.SCALE.words, **NO_DOUBT},
        "effort": {**worked.SCALE.effort, "take_apart": 5.0},
        "off_by": dict.fromkeys(worked.SCALE.off_by, 0.0),
        "something_else": 0.0,
        "turning": 0.0,
    }
)
SHARES = {"rest": 0.40, "outside": 0.24, "inside_a": 0.20, "inside_b": 0.16}
MINUTES = {"outside": 5.0, "inside_a": 1.0, "inside_b": 1.0}
OPENING = 4.0
SHOP = Shop.model_validate({"wrong_reason_costs": 60.0, "rate_per_hour": 45.0})


def yes_no(name: str, **more: object) -> Sign:
    return worked.sign(name, "yes_no", {"yes": {"background": "never"}, "no": {}}, **more)


INSIDE = {"station": "inside_joint", "effort": "take_apart"}
OUTSIDE = {"station": "standing", "effort": "touch", "minutes": 5.0}
LOOKS = (yes_no("outside", **OUTSIDE), yes_no("inside_a", **INSIDE), yes_no("inside_b", **INSIDE))


def shown_by(name: str) -> Cause:
    """A cause that its own look shows without fail; the look for the rest is not among those that can be taken."""
    return worked.cause(name, "regular", "sometimes", {name: {"yes": "nearly_always"}})


def asked(signs: Sequence[Sign], answered: Mapping[str, Answer]) -> Questions:
    """The real ranking at the bench, for a damage whose four causes exclude each other and whose methods all cost the same."""
    by_name = {sign.id: sign for sign in signs}
    causes = tuple(shown_by(name) for name in SHARES)
    empty: dict[str, object] = {field.name: {} for field in fields(Knowledge)}
    knowledge = Knowledge(**{**empty, "version": "", "scale": SURE, "signs": by_name, "stories": ()})  # type: ignore[arg-type]
    model = build_model(SURE, causes, list(SHARES.values()), signs, largest=1)
    belief = believe(model, answer_tables(SURE, model, answered))
    damage = Damage("a", "loose", readings=dict(answered))
    facts = Facts({name: frozenset(answer.reads) for name, answer in answered.items()}, answered)
    costs: Array = np.zeros((1, model.sets))
    case = Case("side_chair", damages=(damage,))
    at = Situation(knowledge, SHOP, case, damage, facts, Deduction((), (), ()), belief, 0.0)
    return next_signs(at, (), costs, "bench", "standing")


def test_what_a_look_is_worth_here_is_its_probability() -> None:
    """The rest leads with .40, so a look at another cause is worth 60 x its chance: 14.40 and 9.60 in 5 minutes each.

    inside_a, worth 12.00, is scored with inside_b, which then costs a minute: 21.60 in 6.
    """
    found = {question.sign: (question.value, question.minutes) for question in asked(LOOKS, {}).ranked}
    assert found["outside"] == pytest.approx((14.40, 5.0))
    assert found["inside_b"] == pytest.approx((9.60, 5.0))
    assert found["inside_a"] == pytest.approx((21.60, 6.0))


def test_an_opening_paid_once_is_not_looked_past() -> None:
    """Where the greedy order fails, ours does not.

    By the minute each look alone: outside 14.40/5 = 2.88, inside_a 12.00/5 = 2.40, inside_b 9.60/5 = 1.92. The joint as a whole is
    worth (12.00 + 9.60)/(5 + 1) = 3.60 a minute and comes first, with its better look.

    outside a b   5 + .76x5 + .56x1 = 9.36        a outside b   5 + .80x5 + .56x1 = 9.56
    outside b a   5 + .76x5 + .60x1 = 9.40        b outside a   5 + .84x5 + .60x1 = 9.80
    a b outside   5 + .80x1 + .64x5 = 9.00        b a outside   5 + .84x1 + .64x5 = 9.04
    """
    o, a, b = "outside", "inside_a", "inside_b"
    printed = {(o, a, b): 9.36, (o, b, a): 9.40, (a, b, o): 9.00, (a, o, b): 9.56, (b, o, a): 9.80, (b, a, o): 9.04}
    got = {order: expected_minutes(order, SHARES, MINUTES, OPENING) for order in itertools.permutations((o, a, b))}
    assert got == pytest.approx(printed)
    by_minute = sorted((o, a, b), key=lambda name: -SHARES[name] / (MINUTES[name] + (0.0 if name == o else OPENING)))
    assert tuple(by_minute) == (o, a, b), "the greedy order"
    first = asked(LOOKS, {}).ranked[0]
    assert (first.sign, first.per_minute) == (a, pytest.approx(3.60))
    assert min(printed, key=lambda order: printed[order]) == (a, b, o)


def test_once_it_is_open_the_opening_counts_no_more() -> None:
    """inside_a read "no": of the .80 left outside has .30, inside_b .20, the rest .50. inside_b takes 1 minute now, so it is worth
    60 x .20 / 1 = 12.00 a minute, outside 60 x .30 / 5 = 3.60: the joint is looked through before anything else."""
    then = asked(LOOKS, {"inside_a": Answer(("no",))}).ranked
    assert [(question.sign, question.minutes) for question in then] == [("inside_b", 1.0), ("outside", 5.0)]
    assert [question.per_minute for question in then] == pytest.approx([12.00, 3.60])


def test_a_look_that_opens_another_is_weighed_with_it() -> None:
    """The one set-up cost that is looked past: a gate, worth nothing by itself, a minute, open in .6.

    With what it opens: .6 x 14.40 = 8.64 in 1 + .6x5 = 4 minutes, 2.16 a minute.
    """
    gate = worked.sign("gate", "yes_no", {"yes": {"background": "often"}, "no": {}}, station="standing", effort="touch")
    behind = yes_no("outside", **OUTSIDE, when={"gate": "yes"})
    (found,) = asked((gate, behind), {}).ranked
    assert (found.sign, found.value, found.minutes) == ("gate", pytest.approx(8.64), pytest.approx(4.0))
    assert found.per_minute == pytest.approx(2.16)
