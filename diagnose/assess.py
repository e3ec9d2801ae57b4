"""The whole way from a case to an assessment, called by every front end: same input, same output."""

from collections.abc import Iterator, Mapping, Sequence
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
from diagnose.reasoning.model import Array, Model
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop


@dataclass(frozen=True)
class DamageAssessment:
    """Everything about one damage."""

    situation: Situation
    weights: Mapping[str, Mapping[str, float]]
    conflict: Conflict | None
    decision: Decision
    questions: Questions
    strength: strength.Strength
    costs: Array

    @property
    def damage(self) -> Damage:
        """The damage as it stands in the case."""
        return self.situation.damage

    @property
    def facts(self) -> Facts:
        """What is known there, as facts."""
        return self.situation.facts

    @property
    def deduction(self) -> Deduction:
        """What the rules conclude from the facts."""
        return self.situation.deduction

    @property
    def belief(self) -> Belief:
        """How likely each cause is."""
        return self.situation.belief

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
    again = option.fails_again * (at.shop.failing_again_costs + at.harm * at.value)
    trades = [method.by, *cover_trades(at.knowledge, method, damage.deduction)]
    least = least_of_each(at.knowledge, at.shop, steps, trades)
    return Way(option.method, option.decision, again, at.knowledge.scale.keeps[method.keeps], least)


def _wishes(assessed: Sequence[DamageAssessment], methods: Sequence[str]) -> list[Wish]:
    pairs = zip(assessed, methods, strict=True)
    return [Wish(d.damage, d.situation.knowledge.methods[name], d.deduction, d.facts) for d, name in pairs]


def _all_given_up(methods: Sequence[str], knowledge: Knowledge) -> bool:
    return all(knowledge.methods[name].decision == RETIRED for name in methods)


def _open_ways(assessed: Sequence[DamageAssessment]) -> list[list[Option]]:
    """The ways each damage has, once it is settled whether the piece is given up: by the damages that take its use, not by its surface.

    Where one of them leaves no other way than giving the piece up, nothing is mended on it any more.
    """
    knowledge = assessed[0].situation.knowledge
    bearing = [d for d in assessed if d.damage.kind not in words.ONLY_SEEN]
    lost = any(_all_given_up([o.method for o in _permitted(d, words.SET_ASIDE)], knowledge) for d in bearing)
    aside = frozenset({words.Verdict.RULED_OUT}) if lost else words.SET_ASIDE
    ways = [_permitted(d, aside) for d in assessed]
    if not bearing or len(bearing) == len(assessed):
        return ways
    given_up = _all_given_up(_together(bearing, [_permitted(d, aside) for d in bearing]), knowledge)
    return [[o for o in options if (o.decision == RETIRED) is given_up] or options for options in ways]


def _permitted(damage: DamageAssessment, aside: frozenset[words.Verdict]) -> list[Option]:
    return [option for option in damage.decision.options if option.verdict not in aside]


def _together(assessed: Sequence[DamageAssessment], open_to: Sequence[Sequence[Option]]) -> tuple[str, ...]:
    """Of the ways that are open to each damage those that cost least together."""
    at = assessed[0].situation
    ways = [[_way(d, option) for option in options] for d, options in zip(assessed, open_to, strict=True)]

    def price(methods: Sequence[str]) -> float:
        return whole_price(at.knowledge, at.shop, at.case, _wishes(assessed, methods)).expected

    return cheapest_together(ways, at.value, price)


def _as_one_piece(assessed: Sequence[DamageAssessment]) -> list[DamageAssessment]:
    """The methods that cost least together; where that is what each damage asks for alone, nothing changes."""
    if len(assessed) < 2:
        return list(assessed)
    chosen = _together(assessed, _open_ways(assessed))
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


def _not_said(case: Case, shop: Shop) -> Iterator[str]:
    """What nobody said of the piece, and what is taken in its place."""
    if case.value is None:
        yield f"the value of the piece, not said: {shop.money(shop.assumed_value)} assumed"
    if case.wood is None and case.damages:
        yield "the wood, not said: nothing that hangs on a wood is taken to hold"
    if any(
        d.part is None and d.kind in words.MAY_GIVE_WAY and not {"carries", "consequence"} & d.facts.keys() for d in case.damages
    ):
        yield "the part, not said: the gravest is taken of what could happen if it goes"


@dataclass(frozen=True)
class _Read:
    """One damage by itself: its facts, the causes open to it, what each answer says of them, and which answers are of it alone."""

    damage: Damage
    facts: Facts
    model: Model
    tables: Mapping[str, Array]
    own: Mapping[str, Array]


