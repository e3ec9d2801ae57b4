"""What is advised for one damage: methods that may apply, what rules and strength leave of them, the table, what could still change it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.decision.ban import (
    BY_NAME,
    BY_STRENGTH,
    MORE_LIKELY_FAILS,
    WEAK_TOGETHER,
    forbidden,
    hits,
    likely_to_fail,
    makes_whole,
    not_fit,
    puts_back,
    worth_unsaid,
)
from diagnose.decision.cost import cover_trades, price_of, tight_joints_parted
from diagnose.decision.decide import Choice, Flip, Option, cost_matrix, line_of, table
from diagnose.decision.foresee import Gate, gates, untold_dangers
from diagnose.decision.inquire import reading_chances
from diagnose.decision.outcome import outcome, share_left
from diagnose.decision.strength import Strength, chance_of_failing, strength_of
from diagnose.decision.undecided import Undecided
from diagnose.decision.whole_piece import RETIRED
from diagnose.planning.compose import PlannedStep, Wish, gather
from diagnose.reasoning.believe import Belief
from diagnose.reasoning.deduce import Deduction
from diagnose.reasoning.facts import Facts, may_apply, open_signs, untold_signs
from diagnose.reasoning.model import Array, Model
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Effect, Method
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

UNSAID = "nobody has said what the piece is worth"
THEIR_PRICE = "another trade mends it, and what that costs is for them to say"
USED_AS_IT_IS = "only its looks suffer, so that it can be used as it is"
# Classes that may be right whatever the cause, and so are always considered.
ALWAYS_CONSIDERED = frozenset({RETIRED, "no_structural_work"})


@dataclass(frozen=True)
class Decision:
    """What is advised for one damage, and on what."""

    decision: str
    method: str
    extent: str
    end_use: str
    by: str
    when: str
    because: str
    options: tuple[Option, ...]
    flips: tuple[Flip, ...]
    tie: bool
    settled: bool
    provided_that: tuple[Gate, ...]


@dataclass(frozen=True)
class Advice:
    """The decision, the strength behind it, and the cost of every permitted method under every set of causes, (methods, S)."""

    decision: Decision
    strength: Strength
    permitted: tuple[Choice, ...]
    costs: Array


@dataclass(frozen=True)
class Weighed:
    """Every method that was considered as the sums see it, why some are set aside, and which of those are for the owner to say."""

    choices: tuple[Choice, ...]
    banned: Mapping[str, str]
    strength: Strength
    owners_to_say: Mapping[str, float] = field(default_factory=dict)

    @property
    def permitted(self) -> tuple[Choice, ...]:
        """The methods that are left."""
        return tuple(choice for choice in self.choices if choice.method not in self.banned)


@dataclass(frozen=True)
class Situation:
    """Everything that is known of one damage when it comes to deciding.

    `instead` puts other numbers in place of what was read or assumed for the strength, to see what hangs on them.
    """

    knowledge: Knowledge
    shop: Shop
    case: Case
    damage: Damage
    facts: Facts
    deduction: Deduction
    belief: Belief
    value: float
    instead: Mapping[str, float] = field(default_factory=dict)

    def strength(self, methods: Sequence[Method], facts: Facts | None = None) -> Strength:
        """What each of these methods leaves, here or with other facts."""
        seen = self.facts if facts is None else facts
        return strength_of(self.knowledge, self.case, self.damage, seen, methods, self.instead)

    @property
    def consequence(self) -> str | None:
        """What happens if it goes."""
        return next(iter(self.facts.values.get("consequence", ())), None)

    @property
    def harm(self) -> float:
        """The share of the piece's value that is lost if a mend of this damage fails again."""
        return self.shop.share_lost(self.consequence)

    @property
    def takes_no_use(self) -> bool:
        """Whether all that is wrong with the whole piece is its surface, and nothing found makes it unsafe to use as it is."""
        unsafe = any(self.knowledge.findings[name].heard == "now" for name in self.deduction.findings)
        return not unsafe and all(damage.kind in words.ONLY_SEEN for damage in self.case.damages)

    @cached_property
    def must_exceed(self) -> bool:
        """Whether causes that mean "made too weak" together make it likely that as made is not enough."""
        pairs = zip(self.belief.model.causes, self.belief.causes.values(), strict=True)
        return sum(p for cause, p in pairs if cause.made_too_weak) >= WEAK_TOGETHER


def considered(knowledge: Knowledge, facts: Facts, model: Model) -> tuple[Method, ...]:
    """Methods that may apply here and treat at least one cause that is open, or belong to a class that may always be right; where no cause
    of the base is open, also those by which somebody else may have an answer."""
    found = []
    for method in knowledge.methods.values():
        # What must be known and is not is taken as known to hold nothing, so that a line on it is closed.
        values = {**dict.fromkeys(method.only_if_known, frozenset[str]()), **facts.values}
        if not may_apply(method.when, method.unless, values):
            continue
        treats = any(share_left(knowledge.scale, method, cause) < 1.0 for cause in model.causes)
        theirs = not model.causes and method.by not in words.WORKSHOPS
        if treats or theirs or method.decision in ALWAYS_CONSIDERED:
            found.append(method)
    return tuple(found)


