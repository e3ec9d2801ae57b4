"""Laws of the advice: what is forbidden is never advised, every rule of safety does something, and order counts for nothing.

120 random cases; with FULL=1 in the environment 10,000, of which at least 3,000 must hold a ban on the method that would win without it.
The decision analyses at the end are worked by hand beside the figures: expected value, break-even, value of perfect information (the
textbook sums of Raiffa 1968 and Howard 1966).
"""

import os
import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from diagnose import assess as whole_way
from diagnose import words
from diagnose.assess import Assessment, DamageAssessment, assess
from diagnose.case.case import Answer, Case
from diagnose.case.told import case_of
from diagnose.decision.ban import is_short, puts_back
from diagnose.decision.cost import Price
from diagnose.decision.decide import Choice, cost_matrix, flips, line_of, table
from diagnose.decision.inquire import perfect
from diagnose.decision.undecided import Undecided
from diagnose.proof.counted import without
from diagnose.reasoning.deduce import deduce_plainly, fired_plainly
from diagnose.reasoning.engine import set_aside
from diagnose.reasoning.facts import facts_of
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.reasoning.test_laws import random_case

TODAY = date(2026, 3, 2)
FULL = os.environ.get("FULL") == "1"
CASES = 10_000 if FULL else 120
KNOWLEDGE = load_knowledge()
SAFETY = [rule.id for rule in KNOWLEDGE.logic.values() if rule.protects == "safety"]


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return KNOWLEDGE


