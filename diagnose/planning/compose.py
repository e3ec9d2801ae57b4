"""From methods and requirements to steps: asked for twice, done once, in an order in which every step comes after what it needs."""

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.reasoning.deduce import Deduction, Trace
from diagnose.reasoning.facts import Facts, certain, closed, may_apply, satisfied
from diagnose.rulebase.entries import Also, Method, Step, When
from diagnose.rulebase.knowledge import Knowledge

# A requirement of these phases belongs to any plan; one of the glue phases only to a plan that glues; the rest only to bench work.
ANY_PLAN = frozenset({"record", "isolate", "agree", "make_safe", "hand_over"})
GLUE_PHASES = frozenset(
    {"clean", "dry_or_treat", "mend_parts", "fit_dry", "rehearse", "mask_and_colour", "glue", "cure", "clean_off"}
)
DRYING = frozenset({"dry_or_treat"})  # what only stands and is watched is not worked on
OPENING = frozenset({"take_apart", "look_again", "agree_again"})
_NEVER = When()
_ORDER = {phase: index for index, phase in enumerate(words.PHASES)}


@dataclass(frozen=True)
class Wish:
    """One damage and the method chosen for it, with what the rules concluded there, from which facts (none: nothing further is known)."""

    damage: Damage
    method: Method
    deduction: Deduction
    facts: Facts | None = None


@dataclass(frozen=True)
class PlannedStep:
    """A step of the plan: how often, for which damages, and what asked for it.

    `facts` are all it came from, as tokens: the method, the facts that made a rule require it, the part and joint its words name, how
    often it is done. As long as they stay the same, every word of it does. `also` are the further sentences that hold here.
    """

    step: Step
    count: int
    damages: tuple[str, ...]
    asked_by: tuple[str, ...]
    facts: tuple[str, ...] = ()
    also: tuple[str, ...] = ()

    def minutes(self) -> tuple[float, float, float]:
        """Low, likely, high minutes for all of them: the first in full, each further one by `then`."""
        more = self.step.then or self.step.minutes
        low, likely, high = (first + (self.count - 1) * next_ for first, next_ in zip(self.step.minutes, more, strict=True))
        return low, likely, high


def _belongs(step: Step, phases: frozenset[str], by_us: bool) -> bool:
    if step.phase in ANY_PLAN:
        return True
    if not by_us:
        return False
    glues = "glue" in phases
    if step.phase in GLUE_PHASES:
        return glues or step.phase in phases
    if step.phase in OPENING:
        return glues or "take_apart" in phases
    return bool(phases - ANY_PLAN - DRYING)


def steps_of(
    knowledge: Knowledge, method: Method, deduction: Deduction, facts: Facts | None = None
) -> dict[str, tuple[str, ...]]:
    """The steps of one method here, each with what asked for it (the method, or the rules that require it); what a step needs comes along.

    A step that is known to have no place here is left out, whoever asks for it, with what it alone needs.
    """
    asked: dict[str, tuple[str, ...]] = {name: (method.id,) for name in method.steps if _has_place(knowledge.steps[name], facts)}
    phases = frozenset(knowledge.steps[name].phase for name in method.steps)
    for name in deduction.targets("require"):
        step = knowledge.steps[name]
        if _belongs(step, phases, method.by == "us") and _has_place(step, facts):
            asked[name] = asked.get(name, ()) + deduction.rules_for("require", name)
    waiting = list(asked)
    while waiting:
        name = waiting.pop()
        for needed in knowledge.steps[name].needs:
            more = tuple(source for source in asked[name] if source not in asked.get(needed, ()))
            if more and _has_place(knowledge.steps[needed], facts):
                asked[needed] = asked.get(needed, ()) + more
                waiting.append(needed)
    replaced = {other for name in asked for other in knowledge.steps[name].instead_of}
    return {name: sources for name, sources in asked.items() if name not in replaced}


def _has_place(step: Step, facts: Facts | None) -> bool:
    return facts is None or may_apply(step.where, step.unless, facts.values)


def bonds(case: Case, method: Method) -> int:
    """How many glue lines a method makes: one for a joint or break, every slack joint of the map for a whole frame (two at least)."""
    if method.extent == "joint":
        return 1
    slack = sum(state in words.SLACK_STATES for state in case.joints.values())
    return max(2, slack)


def _count(step: Step, wishes: Sequence[Wish], case: Case) -> int:
    if step.per == "piece":
        return 1
    if step.per == "bond":
        whole = [bonds(case, wish.method) for wish in wishes if wish.method.extent != "joint"]
        return max(whole) if whole else len(wishes)
    if step.per == "part":
        return len({wish.damage.part or wish.damage.id for wish in wishes})
    return len(wishes)


def _before(name: str, steps: Mapping[str, Step], all_steps: Mapping[str, Step]) -> set[str]:
    """The steps of the plan that must come before one of them, directly or through steps that are not in the plan."""
    found: set[str] = set()
    seen: set[str] = set()
    waiting = list(steps[name].after)
    while waiting:
        other = waiting.pop()
        if other in seen:
            continue
        seen.add(other)
        if other in steps:
            found.add(other)
        elif other in all_steps:
            waiting.extend(all_steps[other].after)
    return found


