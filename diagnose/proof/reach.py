"""How far the signs carry: for every cause how high it rises when it alone acts and shows what it usually shows.

Two measures: on what can be answered at the counter alone, and on every sign, with how many answers it takes at best to come first
above four in five. What stays below is named with the cause that stands in its way.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.decision.next_signs import can_be_asked
from diagnose.reasoning.context import model_for
from diagnose.reasoning.facts import case_values, facts_of, may_apply
from diagnose.reasoning.model import Array, Model
from diagnose.rulebase.entries import Cause, Piece, When
from diagnose.rulebase.knowledge import Knowledge

ENOUGH = 0.8
MOST_ANSWERS = 20


@dataclass(frozen=True)
class Reach:
    """One cause on one kind of piece: P on counter signs, P on all signs, answers needed to pass ENOUGH (0 = never), who stands in the way."""

    cause: str
    piece: str
    at_counter: float
    at_bench: float
    answers: int
    rival: str


def context(knowledge: Knowledge, cause: Cause, piece: Piece) -> Case | None:
    """The first damage of a piece on which a cause may act, by kind, part and joint; None where it cannot act on such a piece."""
    kinds = [value for line in cause.when.lines if line.key == "damage" for value in line.values] or list(words.DAMAGES)
    for kind in kinds:
        for joint in piece.joints:
            for part in dict.fromkeys((*joint.joins, *piece.parts)):
                for of in joint.kind:
                    damage = Damage("a", kind, part=part, joint=joint.id, facts={"joint": of})
                    case = Case(piece=piece.id, damages=(damage,))
                    if may_apply(cause.when, When(), case_values(knowledge, case, damage)):
                        return case
    return None


def _usual_answers(model: Model, knowledge: Knowledge, place: int, where: str) -> list[Array]:
    """For every sign that could be asked there, the likelihood of the answer most usual when this set acts."""
    off_by = knowledge.scale.off_by
    found = []
    for name, table in model.tables.items():
        sign = knowledge.signs[name]
        if sign.computed is not None or not can_be_asked(sign, where) or not model.rows[name].speaks.any():
            continue
        u = off_by["owner" if sign.effort == "ask" else "sure"]
        if sign.kind in ("tick_all", "yes_no"):
            reads = tuple(r for r, p in zip(table.readings, table.like[place], strict=True) if p > 0.5)
            reads = reads if sign.kind == "tick_all" else (("yes",) if "yes" in reads else ("no",))
        else:
            reads = (table.readings[int(table.like[place].argmax())],)
        found.append(table.likelihood(reads, u))
    return found


def _risen(model: Model, cause: int, likes: list[Array]) -> tuple[float, int, str]:
    """Ask greedily what lifts the cause most: its probability in the end, answers until ENOUGH, and its strongest rival in the end."""
    weights, left, needed = model.prior.copy(), list(likes), 0
    member = model.members[:, cause]
    chance = float(weights @ member / weights.sum())
    for number in range(1, MOST_ANSWERS + 1):
        if not left:
            break
        rises = [float((weights * like) @ member / (weights @ like)) for like in left]
        best = int(np.argmax(rises))
        if rises[best] <= chance + 1e-4:
            break
        chance, weights = rises[best], weights * left.pop(best)
        weights /= weights.sum()
        if chance >= ENOUGH and not needed:
            needed = number
    shares = weights @ model.members
    shares[cause] = -1.0
    rival = model.names[int(shares.argmax())] if len(model.names) > 1 else ""
    return chance, needed, rival


def contexts(knowledge: Knowledge, cause: Cause) -> Iterator[Case]:
    """A damage on which a cause may act, on the first piece of every group that has one."""
    groups: dict[str, list[Piece]] = {}
    for piece in knowledge.pieces.values():
        groups.setdefault(piece.group, []).append(piece)
    for pieces in groups.values():
        found = next((case for piece in pieces if (case := context(knowledge, cause, piece)) is not None), None)
        if found is not None:
            yield found


def reach(knowledge: Knowledge, causes: Iterable[str] | None = None) -> Iterator[Reach]:
    """Every cause (or these) on a piece of every group on which it may act."""
    for name in knowledge.causes if causes is None else causes:
        cause = knowledge.causes[name]
        for case in contexts(knowledge, cause):
            model = model_for(knowledge, facts_of(knowledge, case, case.damages[0]))
            index = model.names.index(cause.id)
            place = index + 1  # the sets of one cause stand first, after "something else"
            counter, _, _ = _risen(model, index, _usual_answers(model, knowledge, place, "counter"))
            bench, needed, rival = _risen(model, index, _usual_answers(model, knowledge, place, "bench"))
            yield Reach(cause.id, case.piece, counter, bench, needed, rival if bench < ENOUGH else "")
