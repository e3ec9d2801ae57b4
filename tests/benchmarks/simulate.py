"""How many answers until the first cause and the class of decision are what they are with every answer known.

    python -m tests.benchmarks.simulate [--cases 500] [--seed 1] [--wrong 0.0] [--stories 1] [--fixed-order]

Stories are answered from what they give. Simulated cases are drawn from the rule base: a piece, a damage, one to three causes by
their odds, and a reading of every sign by the rows; `--wrong` is the share of answers replaced by any reading. Looking at the door
before hands go on (one screen in the interview) counts as one answer. `--fixed-order` asks station by station as the signs are
written, for comparison. The entropy bound is the bits in the prior over the sets of causes by the bits of the widest sign: no order of
questions can need fewer answers on average. Prints the distribution; asserts nothing.
"""

import argparse
import math
import random
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.told import case_of
from diagnose.decision.next_signs import AT_THE_DOOR
from diagnose.decision.undecided import Undecided
from diagnose.reasoning.context import model_for
from diagnose.reasoning.facts import facts_of
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
SHOP = Shop()
# How often each kind of damage is drawn, judgement.
DAMAGE_SHARES = {
    "loose": 5, "broken": 3, "split": 2, "rocks": 1, "fitting": 1, "surface": 1, "sticks": 1, "warped": 1, "swollen": 1, "insect": 1
}  # fmt: skip


@dataclass(frozen=True)
class Run:
    """One interview.

    `needed` answers until first cause and class were those of full knowledge (asking on past the point of stopping); `asked` until
    the program said stop; whether it was right by then, and its class the one of full knowledge; whether the first cause then was a
    true one, and whether all true ones were among the first three; the fewest answers that the entropy of the prior allows.
    """

    needed: int
    asked: int
    stopped_right: bool
    class_right: bool
    true_cause_first: bool | None = None
    all_among_three: bool | None = None
    bound: float = 0.0


# Causes closer than this at full knowledge are both "first" (two true causes near 1 change places for nothing), and methods that the
# table shows as equally good are one class of advice.
SAME = 0.05


@dataclass(frozen=True)
class Target:
    """What full knowledge says: the causes that count as first, the classes that count as advised."""

    causes: frozenset[str]
    classes: frozenset[str]

    def met(self, assessment: Assessment) -> bool:
        """Whether an assessment says the same."""
        (damage,) = assessment.damages
        leading = damage.causes_by_probability()
        return bool(leading) and leading[0][0] in self.causes and damage.decision.decision in self.classes


def target_of(assessment: Assessment) -> Target:
    """The target that an assessment at full knowledge sets."""
    (damage,) = assessment.damages
    leading = damage.causes_by_probability()
    top = leading[0][1] if leading else 0.0
    equal = {"advised", "as_good"} if damage.decision.tie else {"advised"}
    return Target(
        frozenset(name for name, p in leading if p >= top - SAME),
        frozenset(o.decision for o in damage.decision.options if o.verdict.value in equal),
    )


def entropy_bound(knowledge: Knowledge, prior: np.ndarray) -> float:
    """Bits in the prior over the sets by the bits that one answer to the widest sign can carry."""
    widest = max(2 ** len(s.readings) if s.kind == "tick_all" else len(s.readings) for s in knowledge.signs.values())
    bits = -float(sum(p * math.log2(p) for p in prior if p > 0))
    return bits / math.log2(widest)


@dataclass(frozen=True)
class Stop:
    """How things stood when the program said stop."""

    asked: int
    right: bool
    class_right: bool
    leading: tuple[str, ...]


def _next_fixed(knowledge: Knowledge, names: set[str]) -> str:
    """The first of `names` station by station, as the signs are written."""
    stations = list(words.STATIONS)
    written = list(knowledge.signs)
    return min(names, key=lambda name: (stations.index(knowledge.signs[name].station or "owner"), written.index(name)))


def interview(
    knowledge: Knowledge,
    full: Case,
    only: tuple[str, ...] = (),
    truth: frozenset[str] | None = None,
    fixed_order: bool = False,
) -> Run:
    """Ask `full` in the order the program asks (or in a fixed one), from an empty sheet; what `full` does not answer is put off."""
    (damage,) = full.damages
    known = {**full.readings, **damage.readings}
    target = target_of(assess(full, knowledge, SHOP, TODAY, only=only))
    door = {n: a for n, a in full.readings.items() if knowledge.signs[n].station == AT_THE_DOOR}
    case = replace(full, readings=door, damages=(replace(damage, readings={}),))
    count = 1 if door else 0
    needed: int | None = None
    stopped: Stop | None = None
    station: str | None = None
    while True:
        got = assess(case, knowledge, SHOP, TODAY, only=only, station=station)
        right = target.met(got)
        if right and needed is None:
            needed = count
        questions = got.damages[0].questions
        leading = tuple(name for name, _ in got.damages[0].causes_by_probability())
        state = Stop(count, right, got.damages[0].decision.decision in target.classes, leading)
        if questions.stop and stopped is None:
            stopped = state
        # What `full` does not answer is put off, as a person would put it off.
        askable = [question.sign for question in questions.ranked if question.sign in known]
        if not askable or (stopped is not None and needed is not None):
            break
        sign = knowledge.signs[_next_fixed(knowledge, set(askable)) if fixed_order else askable[0]]
        count += 1
        station = sign.station
        case = case.with_answer(None if sign.of == "piece" else damage.id, sign.id, known[sign.id])
    end = stopped or state
    return Run(
        needed=count if needed is None else needed,
        asked=end.asked,
        stopped_right=end.right,
        class_right=end.class_right,
        true_cause_first=end.leading[0] in truth if truth is not None else None,
        all_among_three=truth <= set(end.leading[:3]) if truth is not None else None,
        bound=entropy_bound(knowledge, got.damages[0].belief.model.prior),
    )