def in_order(steps: Mapping[str, Step], all_steps: Mapping[str, Step] | None = None) -> tuple[str, ...]:
    """The names of `steps` so that each comes after what its `after` names; where that leaves a choice, by phase, then as given.

    An order that runs through steps of `all_steps` which are not in the plan is kept. Raises ValueError on a circle.
    """
    names = list(steps)
    position = {name: index for index, name in enumerate(names)}
    waits = {name: _before(name, steps, all_steps or {}) for name in names}
    ready = [(_ORDER[steps[name].phase], position[name], name) for name in names if not waits[name]]
    heapq.heapify(ready)
    done: list[str] = []
    while ready:
        _, _, name = heapq.heappop(ready)
        done.append(name)
        for other in names:
            if name in waits[other]:
                waits[other].discard(name)
                if not waits[other]:
                    heapq.heappush(ready, (_ORDER[steps[other].phase], position[other], other))
    if len(done) != len(names):
        raise ValueError("steps wait for each other: " + ", ".join(name for name in names if name not in done))
    return tuple(done)


def _lines(condition: When, facts: Facts) -> tuple[str, ...]:
    """The facts, as tokens, that make a condition hold."""
    keys = condition.keys()
    return tuple(f"{key}={value}" for key in sorted(keys) for value in sorted(certain(facts.values).get(key, ())))


def _holds(more: Also, facts: Facts) -> bool:
    return satisfied(more.when, facts.values) is True and closed(more.unless, facts.values) is not True


def _words_of(step: Step, wish: Wish, piece: str) -> Iterator[str]:
    """The facts that the words of a step name, as tokens."""
    text = step.do + step.why + "".join(more.do for more in step.also)
    if "{piece}" in text:
        yield f"piece={piece}"
    if "{part}" in text:
        yield f"part={wish.damage.part}"
    if "{joint}" in text:
        yield f"joint of the map={wish.damage.joint}"


def _facts(step: Step, entries: Sequence[tuple[Wish, tuple[str, ...]]], count: int, piece: str) -> tuple[str, ...]:
    found: list[str] = []
    for wish, asked_by in entries:
        if wish.method.id in asked_by:
            found.append(f"method={wish.method.id}")
        traces: Mapping[str, Trace] = {trace.rule: trace for trace in wish.deduction.traces}
        for rule in asked_by:
            if rule != wish.method.id:
                found += [f"rule={rule}", *(traces[rule].because_of if rule in traces else ())]
        found += _words_of(step, wish, piece)
        if wish.facts is not None:
            found += [token for more in step.also if _holds(more, wish.facts) for token in _lines(more.when, wish.facts)]
    return tuple(dict.fromkeys([*found, f"times={count}"]))


def gather(knowledge: Knowledge, case: Case, wishes: Sequence[Wish]) -> tuple[PlannedStep, ...]:
    """The steps of a whole piece, merged over its damages, not yet in order and without what they came from: all that a price needs."""
    return tuple(_planned(knowledge.steps[name], entries, case, False) for name, entries in _wanted(knowledge, wishes).items())


def _wanted(knowledge: Knowledge, wishes: Sequence[Wish]) -> dict[str, list[tuple[Wish, tuple[str, ...]]]]:
    wanted: dict[str, list[tuple[Wish, tuple[str, ...]]]] = {}
    for wish in wishes:
        for name, asked_by in steps_of(knowledge, wish.method, wish.deduction, wish.facts).items():
            wanted.setdefault(name, []).append((wish, asked_by))
    return wanted


def _planned(step: Step, entries: Sequence[tuple[Wish, tuple[str, ...]]], case: Case, with_facts: bool = True) -> PlannedStep:
    wishes = [wish for wish, _ in entries]
    count = _count(step, wishes, case)
    return PlannedStep(
        step=step,
        count=count,
        damages=tuple(wish.damage.id for wish in wishes),
        asked_by=tuple(dict.fromkeys(source for _, asked in entries for source in asked)),
        facts=_facts(step, entries, count, case.piece) if with_facts else (),
        also=tuple(more.do for more in step.also if any(w.facts is not None and _holds(more, w.facts) for w in wishes)),
    )


def has_hazard(knowledge: Knowledge, name: str, facts: Facts | None) -> bool:
    """Whether a hazard can be met here; where nothing is known it can."""
    return facts is None or may_apply(knowledge.cautions[name].when, _NEVER, facts.values)


def _guarded(knowledge: Knowledge, step: Step, wishes: Sequence[Wish]) -> Step:
    """A step with those of its hazards that can be met at one of these damages."""
    met = tuple(name for name in step.hazards if any(has_hazard(knowledge, name, wish.facts) for wish in wishes))
    return step if met == step.hazards else step.model_copy(update={"hazards": met})


def compose(knowledge: Knowledge, case: Case, wishes: Sequence[Wish]) -> tuple[PlannedStep, ...]:
    """The steps of a whole piece, merged over its damages and put in order."""
    planned = {
        name: _planned(_guarded(knowledge, knowledge.steps[name], [wish for wish, _ in entries]), entries, case)
        for name, entries in _wanted(knowledge, wishes).items()
    }
    steps = {name: knowledge.steps[name] for name in knowledge.steps if name in planned}
    return tuple(planned[name] for name in in_order(steps, knowledge.steps))