def _read(knowledge: Knowledge, case: Case, damage: Damage, only: Sequence[str]) -> _Read:
    bare = facts_of(knowledge, case, damage)
    facts = facts_of(knowledge, case, damage, strength.computed_readings(knowledge, case, damage, bare))
    model = model_for(knowledge, facts, only)
    tables = answer_tables(knowledge.scale, model, facts.counted)
    own = {name: table for name, table in tables.items() if knowledge.signs[name].of == "damage"}
    return _Read(damage, facts, model, tables, own)


def _believed(one: _Read, read: Sequence[_Read]) -> Belief:
    """The belief in the causes of one damage, the others of the piece heard as well."""
    others = [(other.model, other.own) for other in read if other is not one]
    return believe(one.model, one.tables, heard(one.model, others))


def _left_out(belief: Belief) -> list[str]:
    rarer = len(belief.model.left_out)
    said = f"{rarer} rarer causes left out: more stand open than can be weighed until part and joint are known"
    return [said] if rarer else []


def _judged(at: Situation, place: str, station: str | None) -> tuple[DamageAssessment, Opening]:
    """One damage with what is advised and what to ask next; and what its price could be before it is opened."""
    advice = advise(at)
    judged = DamageAssessment(
        situation=at,
        weights=decibels(at.belief),
        conflict=conflict(at.belief),
        decision=advice.decision,
        questions=next_signs(at, advice.decision.provided_that, advice.costs, place, station),
        strength=advice.strength,
        costs=advice.costs,
    )
    return judged, before_opening(at, advice)


def _told(
    knowledge: Knowledge,
    shop: Shop,
    case: Case,
    wishes: Sequence[Wish],
    plan: Sequence[PlannedStep],
    openings: Mapping[str, Opening],
) -> ToldPrice:
    """The price as it may be told: of what lies in a joint that the plan opens it can only be a range."""
    opened = any(planned.step.phase == "take_apart" and planned.step.per == "bond" for planned in plan)
    hidden = openings if opened else {}
    settles = tuple(dict.fromkeys(sign for opening in hidden.values() for sign in opening.signs))
    return told_price(knowledge, shop, case, wishes, {name: opening.methods for name, opening in hidden.items()}, settles)


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
    case, notes = _with_terms(case, shop, today)
    assumptions = [*notes, *unknown_abilities(knowledge, shop), *_not_said(case, shop)]
    value = case.value if case.value is not None else shop.assumed_value
    read = [_read(knowledge, case, damage, only) for damage in case.damages]
    assessed: list[DamageAssessment] = []
    openings: dict[str, Opening] = {}
    for one in read:
        belief = _believed(one, read)
        deduction = deduce(rulebook_of(knowledge), one.facts)
        situation = Situation(knowledge, shop, case, one.damage, one.facts, deduction, belief, value)
        judged, openings[one.damage.id] = _judged(situation, place, station)
        assessed.append(judged)
        assumptions += [*judged.strength.assumed.values(), *_left_out(belief)]
    assessed = _as_one_piece(assessed)
    concluded = [(d.deduction, d.facts) for d in assessed] or [_at_the_door(knowledge, case)]
    deductions = [deduction for deduction, _ in concluded]
    triage = max((d.triage() for d in deductions), key=lambda t: t.gravity)
    # A piece that is not taken on gets no plan and no price, whatever a repair would look like.
    refused = triage in (words.Triage.DECLINE, words.Triage.REFER, words.Triage.STAYS_OUT)
    wishes = [] if refused else _wishes(assessed, [d.decision.method for d in assessed])
    plan = compose(knowledge, case, wishes)
    because = (knowledge.logic[rule].because for d in deductions for rule in d.rules_for("triage", triage.value))
    hazards = [hazard for planned in plan for hazard in planned.step.hazards]
    cautions = [c for deduction, facts in concluded for c in deduction.targets("caution") if has_hazard(knowledge, c, facts)]
    return Assessment(
        case=case,
        knowledge=knowledge,
        shop=shop,
        today=today,
        triage=triage,
        triage_because=tuple(dict.fromkeys(because)),
        refer_to=tuple(dict.fromkeys(t for d in deductions for t in d.targets("refer"))),
        damages=tuple(assessed),
        plan=plan,
        told=_told(knowledge, shop, case, wishes, plan, openings),
        piece_decision=_piece_decision(triage, assessed),
        cautions=tuple(dict.fromkeys([*cautions, *hazards])),
        findings=tuple(dict.fromkeys(f for d in deductions for f in d.findings)),
        assumptions=tuple(dict.fromkeys(assumptions)),
        moving=moving(case, knowledge.pieces[case.piece]),
    )