def _choice(at: Situation, method: Method, steps: Sequence[PlannedStep], ratio: float | None) -> Choice:
    model, scale = at.belief.model, at.knowledge.scale
    outside = [method.by, *cover_trades(at.knowledge, method, at.deduction)]
    return Choice(
        method=method.id,
        decision=method.decision,
        price=price_of(at.knowledge, at.shop, steps, outside, tight_joints_parted(at.knowledge, at.case, at.damage, method)),
        kept=scale.keeps[method.keeps],
        fails=outcome(scale, method, model.causes, model.members, chance_of_failing(ratio, at.shop.sound_part_fails)),
        strength_ratio=ratio,
    )


def gathered(at: Situation, methods: Sequence[Method]) -> dict[str, tuple[PlannedStep, ...]]:
    """The steps of each of these methods, by its id."""
    return {method.id: gather(at.knowledge, at.case, [Wish(at.damage, method, at.deduction, at.facts)]) for method in methods}


def because_of(option: Option, options: Sequence[Option], shop: Shop) -> str:
    """Why an option is advised, in numbers, with the next best beside it."""
    runner = next((o for o in options if o is not option and o.verdict not in words.SET_ASIDE), None)
    text = f"{option.because}; it holds with a chance of {words.rounded_percent(option.chance_it_holds)}"
    if runner is not None:
        text += f"; the next best costs {shop.money(runner.cost)}"
    return text


def _repairs(methods: Sequence[Method]) -> list[str]:
    return [m.id for m in methods if puts_back(m)]


def _worst_of_untold(at: Situation, methods: Sequence[Method], ratios: Mapping[str, float | None]) -> dict[str, str]:
    """What could not be told counts as the dangerous reading where a rule of safety hangs on it."""
    signs = untold_signs(at.knowledge, at.case, at.damage, at.facts)
    tables = at.belief.model.tables
    chances = {s.id: reading_chances(tables[s.id], at.belief.posterior) for s in signs if s.id in tables}
    reasons: dict[str, str] = {}
    for danger in untold_dangers(rulebook_of(at.knowledge), at.facts, signs, chances):
        ask = at.knowledge.signs[danger.sign].ask
        for method in methods:
            if hits(danger.effect, method, ratios.get(method.id), at.must_exceed):
                because = f"“{ask}” could not be told, so the worst is taken: {at.knowledge.logic[danger.rule].because}"
                reasons.setdefault(method.id, because)
    return reasons


def _banned(at: Situation, methods: Sequence[Method], strong: Strength) -> dict[str, str]:
    """Every method that is ruled out before costs are compared, each with the ground that says most about it."""
    rules = (at.deduction, methods, at.knowledge.logic, strong.after, at.must_exceed)
    banned = {
        **forbidden(*rules, BY_STRENGTH),
        **not_fit(methods, at.consequence, strong.after, at.must_exceed),
        **forbidden(*rules, BY_NAME),
    }
    worst = {**_worst_of_untold(at, methods, strong.after), **banned}
    # Where the worst reading would leave no repair of ours it is no help to assume it: the advice then stands "provided that".
    return worst if any(name not in worst for name in _repairs(methods)) else banned


def gates_of(at: Situation, method: Method) -> tuple[Gate, ...]:
    """What could still rule a method out here, or make the triage graver."""

    now = at.strength([method]).after

    def rules_out(effects: Sequence[Effect], seen: Facts, bears_on_strength: bool) -> bool:
        if not may_apply(method.when, method.unless, seen.values):
            return True
        ratios = at.strength([method], seen).after if bears_on_strength else now
        if not_fit([method], at.consequence, ratios, at.must_exceed):
            return True
        return any(hits(effect, method, ratios[method.id], at.must_exceed) for effect in effects)

    signs = (
        *open_signs(at.knowledge, at.case, at.damage, at.facts),
        *untold_signs(at.knowledge, at.case, at.damage, at.facts),
    )
    return gates(rulebook_of(at.knowledge), at.facts, signs, rules_out, method.when.keys() | method.unless.keys())


def decision_for(knowledge: Knowledge, options: Sequence[Option], because: str) -> dict[str, object]:
    """The part of a Decision that follows from its first option."""
    method = knowledge.methods[options[0].method]
    return {
        "decision": options[0].decision,
        "method": method.id,
        "extent": method.extent,
        "end_use": method.end_use,
        "by": method.by,
        "when": method.timing,
        "because": because,
        "options": tuple(options),
    }