@pytest.fixture(autouse=True)
def plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rules by the plain evaluator (held against the engine elsewhere): a rule base with one rule less would compile the engine anew."""
    monkeypatch.setattr(whole_way, "deduce", deduce_plainly)


FORBIDDING = [rule for rule in KNOWLEDGE.logic.values() if {"forbid_method", "forbid_class"} & {e.kind for e in rule.then}]


def provoked(case: Case, rng: random.Random) -> Case:
    """The case with the conditions of some rule that forbids, as far as one can answer or state them."""
    rule = rng.choice(FORBIDDING)
    lines = (*rule.when.lines, *(rng.choice(rule.when.branches) if rule.when.branches else ()))
    for line in lines:
        value, sign = rng.choice(line.values), KNOWLEDGE.signs.get(line.key)
        damages = case.damages
        if sign is not None and sign.computed is None:
            for damage in damages if sign.of == "damage" else [None]:
                case = case.with_answer(damage.id if damage else None, sign.id, Answer((value,)))
        elif line.key == "damage":
            case = replace(case, damages=tuple(replace(d, kind=value) for d in damages))
        elif line.key in ("carries", "consequence", "moving_joints", "our_term", "joint"):
            case = replace(case, damages=tuple(replace(d, facts={**d.facts, line.key: value}) for d in damages))
    return case


def random_assessments(count: int) -> Iterator[tuple[int, Assessment]]:
    for seed in range(count):
        rng = random.Random(seed)
        try:
            case = provoked(random_case(KNOWLEDGE, rng, damages=rng.choice([1, 1, 2])), rng)
            yield seed, assess(case, KNOWLEDGE, Shop(), TODAY)
        except Undecided:
            continue


def forbidden_by_name(damage: DamageAssessment) -> set[str]:
    """What the fired rules forbid by method or class, read off the effects."""
    classes, methods = set(damage.deduction.targets("forbid_class")), set(damage.deduction.targets("forbid_method"))
    return {name for name, method in KNOWLEDGE.methods.items() if name in methods or method.decision in classes}


def test_no_forbidden_method_is_ever_advised() -> None:
    seen = barred = 0
    for seed, got in random_assessments(CASES):
        for damage in got.damages:
            seen += 1
            advised, forbidden = damage.decision.method, forbidden_by_name(damage)
            assert advised not in forbidden, seed
            ratios, exceed = damage.strength.after, damage.situation.must_exceed
            if damage.situation.consequence in words.NOT_FOR_MONEY and puts_back(KNOWLEDGE.methods[advised]):
                assert not is_short(ratios[advised], exceed), seed
            cheapest = min(damage.decision.options, key=lambda option: (option.cost, option.method))
            barred += cheapest.verdict is words.Verdict.RULED_OUT
    assert seen >= 0.9 * CASES
    assert barred >= 0.3 * CASES, f"only {barred} of {seen} held a ban on the method that would have won"


def what_it_says(got: Assessment) -> tuple[object, ...]:
    advice = tuple((d.decision.method, d.decision.end_use) for d in got.damages)
    return advice, frozenset(got.cautions), got.triage, frozenset(got.refer_to)


def changes_something(rule: str) -> bool:
    """Whether some story in which the rule fires has other advice, cautions, triage or referral without it."""
    for told in sorted(KNOWLEDGE.stories, key=lambda told: rule not in told.story.expect.rules):
        case = case_of(told.story, KNOWLEDGE)
        if rule in fired_plainly(rulebook_of(KNOWLEDGE), facts_of(KNOWLEDGE, case, case.damages[0]).values):
            both = []
            with set_aside():
                for knowledge in (KNOWLEDGE, without(KNOWLEDGE, "logic", rule)):
                    try:
                        both.append(what_it_says(assess(case, knowledge, Shop(), TODAY, only=told.story.open)))
                    except Undecided as error:
                        both.append((str(error),))
            if both[0] != both[1]:
                return True
    return False


PLAN_ONLY = {r.id for r in KNOWLEDGE.logic.values() if {e.kind for e in r.then} <= {"ask_first", "finding", "require"}}


# Each rule tells many stories twice: every fourth by default, all of them with FULL=1.
@pytest.mark.parametrize("rule", [rule for rule in SAFETY if rule not in PLAN_ONLY][:: 1 if FULL else 4])
def test_no_rule_of_safety_can_be_left_out(rule: str) -> None:
    assert changes_something(rule)


@pytest.mark.parametrize("rule", sorted(set(SAFETY) & PLAN_ONLY)[:: 1 if FULL else 2])
def test_a_rule_of_safety_that_only_asks_or_requires_is_seen_in_the_questions_or_the_plan(rule: str) -> None:
    told = next(told for told in KNOWLEDGE.stories if rule in told.story.expect.rules)
    case = case_of(told.story, KNOWLEDGE)
    with set_aside():
        got = [
            assess(case, k, Shop(), TODAY, only=told.story.open).damages[0]
            for k in (KNOWLEDGE, without(KNOWLEDGE, "logic", rule))
        ]
    with_it, bare = ({(e.kind, e.target) for _, e in damage.deduction.effects} for damage in got)
    assert with_it - bare
    # A finding for which other rules stand aside is seen in the advice.
    assert not bare - with_it or changes_something(rule)


def test_the_order_of_answers_damages_and_joints_counts_for_nothing() -> None:
    for seed in range(40):
        rng = random.Random(1000 + seed)
        case = random_case(KNOWLEDGE, rng, damages=2)

        def shuffled(found: dict[str, object], by: random.Random = rng) -> dict[str, object]:
            return dict(by.sample(list(found.items()), len(found)))

        other = replace(
            case,
            joints=shuffled(dict(case.joints)),  # type: ignore[arg-type]
            readings=shuffled(dict(case.readings)),  # type: ignore[arg-type]
            damages=tuple(replace(d, readings=shuffled(dict(d.readings))) for d in reversed(case.damages)),  # type: ignore[arg-type]
        )
        try:
            one, two = (assess(c, KNOWLEDGE, Shop(), TODAY) for c in (case, other))
        except Undecided:
            continue
        mine, yours = ({d.damage.id: d.decision.method for d in got.damages} for got in (one, two))
        assert mine == yours, seed
        assert (one.triage, set(one.cautions)) == (two.triage, set(two.cautions)), seed
        if one.price is not None and two.price is not None:
            assert one.price.likely == pytest.approx(two.price.likely), seed


# Worked by hand.

# Two causes, P = .7 and .3. Failing again costs 200 and nothing of the value.
#   mend   100 + (.7 × .1 + .3 × .6) × 200 = 100 + .25 × 200 = 150
#   renew  160 + (.7 × .05 + .3 × .05) × 200 = 160 + .05 × 200 = 170
# Knowing the cause: .7 × min(120, 170) + .3 × min(220, 170) = 84 + 51 = 135, worth 150 − 135 = 15.
# Break-even in P(second cause): 100 + (.1 + .5 p) × 200 = 170 at p = .5.
MEND = Choice("mend", "reglue", Price(100, 100, 100), 1.0, np.array([0.1, 0.6]))
RENEW = Choice("renew", "replace_part", Price(160, 160, 160), 0.8, np.array([0.05, 0.05]))
BELIEF = np.array([0.7, 0.3])
MEMBERS = np.array([[1.0, 0.0], [0.0, 1.0]])
PURSE = Shop(failing_again_costs=200, failing_again_share=0)


def test_expected_value_by_hand() -> None:
    costs = {o.method: o.cost for o in table([MEND, replace(RENEW, kept=1.0)], {}, BELIEF, 500.0, PURSE)[0]}
    assert costs == {"mend": pytest.approx(150.0), "renew": pytest.approx(170.0)}


def test_perfect_information_by_hand() -> None:
    costs = cost_matrix([MEND, replace(RENEW, kept=1.0)], 500.0, 200.0, 0.0)
    assert costs.tolist() == [[120.0, pytest.approx(220.0)], [170.0, 170.0]]
    assert perfect(MEMBERS, BELIEF, costs, 60.0).decision == pytest.approx(15.0)
    # Naming: the surest cause is right in 7 of 10; knowing it is worth 60 × .3 = 18.
    assert perfect(MEMBERS, BELIEF, costs, 60.0).naming == pytest.approx(18.0)


@pytest.mark.parametrize(("p", "best"), [(0.49, "mend"), (0.51, "renew")])
def test_break_even_in_the_belief_by_hand(p: float, best: str) -> None:
    assert table([MEND, replace(RENEW, kept=1.0)], {}, np.array([1 - p, p]), 500.0, PURSE)[0][0].method == best


def test_break_even_in_the_value_by_hand() -> None:
    """Failing again takes .5 of the value: mend 150 + .125 V, renew (keeps .9) 170 + (.1 + .025) V: parallel, no flip.

    With renew keeping .95: 170 + (.05 + .025) V; equal where 20 = .05 V, at V = 400.
    """
    for kept, expected in ((0.9, []), (0.95, [400.0])):
        lines = [line_of(choice, BELIEF, 200.0, 0.5) for choice in (MEND, replace(RENEW, kept=kept))]
        assert [flip.value for flip in flips(lines)] == pytest.approx(expected)
