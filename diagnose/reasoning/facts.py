"""From a case to facts: which values of which key hold, what is known, and which gates stand open.

A key that is absent is unknown; a key that is present with no value is known and holds nothing (a tick-all list answered
"none of these"). A key with a question mark behind it holds what the fact may be, where that much is known: a joint of the map
that is usually a tenon or dowels is neither an edge joint nor a screw. Gates hear of it; rules fire on certain facts alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from graphlib import TopologicalSorter

from diagnose import words
from diagnose.case.case import Answer, Case, Damage, moving
from diagnose.rulebase.entries import Joint, Line, Piece, Sign, When
from diagnose.rulebase.knowledge import Knowledge

Values = Mapping[str, frozenset[str]]
CLIMBED = "a_person_standing_or_climbing"
MAYBE = "?"


@dataclass(frozen=True)
class Facts:
    """The facts of one damage. `counted` are the answers whose gates stand open; `greyed` those whose gates have closed."""

    values: Values
    counted: Mapping[str, Answer]
    greyed: tuple[str, ...] = ()

    def tokens(self) -> tuple[str, ...]:
        """Every fact as one text token, sorted."""
        return tuple(sorted(f"{key}={value}" for key, held in certain(self.values).items() for value in held))

    def adding(self, key: str, reading: str) -> "Facts":
        """The same facts and one more, as when a sign is answered."""
        held = self.values.get(key, frozenset()) | {reading}
        counted = {**self.counted, key: Answer((reading,))}
        return Facts({**self.values, key: held}, counted, self.greyed)


def certain(values: Values) -> dict[str, frozenset[str]]:
    """The facts that are known for certain."""
    return {key: held for key, held in values.items() if not key.endswith(MAYBE)}


def holds(line: Line, values: Values) -> bool | None:
    """Whether a line holds: True, False, or None while its fact is unknown."""
    held = values.get(line.key)
    if held is None:
        may_be = values.get(line.key + MAYBE)
        if may_be is None or line.every or not may_be.isdisjoint(line.values):
            return True if may_be and not line.every and may_be <= set(line.values) else None
        return False
    return held >= set(line.values) if line.every else not held.isdisjoint(line.values)


def _all(lines: tuple[Line, ...], values: Values) -> bool | None:
    verdict: bool | None = True
    for line in lines:
        one = holds(line, values)
        if one is False:
            return False
        if one is None:
            verdict = None
    return verdict


def satisfied(when: When, values: Values) -> bool | None:
    """Whether a whole condition holds: True, False, or None while that hangs on something unknown."""
    verdict = _all(when.lines, values)
    if verdict is False or not when.branches:
        return verdict
    branches = [_all(branch, values) for branch in when.branches]
    if True in branches:
        return verdict
    return None if None in branches else False


def closed(unless: When, values: Values) -> bool | None:
    """Whether an `unless` closes: any line (or any whole branch) that holds does; None while that is unknown."""
    verdict: bool | None = False
    for lines in (*((line,) for line in unless.lines), *unless.branches):
        one = _all(lines, values)
        if one is True:
            return True
        if one is None:
            verdict = None
    return verdict


def may_apply(when: When, unless: When, values: Values) -> bool:
    """Gates of causes and methods: nothing known means that it may apply."""
    return satisfied(when, values) is not False and closed(unless, values) is not True


def gate_open(sign: Sign, values: Values) -> bool:
    """Gates of signs: a line about the case may be unknown; a line about another sign must be answered and hold."""
    for line in sign.when.lines:
        verdict = holds(line, values)
        if verdict is False or (verdict is None and line.key not in words.CASE_FACTS):
            return False
    if sign.when.branches and not any(
        all(holds(line, values) or (holds(line, values) is None and line.key in words.CASE_FACTS) for line in branch)
        for branch in sign.when.branches
    ):
        return False
    return closed(sign.unless, values) is not True


@lru_cache(maxsize=8)
def _gate_order(gates: tuple[tuple[str, frozenset[str]], ...]) -> tuple[str, ...]:
    graph = {name: sorted(needed) for name, needed in gates}
    return tuple(TopologicalSorter(graph).static_order())


def sign_order(knowledge: Knowledge) -> tuple[str, ...]:
    """Signs in an order in which every gate comes after the signs it asks about."""
    names = set(knowledge.signs)
    gates = tuple((s.id, (s.when.keys() | s.unless.keys()) & names) for s in knowledge.signs.values())
    return _gate_order(gates)


def case_values(knowledge: Knowledge, case: Case, damage: Damage) -> dict[str, frozenset[str]]:
    """The facts of the case alone: piece and its group, damage, joint, part, what it carries, wood, consequence, joints that move."""
    piece = knowledge.pieces[case.piece]
    values = {"piece": frozenset({piece.id, piece.group}), "damage": frozenset({damage.kind})}
    joint = piece.joint(damage.joint) if damage.joint else None
    if joint is not None:
        values["joint" if len(joint.kind) == 1 else "joint" + MAYBE] = frozenset(joint.kind)
    if damage.part is not None:
        values["part"] = frozenset({damage.part})
        part = piece.parts.get(damage.part)
        if part is not None:
            values["carries"] = frozenset({part.carries})
    if case.wood is not None:
        wood = knowledge.woods.get(case.wood)
        values["wood"] = frozenset({case.wood, *([wood.group] if wood is not None else [])})
    count = moving(case, piece)
    if count is not None:
        values["moving_joints"] = frozenset({count})
    values.update({key: frozenset({value}) for key, value in damage.facts.items()})
    if "consequence" not in values and damage.kind in words.ONLY_SEEN:
        values["consequence"] = frozenset({words.LOOKS})
    elif "consequence" not in values and ("carries" in values or damage.kind in words.MAY_GIVE_WAY):
        values["consequence"] = frozenset({_consequence(piece, values, joint)})
    return values


def _consequence(piece: Piece, values: Values, joint: Joint | None) -> str:
    """What happens if it goes, by what the part carries; where the part is not said, the gravest of those it may be."""
    parts = joint.joins if joint is not None else tuple(piece.parts)
    may_carry = values.get("carries") or {piece.parts[name].carries for name in parts}
    grave = list(words.CONSEQUENCES)
    outcome = max((words.CARRIES_CONSEQUENCE[carries] for carries in may_carry), key=grave.index)
    return grave[-1] if outcome == "somebody_falls" and piece.healthy_load == CLIMBED else outcome


def facts_of(knowledge: Knowledge, case: Case, damage: Damage, computed: Mapping[str, str] | None = None) -> Facts:
    """Every fact of one damage. `computed` holds the readings of signs that are worked out."""
    values = case_values(knowledge, case, damage)
    answers = case.answers(damage)
    counted: dict[str, Answer] = {}
    greyed: list[str] = []
    for name in sign_order(knowledge):
        sign = knowledge.signs[name]
        if sign.computed is not None:
            reading = _computed_reading(sign, values, computed or {})
            if reading is not None:
                values[name] = frozenset({reading})
                counted[name] = Answer((reading,), by="measured")
            continue
        answer = answers.get(name)
        if answer is None:
            continue
        if not gate_open(sign, values):
            greyed.append(name)
            continue
        if not answer.cannot_tell:
            values[name] = frozenset(answer.reads)
            counted[name] = answer
    return Facts(values, counted, tuple(greyed))


def _computed_reading(sign: Sign, values: Mapping[str, frozenset[str]], computed: Mapping[str, str]) -> str | None:
    assert sign.computed is not None
    if sign.computed.by == "moving_joints":
        known = values.get("moving_joints")
        return next(iter(known), None) if known else None
    return computed.get(sign.id)


def untold_signs(knowledge: Knowledge, case: Case, damage: Damage, facts: Facts) -> tuple[Sign, ...]:
    """Signs that were asked and could not be told, their gates open."""
    answers = case.answers(damage)
    return tuple(
        sign
        for sign in knowledge.signs.values()
        if sign.id in answers and answers[sign.id].cannot_tell and gate_open(sign, facts.values)
    )


def open_signs(knowledge: Knowledge, case: Case, damage: Damage, facts: Facts) -> tuple[Sign, ...]:
    """Signs that could be asked now: not computed, not answered (nor passed over), their gates open."""
    answers = case.answers(damage)
    return tuple(
        sign
        for sign in knowledge.signs.values()
        if sign.computed is None and sign.id not in answers and gate_open(sign, facts.values)
    )
