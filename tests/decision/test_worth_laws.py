"""Laws of the worth of an answer, and of what must be asked before the advice may stand.

Sources: the value of information is never negative and never above that of perfect information (Raiffa and Schlaifer
1961; Howard 1966), and an answer that is more often off is worth no more (Blackwell 1953). Tried on 10,000 random states:
contexts of the rule base drawn as random case facts, posteriors from random answers, random cost matrices.

The other half is the design's: a reading that would forbid the advised method, with a chance of .02 or more, keeps the
advice from being settled, is asked before anything that is only of worth, and does not let the questions stop. What would
be forbidden is deduced here afresh for every reading of every open sign. 200 random states of the rule base; 1,000 with
FULL=1 in the environment.
"""

import itertools
import os
import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np
import pytest

from diagnose import words
from diagnose.assess import DamageAssessment, assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.ban import WEAK_TOGETHER, is_short
from diagnose.decision.foresee import LIKELY_ENOUGH
from diagnose.decision.inquire import branches, perfect, reading_chances, worth, worth_of_all
from diagnose.decision.next_signs import can_be_asked
from diagnose.reasoning.context import model_for
from diagnose.reasoning.deduce import Deduction, deduce_plainly
from diagnose.reasoning.facts import facts_of, open_signs
from diagnose.reasoning.model import Array, Model, SignTable
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.reasoning.test_laws import random_case

TODAY = date(2026, 3, 2)
SHOP = Shop()
CLOSE = 1e-9
STATES, CONTEXTS = 10_000, 50
GATE_STATES = 1000 if os.environ.get("FULL") == "1" else 200
PRESSING = ("hazard", "asked_first", "could_rule_out")
ERRORS = (0.0, 0.02, 0.1, 0.4)


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """The rule base as delivered."""
    return load_knowledge()


# ---- the worth of an answer


@dataclass(frozen=True)
class State:
    """What is believed, what each method costs under each set, and the question that could be asked."""

    model: Model
    posterior: Array
    costs: Array
    table: SignTable
    wrong_reason: float
    error: float


def random_posterior(model: Model, rng: random.Random) -> Array:
    """The prior after up to eight random answers."""
    weights = model.prior.copy()
    for name in rng.sample(sorted(model.tables), rng.randint(0, 8)):
        table = model.tables[name]
        reads: tuple[str, ...] = (rng.choice(table.readings),)
        if table.sign.kind == "tick_all":
            reads = tuple(reading for reading in table.readings if rng.random() < 0.3)
        weights = weights * table.likelihood(reads, rng.choice(ERRORS[1:]))
    return np.asarray(weights / weights.sum())


def random_costs(model: Model, rng: np.random.Generator) -> Array:
    """Costs of 1 to 9 methods under every set: a price and a share of failing, or anything at all, of any size."""
    methods = int(rng.integers(1, 10))
    size = 10.0 ** rng.uniform(0, 4)
    price = rng.uniform(0, size, (methods, 1))
    if rng.random() < 0.5:
        left = np.log1p(-rng.uniform(0, 0.99, (methods, len(model.names))))
        return np.asarray(price + size * rng.uniform(0.1, 2) * (1.0 - np.exp(left @ model.members.T)))
    return np.asarray(price * rng.uniform(0, 1) + rng.uniform(0, size, (methods, model.sets)))


