"""The whole way from a case to an assessment, called by every front end: same input, same output."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from diagnose import words
from diagnose.case.case import Case, Damage, moving, our_term
from diagnose.decision import strength
from diagnose.decision.advise import Decision, Situation, advise, choosing
from diagnose.decision.can_do import unknown_abilities, within_reach
from diagnose.decision.cost import Price, cover_trades, least_of_each
from diagnose.decision.decide import Option
from diagnose.decision.next_signs import Questions, next_signs
from diagnose.decision.opening import Opening, before_opening
from diagnose.decision.told_price import ToldPrice, told_price, whole_price
from diagnose.decision.whole_piece import RETIRED, Way, cheapest_together
from diagnose.planning.compose import PlannedStep, Wish, compose, gather, has_hazard
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
    situation: Situation

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
    told: ToldPrice
    piece_decision: str
    cautions: tuple[str, ...]
    findings: tuple[str, ...]
    assumptions: tuple[str, ...]
    moving: str | None

    @property
    def price(self) -> Price | None:
        """The price of our work on this piece, where one may be told."""
        return self.told.ours


def _way(damage: DamageAssessment, option: Option) -> Way:
    """A permitted option as the sums of the whole piece see it."""
    at = damage.situation
    method = at.knowledge.methods[option.method]
    steps = gather(at.knowledge, at.case, [Wish(damage.damage, method, damage.deduction, damage.facts)])
    again = option.fails_again * (at.shop.failing_again_costs + at.shop.failing_again_share * at.value)
    trades = [method.by, *cover_trades(at.knowledge, method, damage.deduction)]
    least = least_of_each(at.knowledge, at.shop, steps, trades)
    return Way(option.method, option.decision, again, at.knowledge.scale.keeps[method.keeps], least)


def _wishes(assessed: Sequence[DamageAssessment], methods: Sequence[str]) -> list[Wish]:
    pairs = zip(assessed, methods, strict=True)
    return [Wish(d.damage, d.situation.knowledge.methods[name], d.deduction, d.facts) for d, name in pairs]


def _as_one_piece(assessed: Sequence[DamageAssessment]) -> list[DamageAssessment]:
    """The methods that cost least together; where that is what each damage asks for alone, nothing changes."""
    if len(assessed) < 2:
        return list(assessed)
    at = assessed[0].situation
    open_to = [[o for o in d.decision.options if o.verdict not in words.SET_ASIDE] for d in assessed]
    ways = [[_way(d, option) for option in options] for d, options in zip(assessed, open_to, strict=True)]

    def price(methods: Sequence[str]) -> float:
        return whole_price(at.knowledge, at.shop, at.case, _wishes(assessed, methods)).expected

    chosen = cheapest_together(ways, at.value, price)
    return [
        d if d.decision.method == name else replace(d, decision=choosing(d.situation, d.decision, name))
        for d, name in zip(assessed, chosen, strict=True)
    ]


def _with_terms(case: Case, shop: Shop, today: date) -> tuple[Case, list[str]]:
    """The case with each earlier repair of ours held against its term; and what could not be."""
    damages, notes = [], []
    for damage in case.damages:
        if damage.repaired is not None and "our_term" not in damage.facts:
            term = our_term(damage.repaired, today, shop.term_months)
            if term is None:
                notes.append(
                    f"the repair of {damage.repaired} ({damage.id}) lies after today, {today}: it was left out of account"
                )
            else:
                damage = replace(damage, facts={**damage.facts, "our_term": term})
        damages.append(damage)
    return replace(case, damages=tuple(damages)), notes


def _at_the_door(knowledge: Knowledge, case: Case) -> tuple[Deduction, Facts]:
    """What was seen at the door counts for the piece even where no damage is noted yet."""
    facts = facts_of(knowledge, case, Damage("", ""))
    return deduce(rulebook_of(knowledge), facts), facts


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
    knowledge = within_reach(knowledge, shop)
    case, assumptions = _with_terms(case, shop, today)
    assumptions.extend(unknown_abilities(knowledge, shop))
    value = case.value if case.value is not None else shop.assumed_value
    if case.value is None:
        assumptions.append(f"the value of the piece, not said: {shop.money(value)} assumed")
    if case.wood is None and case.damages:
        assumptions.append("the wood, not said: nothing that hangs on a wood is taken to hold")
    if any(
        d.part is None and d.kind in words.MAY_GIVE_WAY and not {"carries", "consequence"} & d.facts.keys() for d in case.damages
    ):
        assumptions.append("the part, not said: the gravest is taken of what could happen if it goes")
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
    openings: dict[str, Opening] = {}
    for name, (damage, facts, model, tables, _) in first.items():
        others = [(m, own) for other, (_, _, m, _, own) in first.items() if other != name]
        belief = believe(model, tables, heard(model, others))
        deduction = deduce(rulebook_of(knowledge), facts)
        at = Situation(knowledge, shop, case, damage, facts, deduction, belief, value)
        advice = advise(at)
        decision, strong, costs = advice.decision, advice.strength, advice.costs
        questions = next_signs(
            knowledge, shop, case, damage, facts, belief, deduction, decision.provided_that, costs, place, station
        )
        assumptions.extend(strong.assumed.values())
        if belief.model.left_out:
            rarer = len(belief.model.left_out)
            assumptions.append(
                f"{rarer} rarer causes left out: more stand open than can be weighed until part and joint are known"
            )
        openings[name] = before_opening(at, advice)
        assessed.append(
            DamageAssessment(
                damage, facts, deduction, belief, decibels(belief), conflict(belief), decision, questions, strong, costs, at
            )
        )
    assessed = _as_one_piece(assessed)
    concluded = [(d.deduction, d.facts) for d in assessed] or [_at_the_door(knowledge, case)]
    deductions = [deduction for deduction, _ in concluded]
    triage = max((d.triage() for d in deductions), key=lambda t: t.gravity)
    # A piece that is not taken on gets no plan and no price, whatever a repair would look like.
    refused = triage in (words.Triage.DECLINE, words.Triage.REFER, words.Triage.STAYS_OUT)
    wishes = [] if refused else _wishes(assessed, [d.decision.method for d in assessed])
    plan = compose(knowledge, case, wishes)
    opened = any(planned.step.phase == "take_apart" and planned.step.per == "bond" for planned in plan)
    hidden = {name: opening for name, opening in openings.items() if opened}
    told = told_price(
        knowledge,
        shop,
        case,
        wishes,
        {name: opening.methods for name, opening in hidden.items()},
        tuple(dict.fromkeys(sign for opening in hidden.values() for sign in opening.signs)),
    )
    because = tuple(
        dict.fromkeys(knowledge.logic[rule].because for d in deductions for rule in d.rules_for("triage", triage.value))
    )
    hazards = [hazard for planned in plan for hazard in planned.step.hazards]
    cautions = [c for deduction, facts in concluded for c in deduction.targets("caution") if has_hazard(knowledge, c, facts)]
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
        told=told,
        piece_decision=_piece_decision(triage, assessed),
        cautions=tuple(dict.fromkeys([*cautions, *hazards])),
        findings=tuple(dict.fromkeys(f for d in deductions for f in d.findings)),
        assumptions=tuple(dict.fromkeys(assumptions)),
        moving=moving(case, piece),
    )
