"""The whole way from a case to an assessment, called by every front end: same input, same output."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from diagnose import words
from diagnose.case.case import Case, Damage, moving
from diagnose.decision import strength
from diagnose.decision.ban import BY_NAME, BY_STRENGTH, WEAK_TOGETHER, forbidden, likely_to_fail, not_fit
from diagnose.decision.cost import Price, price_of
from diagnose.decision.decide import Choice, Flip, Option, cost_matrix, table
from diagnose.decision.foresee import Gate, gates
from diagnose.decision.next_signs import Questions, next_signs
from diagnose.decision.outcome import outcome, share_left
from diagnose.planning.compose import PlannedStep, Wish, compose
from diagnose.reasoning.believe import Belief, Conflict, answer_tables, believe, conflict, decibels, heard
from diagnose.reasoning.context import model_for
from diagnose.reasoning.deduce import Deduction, deduce
from diagnose.reasoning.facts import Facts, facts_of, may_apply, open_signs
from diagnose.reasoning.model import Array, Model
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Method
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

# Classes that may be right whatever the cause, and so are always considered.
RETIRED = "retire_piece"
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
class DamageAssessment:
    """Everything about one damage."""

    damage: Damage
    facts: Facts
    deduction: Deduction
    belief: Belief
    weights: Mapping[str, Mapping[str, float]]
    conflict: Conflict | None
    decision: Decision
    questions: Questions
    strength: strength.Strength
    costs: Array

    def causes_by_probability(self) -> list[tuple[str, float]]:
        """(cause, probability), most probable first, then by name."""
        return sorted(self.belief.causes.items(), key=lambda item: (-item[1], item[0]))


@dataclass(frozen=True)
class Assessment:
    """The whole piece."""

    case: Case
    knowledge: Knowledge
    shop: Shop
    today: date
    triage: words.Triage
    triage_because: tuple[str, ...]
    refer_to: tuple[str, ...]
    damages: tuple[DamageAssessment, ...]
    plan: tuple[PlannedStep, ...]
    price: Price | None
    piece_decision: str
    cautions: tuple[str, ...]
    findings: tuple[str, ...]
    assumptions: tuple[str, ...]
    moving: str | None


def considered(knowledge: Knowledge, facts: Facts, model: Model) -> tuple[Method, ...]:
    """Methods that may apply here and treat at least one cause that is open, or belong to a class that may always be right."""
    found = []
    for method in knowledge.methods.values():
        if not may_apply(method.when, method.unless, facts.values):
            continue
        treats = any(share_left(knowledge.scale, method, cause) < 1.0 for cause in model.causes)
        if treats or method.decision in ALWAYS_CONSIDERED:
            found.append(method)
    return tuple(found)


def _weak(belief: Belief) -> bool:
    together = sum(p for cause, p in zip(belief.model.causes, belief.causes.values(), strict=True) if cause.made_too_weak)
    return together >= WEAK_TOGETHER


def _choice(knowledge: Knowledge, shop: Shop, case: Case, wish: Wish, model: Model, ratio: float | None) -> Choice:
    method = wish.method
    steps = compose(knowledge, case, [wish])
    outside = [method.by] if method.by != "us" else []
    by_strength = strength.chance_of_failing(ratio, shop.sound_part_fails)
    return Choice(
        method=method.id,
        decision=method.decision,
        price=price_of(knowledge, shop, steps, outside),
        kept=knowledge.scale.keeps[method.keeps],
        fails=outcome(knowledge.scale, method, model.causes, model.members, by_strength),
        strength_ratio=ratio,
    )


def _because(option: Option, options: Sequence[Option], shop: Shop) -> str:
    runner = next((o for o in options if o is not option and o.verdict is not words.Verdict.RULED_OUT), None)
    text = f"{option.because}; it holds with a chance of {words.rounded_percent(option.chance_it_holds)}"
    if runner is not None:
        text += f"; the next best costs {shop.money(runner.cost)}"
    return text


def _decide(
    knowledge: Knowledge,
    shop: Shop,
    case: Case,
    damage: Damage,
    facts: Facts,
    deduction: Deduction,
    belief: Belief,
    value: float,
) -> tuple[Decision, strength.Strength, Array]:
    model = belief.model
    methods = considered(knowledge, facts, model)
    strong = strength.strength_of(knowledge, case, damage, facts, methods)
    must_exceed = _weak(belief)
    consequence = next(iter(facts.values.get("consequence", ())), None)
    rules = (deduction, methods, knowledge.logic, strong.after, must_exceed)
    banned = {
        **forbidden(*rules, BY_STRENGTH),
        **not_fit(methods, consequence, strong.after, must_exceed),
        **forbidden(*rules, BY_NAME),
    }
    choices = [_choice(knowledge, shop, case, Wish(damage, m, deduction), model, strong.after.get(m.id)) for m in methods]
    fails = {c.method: float(c.fails @ belief.posterior) for c in choices if c.method not in banned}
    repairs = [m.id for m in methods if m.by == "us" and m.end_use not in ("show_only", "not_to_be_used")]
    banned = {**likely_to_fail(fails, consequence, repairs), **banned}
    options, corners = table(choices, banned, belief.posterior, value, shop)
    best = options[0]
    method = knowledge.methods[best.method]
    provided = gates(rulebook_of(knowledge), facts, open_signs(knowledge, case, damage, facts), method)
    open_gates = tuple(gate for gate in provided if gate.forbids)
    decision = Decision(
        decision=best.decision,
        method=best.method,
        extent=method.extent,
        end_use=method.end_use,
        by=method.by,
        when=method.timing,
        because=_because(best, options, shop),
        options=options,
        flips=corners,
        tie=any(o.verdict is words.Verdict.TIE for o in options),
        settled=not open_gates,
        provided_that=provided,
    )
    permitted = [c for c in choices if c.method not in banned]
    return decision, strong, cost_matrix(permitted, value, shop.failing_again_costs, shop.failing_again_share)


def _choosing(assessed: DamageAssessment, knowledge: Knowledge, shop: Shop, method_id: str) -> DamageAssessment:
    """The same assessment with another permitted method advised, as the whole piece asks for it."""
    options = tuple(
        replace(o, verdict=words.Verdict.ADVISED if o.method == method_id else words.Verdict.POSSIBLE)
        if o.method == method_id or o.verdict is words.Verdict.ADVISED
        else o
        for o in assessed.decision.options
    )
    chosen = next(o for o in options if o.method == method_id)
    options = (chosen, *(o for o in options if o is not chosen))
    method = knowledge.methods[method_id]
    decision = replace(
        assessed.decision,
        decision=chosen.decision,
        method=method_id,
        extent=method.extent,
        end_use=method.end_use,
        by=method.by,
        when=method.timing,
        because=f"chosen for the piece as a whole, with its other damages; {_because(chosen, options, shop)}",
        options=options,
    )
    return replace(assessed, decision=decision)


def _as_one_piece(assessed: Sequence[DamageAssessment], knowledge: Knowledge, shop: Shop, value: float) -> list[DamageAssessment]:
    """A piece is retired as a whole or mended as a whole; its value is lost once, not once for every damage."""

    def permitted(damage: DamageAssessment, retired: bool) -> list[Option]:
        return [
            o for o in damage.decision.options if o.verdict is not words.Verdict.RULED_OUT and (o.decision == RETIRED) is retired
        ]

    if not any(d.decision.decision == RETIRED for d in assessed) or len(assessed) < 2:
        return list(assessed)
    mended = [min(permitted(d, False), key=lambda o: (o.cost, o.method), default=None) for d in assessed]
    retired = [min(permitted(d, True), key=lambda o: (o.cost, o.method), default=None) for d in assessed]
    whole = [o for o in mended if o is not None]
    if len(whole) == len(assessed):
        lost = max((o.price.expected for o in retired if o is not None), default=0.0) + value
        if sum(o.cost for o in whole) < lost or None in retired:
            return [_choosing(d, knowledge, shop, o.method) for d, o in zip(assessed, whole, strict=True)]
    return [d if o is None else _choosing(d, knowledge, shop, o.method) for d, o in zip(assessed, retired, strict=True)]


def _piece_decision(triage: words.Triage, damages: Sequence[DamageAssessment]) -> str:
    if triage in (words.Triage.DECLINE, words.Triage.STAYS_OUT):
        return RETIRED if triage is words.Triage.DECLINE else "treat_infestation"
    if triage is words.Triage.REFER:
        return "refer_to_specialist"
    if not damages:
        return "no_structural_work"
    order = list(words.CLASSES)
    heavy = {name: index for index, name in enumerate(words.LADDER)}
    return max((d.decision.decision for d in damages), key=lambda c: (heavy.get(c, -1), -order.index(c)))


def assess(
    case: Case,
    knowledge: Knowledge,
    shop: Shop,
    today: date,
    only: Sequence[str] = (),
    place: str = "bench",
    station: str | None = None,
) -> Assessment:
    """Assess a case. `only` narrows the causes that are open (stories use it); `place` says which signs could be asked there; `station` where
    one stands already, since turning the piece costs minutes.

    The same input gives the same output; nothing is read and nothing is written.
    """
    value = case.value if case.value is not None else shop.assumed_value
    assumptions = [] if case.value is not None else [f"the value of the piece, not said: {shop.money(value)} assumed"]
    piece = knowledge.pieces[case.piece]
    first = {}
    for damage in case.damages:
        bare = facts_of(knowledge, case, damage)
        facts = facts_of(knowledge, case, damage, strength.computed_readings(knowledge, case, damage, bare))
        model = model_for(knowledge, facts, only)
        tables = answer_tables(knowledge.scale, model, facts.counted)
        own = {name: t for name, t in tables.items() if knowledge.signs[name].of == "damage"}
        first[damage.id] = (damage, facts, model, tables, own)
    assessed = []
    for name, (damage, facts, model, tables, _) in first.items():
        others = [(m, own) for other, (_, _, m, _, own) in first.items() if other != name]
        belief = believe(model, tables, heard(model, others))
        deduction = deduce(rulebook_of(knowledge), facts)
        decision, strong, costs = _decide(knowledge, shop, case, damage, facts, deduction, belief, value)
        questions = next_signs(
            knowledge, shop, case, damage, facts, belief, deduction, decision.provided_that, costs, place, station
        )
        assumptions.extend(strong.assumptions)
        assessed.append(
            DamageAssessment(
                damage, facts, deduction, belief, decibels(belief), conflict(belief), decision, questions, strong, costs
            )
        )
    assessed = _as_one_piece(assessed, knowledge, shop, value)
    wishes = [Wish(d.damage, knowledge.methods[d.decision.method], d.deduction) for d in assessed]
    plan = compose(knowledge, case, wishes)
    outside = sorted({wish.method.by for wish in wishes} - {"us"})
    triages = [(d.deduction.triage(), d.deduction) for d in assessed]
    triage = max((t for t, _ in triages), key=lambda t: t.gravity, default=words.Triage.TAKE_IN)
    because = tuple(
        dict.fromkeys(knowledge.logic[rule].because for _, d in triages for rule in d.rules_for("triage", triage.value))
    )
    hazards = [hazard for planned in plan for hazard in planned.step.hazards]
    cautions = [c for d in assessed for c in d.deduction.targets("caution")]
    return Assessment(
        case=case,
        knowledge=knowledge,
        shop=shop,
        today=today,
        triage=triage,
        triage_because=because,
        refer_to=tuple(dict.fromkeys(t for d in assessed for t in d.deduction.targets("refer"))),
        damages=tuple(assessed),
        plan=plan,
        price=price_of(knowledge, shop, plan, outside) if assessed else None,
        piece_decision=_piece_decision(triage, assessed),
        cautions=tuple(dict.fromkeys([*cautions, *hazards])),
        findings=tuple(dict.fromkeys(f for d in assessed for f in d.deduction.findings)),
        assumptions=tuple(dict.fromkeys(assumptions)),
        moving=moving(case, piece),
    )