def states(knowledge: Knowledge, count: int, contexts: int, seed: str) -> Iterator[State]:
    """Random states, `count` in all; tick-all signs seldom, since each has up to a hundred answers."""
    for number in range(contexts):
        rng = random.Random(f"{seed} {number}")
        numbers = np.random.default_rng(number)
        case = random_case(knowledge, rng, most=0)
        model = model_for(knowledge, facts_of(knowledge, case, case.damages[0]))
        many = sorted(name for name, table in model.tables.items() if table.sign.kind == "tick_all")
        few = sorted(set(model.tables) - set(many))
        costs, posterior = random_costs(model, numbers), random_posterior(model, rng)
        for turn in range(count // contexts):
            if turn % 3 == 0:
                posterior = random_posterior(model, rng)
            if turn % 2 == 0:
                costs = random_costs(model, numbers)
            name = rng.choice(many if turn % 50 == 0 else few)
            yield State(model, posterior, costs, model.tables[name], rng.choice([0.0, 60.0, 500.0]), rng.choice(ERRORS))


def test_no_answer_is_worth_less_than_nothing_or_more_than_certainty(knowledge: Knowledge) -> None:
    """Both terms, 10,000 states; and often enough the answer is worth something, or the law would say little."""
    count, decides, names, most = 0, 0, 0, 0
    kinds = set()
    for state in states(knowledge, STATES, CONTEXTS, "worth"):
        got = worth(state.table, state.model.members, state.posterior, state.costs, state.wrong_reason, state.error)
        roof = perfect(state.model.members, state.posterior, state.costs, state.wrong_reason)
        assert -CLOSE <= got.decision <= roof.decision + CLOSE, state.table.sign.id
        assert -CLOSE <= got.naming <= roof.naming + CLOSE, state.table.sign.id
        assert got.total == got.decision + got.naming
        count += 1
        decides += got.decision > 1e-6
        names += got.naming > 1e-6
        most = max(most, state.model.sets)
        kinds.add(state.table.sign.kind)
    assert count == STATES
    assert most > 1000
    assert decides > STATES / 50
    assert names > STATES / 50
    assert kinds == {"choose_one", "measure", "yes_no", "tick_all"}


def test_worth_is_what_the_branches_say(knowledge: Knowledge) -> None:
    """Worth by its definition, from what would follow each answer; chances sum to 1, and costs and causes average to now."""
    for state in states(knowledge, 300, 10, "branches"):
        members, now = state.model.members, state.posterior
        found = branches(state.table, members, now, state.costs, state.error)
        assert sum(branch.chance for branch in found) == pytest.approx(1.0, abs=CLOSE)
        mean = sum(branch.chance * branch.costs for branch in found)
        assert mean == pytest.approx(state.costs @ now, rel=1e-9)
        assert sum(branch.chance * branch.causes for branch in found) == pytest.approx(now @ members, abs=CLOSE)
        then = sum(branch.chance * branch.costs.min() for branch in found)
        named = sum(branch.chance * branch.causes.max(initial=0.0) for branch in found)
        got = worth(state.table, members, now, state.costs, state.wrong_reason, state.error)
        assert got.decision == pytest.approx((state.costs @ now).min() - then, abs=1e-7)
        assert got.naming == pytest.approx(state.wrong_reason * (named - (now @ members).max(initial=0.0)), abs=1e-7)


def test_the_worth_never_hangs_on_order(knowledge: Knowledge) -> None:
    """Sets, causes, methods and readings in any order, and signs asked after in any order."""
    for number, state in enumerate(states(knowledge, 400, 20, "order")):
        rng = np.random.default_rng(number)
        sets = rng.permutation(state.model.sets)
        causes = rng.permutation(len(state.model.names))
        methods = rng.permutation(len(state.costs))
        readings = rng.permutation(len(state.table.readings))
        sign = state.table.sign
        turned = sign.model_copy(update={"readings": dict(reversed(sign.readings.items()))})
        named = tuple(state.table.readings[i] for i in readings)
        table = SignTable(turned, named, state.table.like[np.ix_(sets, readings)])
        members, now = state.model.members, state.posterior
        plain = worth(state.table, members, now, state.costs, state.wrong_reason, state.error)
        mixed = worth(
            table, members[np.ix_(sets, causes)], now[sets], state.costs[np.ix_(methods, sets)], state.wrong_reason, state.error
        )
        assert mixed.decision == pytest.approx(plain.decision, abs=CLOSE)
        assert mixed.naming == pytest.approx(plain.naming, abs=CLOSE)
        names = sorted(state.model.tables)[:6]
        off_by = dict.fromkeys(names, state.error)
        one = worth_of_all(state.model, now, state.costs, state.wrong_reason, off_by, names)
        other = worth_of_all(state.model, now, state.costs, state.wrong_reason, off_by, reversed(names))
        assert one == other


def test_leaving_out_what_is_all_but_impossible_changes_no_worth(knowledge: Knowledge) -> None:
    """`worth_of_all` looks at the sets that are still possible only."""
    for state in states(knowledge, 200, 10, "live"):
        name = state.table.sign.id
        found = worth_of_all(state.model, state.posterior, state.costs, state.wrong_reason, {name: state.error}, [name])
        plain = worth(state.table, state.model.members, state.posterior, state.costs, state.wrong_reason, state.error)
        assert found[name].decision == pytest.approx(plain.decision, abs=1e-6)
        assert found[name].naming == pytest.approx(plain.naming, abs=1e-6)


def test_an_answer_that_is_more_often_off_is_worth_no_more(knowledge: Knowledge) -> None:
    fell = 0
    for state in states(knowledge, 500, 20, "blackwell"):
        members, now = state.model.members, state.posterior
        found = [worth(state.table, members, now, state.costs, 60.0, error) for error in (*ERRORS, 1.0)]
        for better, worse in itertools.pairwise(found):
            assert worse.decision <= better.decision + CLOSE
            assert worse.naming <= better.naming + CLOSE
            fell += better.total > worse.total + 1e-6
        assert found[-1].total == pytest.approx(0.0, abs=CLOSE)
    assert fell > 100


def test_a_sign_to_which_no_cause_speaks_is_worth_nothing(knowledge: Knowledge) -> None:
    tried = 0
    for state in states(knowledge, 100, 50, "silent"):
        for name, table in state.model.tables.items():
            if any(name in cause.shows for cause in state.model.causes) or table.sign.kind == "tick_all":
                continue
            got = worth(table, state.model.members, state.posterior, state.costs, 60.0, 0.02)
            assert (got.decision, got.naming) == (0.0, 0.0), name
            tried += 1
    assert tried > 20


def test_the_chance_of_a_reading_is_that_of_the_answer(knowledge: Knowledge) -> None:
    """Over the readings of a sign that has one answer the chances sum to 1; of a yes/no sign both are meant."""
    for state in states(knowledge, 200, 10, "chances"):
        for table in (state.table, *(t for t in state.model.tables.values() if t.sign.kind == "yes_no")):
            chances = reading_chances(table, state.posterior)
            answers, likes = table.outcomes(0.0)
            for reading in table.readings:
                seen = sum(float(like @ state.posterior) for reads, like in zip(answers, likes, strict=True) if reading in reads)
                assert chances[reading] == pytest.approx(seen, abs=CLOSE), (table.sign.id, reading)


# ---- what must be asked before the advice may stand


def forbids(said: Deduction, advised: DamageAssessment, knowledge: Knowledge) -> set[str]:
    """The rules among those fired that forbid the advised method: by name, by class, or for the strength it leaves."""
    method = knowledge.methods[advised.decision.method]
    ratio = advised.decision.options[0].strength_ratio
    causes = zip(advised.belief.model.causes, advised.belief.causes.values(), strict=True)
    weak = sum(share for cause, share in causes if cause.made_too_weak) >= WEAK_TOGETHER
    found = set()
    for rule, effect in said.effects:
        by_name = effect.kind == "forbid_method" and effect.target == method.id
        by_class = effect.kind == "forbid_class" and effect.target == method.decision
        by_strength = effect.kind == "forbid_whose" and ratio is not None and is_short(ratio, weak) is (effect.target == "short")
        if by_name or by_class or by_strength:
            found.add(rule)
    return found


def chance_of(sign: Sign, reading: str, advised: DamageAssessment) -> float:
    """How likely a reading is to be seen now, as the belief has it."""
    table, posterior = advised.belief.model.tables[sign.id], advised.belief.posterior
    if sign.kind == "yes_no":
        yes = float(posterior @ table.like[:, table.readings.index("yes")])
        return yes if reading == "yes" else 1.0 - yes
    return float(posterior @ table.like[:, table.readings.index(reading)])


@dataclass(frozen=True)
class Danger:
    """A reading that, once given, forbids the advised method; how likely it is; the rules that do so."""

    sign: Sign
    reading: str
    chance: float
    rules: frozenset[str]


def dangers(case: Case, advised: DamageAssessment, knowledge: Knowledge) -> list[Danger]:
    """Every danger to the advice among the readings of the open signs that can be asked at the bench."""
    book = rulebook_of(knowledge)
    # A reading that no rule mentions cannot make one fire or keep one from firing.
    mentioned = {
        (line.key, value)
        for rule in book.rules
        for condition in (rule.when, rule.unless)
        for line in condition.all_lines()
        for value in line.values
    }
    found = []
    for sign in open_signs(knowledge, case, advised.damage, advised.facts):
        if not can_be_asked(sign, "bench"):
            continue
        for reading in sign.readings:
            if (sign.id, reading) not in mentioned:
                continue
            rules = forbids(deduce_plainly(book, advised.facts.adding(sign.id, reading)), advised, knowledge)
            if rules:
                found.append(Danger(sign, reading, chance_of(sign, reading, advised), frozenset(rules)))
    return found


@dataclass(frozen=True)
class Advice:
    """What an assessment advises in one state, and what could still forbid it."""

    number: int
    case: Case
    method: str
    ruled_out: bool
    short: bool
    settled: bool
    first: str
    stop: bool
    provided: frozenset[tuple[str, str]]
    dangers: tuple[Danger, ...]

    def told(self) -> tuple[int, str, str, str]:
        """Where to look when a law is broken."""
        return self.number, self.case.piece, self.case.damages[0].kind, self.method


def advice(knowledge: Knowledge, number: int, case: Case) -> Advice:
    """The advice at the bench for a case of one damage."""
    (advised,) = assess(case, knowledge, SHOP, TODAY, place="bench").damages
    best, questions = advised.decision.options[0], advised.questions
    return Advice(
        number=number,
        case=case,
        method=best.method,
        ruled_out=best.verdict is words.Verdict.RULED_OUT,
        short=best.strength_ratio is not None and is_short(best.strength_ratio, False),
        settled=advised.decision.settled,
        first=questions.ranked[0].reason if questions.ranked else "",
        stop=questions.stop,
        provided=frozenset((gate.sign, gate.reading) for gate in advised.decision.provided_that if gate.forbids),
        dangers=tuple(dangers(case, advised, knowledge)),
    )


@pytest.fixture(scope="module")
def advices(knowledge: Knowledge) -> list[Advice]:
    """Random states of the rule base: case facts, and answers whose gates stood open when they were given."""
    cases = (random_case(knowledge, random.Random(f"gate {number}")) for number in range(GATE_STATES))
    return [advice(knowledge, number, case) for number, case in enumerate(cases)]


@pytest.fixture(scope="module")
def plain(knowledge: Knowledge) -> list[Advice]:
    """A break, about which nothing is known, of every part that carries nobody: there money may advise a weaker mend."""
    cases = []
    for piece in sorted(knowledge.pieces.values(), key=lambda piece: piece.id):
        for name, part in sorted(piece.parts.items()):
            joint = next((joint.id for joint in piece.joints if name in joint.joins), None)
            if part.carries != "person" and joint is not None:
                cases.append(Case(piece.id, value=1000.0, damages=(Damage("a", "broken", part=name, joint=joint),)))
    return [advice(knowledge, number, case) for number, case in enumerate(cases)]


def test_what_is_ruled_out_is_never_advised(advices: list[Advice]) -> None:
    assert [a.told() for a in advices if a.ruled_out] == []
    assert len(advices) == GATE_STATES


def test_nothing_is_settled_while_a_likely_reading_would_forbid_it(advices: list[Advice], plain: list[Advice]) -> None:
    broken, held_up = [], 0
    for found in (*advices, *plain):
        likely = [(d.sign.id, d.reading) for d in found.dangers if d.chance >= LIKELY_ENOUGH]
        if not likely:
            continue
        held_up += 1
        if found.settled or found.first not in PRESSING or found.stop:
            broken.append((*found.told(), likely))
    assert broken == []
    assert held_up > GATE_STATES / 4


def test_every_danger_is_named_beside_the_advice(knowledge: Knowledge, advices: list[Advice], plain: list[Advice]) -> None:
    """However unlikely: "provided that" lists each reading of each open sign by which a rule would forbid the method; beside these
    stand only readings that would leave too little strength, or close the method's own gate."""
    missing, named = [], 0
    for found in (*advices, *plain):
        wanted = {(d.sign.id, d.reading) for d in found.dangers}
        missing += [(*found.told(), *what) for what in sorted(wanted - found.provided)]
        method = knowledge.methods[found.method]
        own_gate = method.when.keys() | method.unless.keys()
        for sign, reading in found.provided - wanted:
            means = knowledge.signs[sign].readings[reading].means
            assert means or sign in own_gate, (*found.told(), sign, reading)
        named += len(wanted)
    assert missing == []
    assert named > GATE_STATES
    assert any(found.short for found in plain), "a ban on what is not strong enough should be among them"


def test_cannot_tell_on_a_sign_of_safety_counts_as_the_dangerous_reading(knowledge: Knowledge, advices: list[Advice]) -> None:
    """For the ban only: what a rule of safety would likely enough forbid is not advised when it cannot be told.

    Where assuming the worst would leave no repair of ours, the advice stands, but is not settled and names the reading.
    """
    still, tried, changed = [], 0, 0
    for found in advices:
        grave = [d for d in found.dangers if any(knowledge.logic[rule].protects == "safety" for rule in d.rules)]
        for danger in grave[:1]:
            where = None if danger.sign.of == "piece" else found.case.damages[0].id
            said = found.case.with_answer(where, danger.sign.id, Answer((), cannot_tell=True))
            (then,) = assess(said, knowledge, SHOP, TODAY, place="bench").damages
            tried += 1
            named = {(gate.sign, gate.reading) for gate in then.decision.provided_that if gate.forbids}
            if then.decision.method != found.method:
                changed += 1
            elif then.decision.settled or (danger.sign.id, danger.reading) not in named:
                still.append((*found.told(), danger.sign.id, danger.reading, then.decision.settled))
    assert tried > GATE_STATES / 20
    assert changed > 0
    assert still == []