def weigh(at: Situation, plans: Mapping[str, Sequence[PlannedStep]] | None = None) -> Weighed:
    """Every method that may apply, priced, with its chance of failing again, and what rules and strength leave of them.

    `plans` are the steps of each method by its id where they were gathered already: they hang neither on prices nor on strength.
    """
    methods = considered(at.knowledge, at.facts, at.belief.model)
    strong = at.strength(methods)
    banned = _banned(at, methods, strong)
    steps = plans if plans is not None else gathered(at, methods)
    choices = tuple(_choice(at, method, steps[method.id], strong.after.get(method.id)) for method in methods)
    fails = {c.method: float(c.fails @ at.belief.posterior) for c in choices if c.method not in banned}
    whole = [method.id for method in methods if makes_whole(method)]
    banned = {**likely_to_fail(fails, at.consequence, whole), **banned}
    ground, owners = _owners_to_say(at, [c for c in choices if c.method not in banned])
    because = {name: ground + costs_less_below(at.shop, value) for name, value in owners.items()}
    return Weighed(choices, {**because, **banned}, strong, owners)


def costs_less_below(shop: Shop, value: float) -> str:
    """Below which value a way of giving the piece up costs less, as the end of a sentence; nothing where it never does.

    >>> costs_less_below(Shop(), 93.4), costs_less_below(Shop(), 0.0)
    ('; below about EUR 93 this costs less than mending it', '')
    """
    return f"; below about {shop.money(value)} this costs less than mending it" if value > 0 else ""


def _owners_to_say(at: Situation, permitted: Sequence[Choice]) -> tuple[str, dict[str, float]]:
    """Ways of giving the piece up that no sum of ours may choose while it can be mended, and why.

    Each comes with the value below which it would cost less; what can be used as it is has no such value, for leaving it is free.
    """
    methods, posterior = at.knowledge.methods, at.belief.posterior
    mending = [c for c in permitted if makes_whole(methods[c.method]) and float(c.fails @ posterior) <= MORE_LIKELY_FAILS]
    if at.takes_no_use:
        ground = USED_AS_IT_IS
    elif at.case.value is None:
        ground = UNSAID
    elif all(methods[c.method].by not in words.WORKSHOPS for c in mending):
        ground = THEIR_PRICE
    else:
        return "", {}
    redo, harm = at.shop.failing_again_costs, at.harm
    lines = {c.method: line_of(c, posterior, redo, harm) for c in permitted}
    retiring = [lines[c.method] for c in permitted if c.decision == RETIRED]
    if at.takes_no_use:
        return ground, dict.fromkeys((line.method for line in retiring if len(retiring) < len(lines)), 0.0)
    return ground, worth_unsaid(retiring, [lines[c.method] for c in mending])


def advise(at: Situation) -> Advice:
    """The decision for one damage. Raises Undecided when every method is forbidden or none may apply."""
    weighed = weigh(at)
    permitted = weighed.permitted
    if not permitted:
        reasons = "; ".join(dict.fromkeys(weighed.banned.values())) or "no method of the rule base may apply to this damage"
        raise Undecided(f"{at.damage.id}: no way is left: {reasons}")
    options, corners = table(weighed.choices, weighed.banned, at.belief.posterior, at.value, at.shop, at.consequence)
    options = tuple(
        replace(o, verdict=words.Verdict.OWNERS_TO_SAY, cheaper_below=weighed.owners_to_say[o.method])
        if o.method in weighed.owners_to_say
        else o
        for o in options
    )
    provided = gates_of(at, at.knowledge.methods[options[0].method])
    decision = Decision(
        **decision_for(at.knowledge, options, because_of(options[0], options, at.shop)),  # type: ignore[arg-type]
        flips=corners,
        tie=any(o.verdict is words.Verdict.TIE for o in options),
        settled=not any(gate.forbids for gate in provided),
        provided_that=provided,
    )
    costs = cost_matrix(permitted, at.value, at.shop.failing_again_costs, at.harm)
    return Advice(decision, weighed.strength, permitted, costs)


def choosing(at: Situation, decision: Decision, method_id: str) -> Decision:
    """The same decision with another permitted method advised, as the whole piece asks for it; its gates are then its own."""
    others = [
        replace(o, verdict=words.Verdict.POSSIBLE) if o.verdict in (words.Verdict.ADVISED, words.Verdict.TIE) else o
        for o in decision.options
        if o.method != method_id
    ]
    chosen = next(o for o in decision.options if o.method == method_id)
    options = (replace(chosen, verdict=words.Verdict.ADVISED), *others)
    because = f"chosen for the piece as a whole, with its other damages; {because_of(options[0], options, at.shop)}"
    provided = gates_of(at, at.knowledge.methods[method_id])
    return replace(
        decision,
        **decision_for(at.knowledge, options, because),  # type: ignore[arg-type]
        tie=False,
        settled=not any(gate.forbids for gate in provided),
        provided_that=provided,
    )
