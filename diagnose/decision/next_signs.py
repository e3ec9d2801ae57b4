"""The order of the questions.

First what can be dangerous (a reading that would raise the triage), then what the rules want asked first, then what could still rule
out the advised method, then by worth per minute, turning the piece included. A gate is scored with the best sign it opens, and the
first look into a closed joint with the looks that then cost a minute each: the opening is paid once. It is time to stop when the best
worth per minute is below the shop's rate per minute and nothing likely can rule the advice out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.decision.foresee import LIKELY_ENOUGH, Gate, chance
from diagnose.decision.inquire import Question, Worth, perfect, reading_chances, worth_of_all
from diagnose.reasoning.believe import Belief
from diagnose.reasoning.deduce import Deduction
from diagnose.reasoning.facts import Facts, open_signs
from diagnose.reasoning.model import Array
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

# Dangers that show before hands go on the piece are looked for however unlikely they are.
AT_THE_DOOR = next(iter(words.STATIONS))
OPENED_ALREADY_MINUTES = 1.0


@dataclass(frozen=True)
class Questions:
    """What could be asked, best first; whether it is time to stop, and why."""

    ranked: tuple[Question, ...]
    stop: bool
    because: str

    @property
    def next(self) -> Question | None:
        """The question to ask now, or None when it is time to stop."""
        return None if self.stop or not self.ranked else self.ranked[0]


def can_be_asked(sign: Sign, place: str) -> bool:
    """Whether a sign can be answered there: from photographs, at the counter, at the bench."""
    return sign.effort in words.PLACES[place] and sign.station not in words.CLOSED_STATIONS[place]


def minutes_of(knowledge: Knowledge, sign: Sign, station: str | None, opened: bool) -> float:
    """Minutes to answer a sign, with the turn to its station; a joint that stands open costs no second opening."""
    base = knowledge.minutes_of(sign)
    assert base is not None
    if opened and sign.effort == "take_apart":
        base = min(base, OPENED_ALREADY_MINUTES)
    turn = knowledge.scale.turning if station is not None and sign.station != station else 0.0
    return base + turn


def answer_error(knowledge: Knowledge, sign: Sign) -> float:
    """How easily the answer will be wrong: the owner's word for what is asked, our own eyes otherwise."""
    return knowledge.scale.off_by["owner" if sign.effort == "ask" else "sure"]


def next_signs(
    knowledge: Knowledge,
    shop: Shop,
    case: Case,
    damage: Damage,
    facts: Facts,
    belief: Belief,
    deduction: Deduction,
    provided: Sequence[Gate],
    costs: Array,
    place: str,
    station: str | None = None,
) -> Questions:
    """Every sign that could be asked about a damage at a place, best first."""
    keep = belief.leading()
    belief, costs = belief.narrowed(keep), costs[:, keep]
    model = belief.model
    able = [s for s in open_signs(knowledge, case, damage, facts) if s.id in model.tables and can_be_asked(s, place)]
    answers = case.answers(damage)
    able_ids = {s.id for s in able}
    shut = [
        s
        for s in knowledge.signs.values()
        if s.computed is None and s.id not in answers and s.id not in able_ids and can_be_asked(s, place)
    ]
    off_by = {s.id: answer_error(knowledge, s) for s in (*able, *shut)}
    shut_ids = {s.id for s in shut}
    opens = {
        s.id: [(knowledge.signs[o], readings) for o, readings in knowledge.opened_by.get(s.id, {}).items() if o in shut_ids]
        for s in able
    }
    wanted = able_ids | {o.id for pairs in opens.values() for o, _ in pairs}
    worths = worth_of_all(model, belief.posterior, costs, shop.wrong_reason_costs, off_by, sorted(wanted))
    opened = any(knowledge.signs[name].effort == "take_apart" for name in facts.counted)
    gates_by_sign: dict[str, list[Gate]] = {}
    for gate in provided:
        gates_by_sign.setdefault(gate.sign, []).append(gate)
    asked_first = set(deduction.targets("ask_first"))
    questions = [
        _question(
            knowledge,
            belief,
            sign,
            worths,
            opens[sign.id],
            gates_by_sign.get(sign.id, []),
            asked_first,
            station,
            opened,
        )
        for sign in able
    ]
    if not opened:
        roof = perfect(model.members, belief.posterior, costs, shop.wrong_reason_costs).total
        questions = _opening_paid_once(knowledge, questions, roof)
    stations = list(words.STATIONS)
    order = {"hazard": 0, "asked_first": 1, "could_rule_out": 2, "value": 3}
    written = {name: index for index, name in enumerate(knowledge.signs)}

    def rank(question: Question) -> tuple[float, ...]:
        place_in_round = stations.index(knowledge.signs[question.sign].station or "owner")
        first = order[question.reason]
        if first == 0:
            return (first, place_in_round, written[question.sign])
        if first == 1:
            return (first, place_in_round, -question.per_minute)
        if first == 2:
            return (first, -question.chance / question.minutes, -question.per_minute)
        return (first, -question.per_minute, place_in_round)

    ranked = tuple(sorted(questions, key=lambda q: (*rank(q), q.sign)))
    return Questions(ranked, *_stop(ranked, shop))


