"""The order of the questions.

First what can be dangerous (a reading that would raise the triage), then what the rules want asked first, then what could still rule
out the advised method, then by worth per minute, turning the piece included. A gate is scored with the best sign it opens, and the
first look into a closed joint with the looks that then cost a minute each: the opening is paid once. It is time to stop when the best
worth per minute is below the shop's rate per minute and nothing likely can rule the advice out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum

from diagnose import words
from diagnose.decision.advise import Situation
from diagnose.decision.foresee import LIKELY_ENOUGH, Gate, chance
from diagnose.decision.inquire import Question, Worth, perfect, reading_chances, worth_of_all
from diagnose.reasoning.facts import open_signs
from diagnose.reasoning.model import Array
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

# Dangers that show before hands go on the piece are looked for however unlikely they are.
AT_THE_DOOR = next(iter(words.STATIONS))
OPENED_ALREADY_MINUTES = 1.0
# Why a question comes where it does, in the order in which they come.
REASONS = ("hazard", "asked_first", "could_rule_out", "value")


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


def next_signs(at: Situation, provided: Sequence[Gate], costs: Array, place: str, station: str | None = None) -> Questions:
    """Every sign that could be asked about a damage at a place, best first.

    `provided` are the readings that could still rule out the advised method, `costs` those of every permitted method for every set of
    causes; `station` is where one stands.
    """
    keep = at.belief.leading()
    belief, costs = at.belief.narrowed(keep), costs[:, keep]
    model = belief.model
    able = [
        sign
        for sign in open_signs(at.knowledge, at.case, at.damage, at.facts)
        if sign.id in model.tables and can_be_asked(sign, place)
    ]
    opens = _opened_by(at, able, place)
    wanted = {sign.id: sign for sign in able} | {other.id: other for pairs in opens.values() for other, _ in pairs}
    off_by = {name: answer_error(at.knowledge, sign) for name, sign in wanted.items()}
    worths = worth_of_all(model, belief.posterior, costs, at.shop.wrong_reason_costs, off_by, sorted(wanted))
    opened = any(at.knowledge.signs[name].effort == "take_apart" for name in at.facts.counted)
    questions = []
    for sign in able:
        chances = reading_chances(model.tables[sign.id], belief.posterior)
        best = _best_look(at.knowledge, sign, worths, chances, opens[sign.id], station, opened)
        reason, likely = _reason(at, sign, [gate for gate in provided if gate.sign == sign.id], chances)
        questions.append(replace(best, reason=reason, chance=likely))
    if not opened:
        roof = perfect(model.members, belief.posterior, costs, at.shop.wrong_reason_costs).total
        questions = _opening_paid_once(at.knowledge, questions, roof)
    ranked = tuple(sorted(questions, key=lambda question: _rank(at.knowledge, question)))
    return Questions(ranked, *_stop(ranked, at.shop))


def _opened_by(at: Situation, able: Sequence[Sign], place: str) -> dict[str, list[tuple[Sign, frozenset[str]]]]:
    """For every sign that can be asked, those that only an answer to it opens, each with the readings that do."""
    answers = at.case.answers(at.damage)
    here = {sign.id for sign in able}

    def shut(sign: Sign) -> bool:
        return sign.computed is None and sign.id not in answers and sign.id not in here and can_be_asked(sign, place)

    return {
        sign.id: [
            (at.knowledge.signs[other], readings)
            for other, readings in at.knowledge.opened_by.get(sign.id, {}).items()
            if shut(at.knowledge.signs[other])
        ]
        for sign in able
    }


def _rank(knowledge: Knowledge, question: Question) -> tuple[float | str, ...]:
    """The place of a question in the order: by its reason, then as that reason asks for, then by name."""
    place_in_round = list(words.STATIONS).index(knowledge.signs[question.sign].station or "owner")
    first = REASONS.index(question.reason)
    if question.reason == "hazard":
        return (first, place_in_round, list(knowledge.signs).index(question.sign), question.sign)
    if question.reason == "asked_first":
        return (first, place_in_round, -question.per_minute, question.sign)
    if question.reason == "could_rule_out":
        return (first, -question.chance / question.minutes, -question.per_minute, question.sign)
    return (first, -question.per_minute, place_in_round, question.sign)


def _best_look(
    knowledge: Knowledge,
    sign: Sign,
    worths: Mapping[str, Worth],
    chances: Mapping[str, float],
    opens: Sequence[tuple[Sign, frozenset[str]]],
    station: str | None,
    opened: bool,
) -> Question:
    """A sign by itself, or with the one that it opens where the two together are worth more a minute."""
    minutes = minutes_of(knowledge, sign, station, opened)
    best = Question(sign.id, worths[sign.id].total, minutes)
    for other, readings in opens:
        # Exact, since the readings are a set: their order, and with it the rounding of a plain sum, differs from run to run.
        share = min(1.0, fsum(chances[reading] for reading in readings))
        value = worths[sign.id].total + share * worths[other.id].total
        both = Question(sign.id, value, minutes + share * minutes_of(knowledge, other, sign.station, opened))
        if both.per_minute > best.per_minute:
            best = both
    return best


def _reason(at: Situation, sign: Sign, gates: Sequence[Gate], chances: Mapping[str, float]) -> tuple[str, float]:
    """Why a sign comes where it does, and the chance of the reading that makes it come there."""
    several = sign.kind == "tick_all"
    raising = [gate for gate in gates if gate.raises_triage]
    danger = chance(raising, chances, several)
    if raising and (sign.station == AT_THE_DOOR or danger >= LIKELY_ENOUGH):
        return "hazard", danger
    if sign.id in at.deduction.targets("ask_first"):
        return "asked_first", 0.0
    likely = chance([gate for gate in gates if gate.forbids], chances, several)
    return ("could_rule_out" if likely >= LIKELY_ENOUGH else "value"), likely


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