def _draw_answer(knowledge: Knowledge, rng: random.Random, sign_id: str, like: np.ndarray, wrong: float) -> Answer | None:
    sign = knowledge.signs[sign_id]
    by = "owner" if sign.effort == "ask" else "seen"
    readings = list(sign.readings)
    if sign.kind == "tick_all":
        seen = tuple(
            r for r, p in zip(readings, like, strict=True) if (rng.random() < 0.5 if rng.random() < wrong else rng.random() < p)
        )
        return Answer(seen, by)
    if rng.random() < wrong:
        return Answer((rng.choice(readings),), by)
    if sign.kind == "yes_no":
        return Answer(("yes" if rng.random() < like[readings.index("yes")] else "no",), by)
    return Answer((rng.choices(readings, weights=list(like))[0],), by)


def draw(knowledge: Knowledge, rng: random.Random, wrong: float) -> tuple[Case, frozenset[str]]:
    """A whole case with its true causes."""
    while True:
        piece = rng.choice(list(knowledge.pieces.values()))
        kind = rng.choices(list(DAMAGE_SHARES), weights=list(DAMAGE_SHARES.values()))[0]
        joint = rng.choice(piece.joints)
        part = rng.choice(joint.joins)
        damage = Damage("a", kind, part=part, joint=joint.id, facts={"joint": rng.choice(joint.kind)})
        case = Case(piece=piece.id, damages=(damage,))
        facts = facts_of(knowledge, case, damage)
        model = model_for(knowledge, facts)
        if model.sets > 1:
            break
    index = rng.choices(range(1, model.sets), weights=list(model.prior[1:]))[0]
    truth = frozenset(n for n, m in zip(model.names, model.members[index], strict=True) if m)
    for name in knowledge.signs:
        sign = knowledge.signs[name]
        table = model.tables[name]
        if sign.computed is not None:
            if sign.computed.by == "moving_joints":
                reading = rng.choices(list(table.readings), weights=list(table.like[index]))[0]
                damage = replace(damage, facts={**damage.facts, "moving_joints": reading})
            continue
        answer = _draw_answer(knowledge, rng, name, table.like[index], wrong)
        if answer is None:
            continue
        if sign.of == "piece":
            case = replace(case, readings={**case.readings, name: answer})
        else:
            damage = replace(damage, readings={**damage.readings, name: answer})
    value = round(math.exp(rng.uniform(math.log(150), math.log(3000))))
    return replace(case, damages=(damage,), value=float(value)), truth


def told(knowledge: Knowledge, step: int = 1) -> Iterator[Run]:
    """Every `step`-th story as an interview."""
    for entry in knowledge.stories[::step]:
        yield interview(knowledge, case_of(entry.story, knowledge), entry.story.open)


def simulated(
    knowledge: Knowledge, cases: int, seed: int, wrong: float, fixed_order: bool = False, drawn_from: Knowledge | None = None
) -> Iterator[Run]:
    """Cases drawn from the rule base (or from another one) as interviews."""
    rng = random.Random(seed)
    for _ in range(cases):
        case, truth = draw(drawn_from or knowledge, rng, wrong)
        try:
            yield interview(knowledge, case, (), truth, fixed_order)
        except Undecided as error:
            print(f"undecided: {error}", file=sys.stderr)


def table(title: str, runs: list[Run]) -> str:
    """The distribution in words and figures."""
    lines = [f"{title}: {len(runs)} interviews"]
    for name, values in (
        ("answers until cause and class are those of full knowledge", [r.needed for r in runs]),
        ("answers until the program says stop", [r.asked for r in runs]),
    ):
        ordered = sorted(values)
        p90 = ordered[min(len(ordered) - 1, int(0.9 * len(ordered)))]
        lines.append(
            f"  {name}: median {ordered[len(ordered) // 2]}, mean {sum(ordered) / len(ordered):.1f}, p90 {p90}, most {ordered[-1]}"
        )
        counted = Counter(min(value, 20) for value in values)
        lines.append("    " + " ".join(f"{n}{'+' if n == 20 else ''}:{counted[n]}" for n in sorted(counted)))
    lines.append(f"  entropy bound on the mean: {sum(r.bound for r in runs) / len(runs):.1f}")
    for name, marks in (
        ("cause and class as with every answer when it stopped", [r.stopped_right for r in runs]),
        ("class as with every answer when it stopped", [r.class_right for r in runs]),
        ("first cause is a true one", [r.true_cause_first for r in runs if r.true_cause_first is not None]),
        ("all true causes among the first three", [r.all_among_three for r in runs if r.all_among_three is not None]),
    ):
        if marks:
            lines.append(f"  {name}: {sum(marks) / len(marks):.0%}")
    return "\n".join(lines)


def main() -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--cases", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--wrong", type=float, default=0.0)
    parser.add_argument("--stories", type=int, default=1, help="every n-th story; 0 for none")
    parser.add_argument("--fixed-order", action="store_true", help="ask station by station as written")
    options = parser.parse_args()
    knowledge = load_knowledge()
    for title, source in (
        ("stories", told(knowledge, options.stories) if options.stories else iter(())),
        ("simulated", simulated(knowledge, options.cases, options.seed, options.wrong, options.fixed_order)),
    ):
        runs: list[Run] = []
        start = time.monotonic()
        for run in source:
            runs.append(run)
            if len(runs) % 25 == 0:
                print(f"{title} {len(runs)} ({time.monotonic() - start:.0f} s)", file=sys.stderr, flush=True)
        if runs:
            print(table(title, runs))


if __name__ == "__main__":
    main()