def _question(
    knowledge: Knowledge,
    belief: Belief,
    sign: Sign,
    worths: Mapping[str, Worth],
    opens: Sequence[tuple[Sign, frozenset[str]]],
    gates: Sequence[Gate],
    asked_first: set[str],
    station: str | None,
    opened: bool,
) -> Question:
    chances = reading_chances(belief.model.tables[sign.id], belief.posterior)
    minutes = minutes_of(knowledge, sign, station, opened)
    best = Question(sign.id, worths[sign.id].total, minutes)
    for other, readings in opens:
        share = min(1.0, sum(chances[reading] for reading in readings))
        with_other = Question(
            sign.id,
            worths[sign.id].total + share * worths[other.id].total,
            minutes + share * minutes_of(knowledge, other, sign.station, opened),
        )
        if with_other.per_minute > best.per_minute:
            best = with_other
    reason, likely = "value", 0.0
    forbidding = [gate for gate in gates if gate.forbids]
    raising = [gate for gate in gates if gate.raises_triage]
    danger = chance(raising, chances, sign.kind == "tick_all")
    if raising and (sign.station == AT_THE_DOOR or danger >= LIKELY_ENOUGH):
        reason, likely = "hazard", danger
    elif sign.id in asked_first:
        reason = "asked_first"
    elif forbidding:
        likely = chance(forbidding, chances, sign.kind == "tick_all")
        if likely >= LIKELY_ENOUGH:
            reason = "could_rule_out"
    return Question(sign.id, best.value, best.minutes, reason, likely)


def _opening_paid_once(knowledge: Knowledge, questions: Sequence[Question], roof: float) -> list[Question]:
    """The best look into the closed joint, scored with those that make its worth per minute highest once the joint stands open.

    Their worths are added, since what two looks are worth together would take a sum for each pair of answers; together they are
    worth no more than `roof`, that of knowing the causes for certain.
    """
    inside = [q for q in questions if knowledge.signs[q.sign].effort == "take_apart" and q.reason == "value"]
    inside.sort(key=lambda q: (-q.value, q.sign))
    if len(inside) < 2:
        return list(questions)
    first, *more = inside
    best, value, minutes = first, first.value, first.minutes
    for question in more:
        value, minutes = min(value + question.value, roof), minutes + OPENED_ALREADY_MINUTES
        if value / minutes > best.per_minute:
            best = replace(first, value=value, minutes=minutes)
    return [best if question is first else question for question in questions]


def _stop(ranked: Sequence[Question], shop: Shop) -> tuple[bool, str]:
    if not ranked:
        return True, "nothing is left to ask here"
    pressing = [q for q in ranked if q.reason != "value"]
    if pressing:
        return False, "something here can still change what is safe or allowed"
    rate = shop.rate_per_hour / 60.0
    best = max(q.per_minute for q in ranked)
    if best < rate:
        return True, (
            f"the best question is worth {shop.currency} {best:.2f} a minute, less than a minute of work ({shop.currency} {rate:.2f})"
        )
    return False, ""
