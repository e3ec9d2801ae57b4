"""The whole way from a case to an assessment, called by every front end: same input, same output."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from diagnose import words
from diagnose.case.case import Case, Damage, moving
from diagnose.decision import strength
from diagnose.decision.advise import RETIRED, Decision, Situation, advise, because_of, decision_for, gates_of
from diagnose.decision.cost import Price, price_of
from diagnose.decision.decide import Option
from diagnose.decision.next_signs import Questions, next_signs
from diagnose.planning.compose import PlannedStep, Wish, compose
from diagnose.reasoning.believe import Belief, Conflict, answer_tables, believe, conflict, decibels, heard
from diagnose.reasoning.context import model_for
from diagnose.reasoning.deduce import Deduction, deduce
from diagnose.reasoning.facts import Facts, facts_of
from diagnose.reasoning.model import Array
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop


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


def _choosing(assessed: DamageAssessment, at: Situation, method_id: str) -> DamageAssessment:
    """The same assessment with another permitted method advised, as the whole piece asks for it."""
    options = tuple(
        replace(o, verdict=words.Verdict.ADVISED if o.method == method_id else words.Verdict.POSSIBLE)
        if o.method == method_id or o.verdict is words.Verdict.ADVISED
        else o
        for o in assessed.decision.options
    )
    chosen = next(o for o in options if o.method == method_id)
    options = (chosen, *(o for o in options if o is not chosen))
    because = f"chosen for the piece as a whole, with its other damages; {because_of(chosen, options, at.shop)}"
    provided = gates_of(at, at.knowledge.methods[method_id])
    decision = replace(
        assessed.decision,
        **decision_for(at.knowledge, options, because),  # type: ignore[arg-type]
        settled=not any(gate.forbids for gate in provided),
        provided_that=provided,
    )
    return replace(assessed, decision=decision)


def _as_one_piece(assessed: Sequence[DamageAssessment], situations: Sequence[Situation], value: float) -> list[DamageAssessment]:
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
            return [_choosing(d, at, o.method) for d, at, o in zip(assessed, situations, whole, strict=True)]
    return [d if o is None else _choosing(d, at, o.method) for d, at, o in zip(assessed, situations, retired, strict=True)]


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

    The same input gives the same output; nothing is read and nothing is written. Raises Undecided when the rules leave no way.
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
    situations = []
    for name, (damage, facts, model, tables, _) in first.items():
        others = [(m, own) for other, (_, _, m, _, own) in first.items() if other != name]
        belief = believe(model, tables, heard(model, others))
        deduction = deduce(rulebook_of(knowledge), facts)
        at = Situation(knowledge, shop, case, damage, facts, deduction, belief, value)
        situations.append(at)
        advice = advise(at)
        decision, strong, costs = advice.decision, advice.strength, advice.costs
        questions = next_signs(
            knowledge, shop, case, damage, facts, belief, deduction, decision.provided_that, costs, place, station
        )
        assumptions.extend(strong.assumptions)
        assessed.append(
            DamageAssessment(
                damage, facts, deduction, belief, decibels(belief), conflict(belief), decision, questions, strong, costs
            )
        )
    assessed = _as_one_piece(assessed, situations, value)
    # What was seen at the door counts for the piece even where no damage is noted yet.
    deductions = [d.deduction for d in assessed] or [deduce(rulebook_of(knowledge), facts_of(knowledge, case, Damage("", "")))]
    triage = max((d.triage() for d in deductions), key=lambda t: t.gravity)
    # A piece that is not taken on gets no plan and no price, whatever a repair would look like.
    refused = triage in (words.Triage.DECLINE, words.Triage.REFER, words.Triage.STAYS_OUT)
    wishes = [] if refused else [Wish(d.damage, knowledge.methods[d.decision.method], d.deduction) for d in assessed]
    plan = compose(knowledge, case, wishes)
    outside = sorted({wish.method.by for wish in wishes} - {"us"})
    because = tuple(
        dict.fromkeys(knowledge.logic[rule].because for d in deductions for rule in d.rules_for("triage", triage.value))
    )
    hazards = [hazard for planned in plan for hazard in planned.step.hazards]
    cautions = [c for d in deductions for c in d.targets("caution")]
    return Assessment(
        case=case,
        knowledge=knowledge,
        shop=shop,
        today=today,
        triage=triage,
        triage_because=because,
        refer_to=tuple(dict.fromkeys(t for d in deductions for t in d.targets("refer"))),
        damages=tuple(assessed),
        plan=plan,
        price=price_of(knowledge, shop, plan, outside) if wishes else None,
        piece_decision=_piece_decision(triage, assessed),
        cautions=tuple(dict.fromkeys([*cautions, *hazards])),
        findings=tuple(dict.fromkeys(f for d in deductions for f in d.findings)),
        assumptions=tuple(dict.fromkeys(assumptions)),
        moving=moving(case, piece),
    )
