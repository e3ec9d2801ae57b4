"""Random cases built from the rule base: any piece, parts and joints of it, any readings. The same seed gives the same case."""

import random
from dataclasses import dataclass, replace
from datetime import date

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.planning.compose import PlannedStep, Wish, compose
from diagnose.reasoning.deduce import deduce_plainly
from diagnose.reasoning.facts import facts_of, may_apply
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Method, Piece, Sign
from diagnose.rulebase.knowledge import Knowledge

TODAY = date(2026, 3, 2)
ANSWERED = 0.35
MOST_DAMAGES = 3


@dataclass(frozen=True)
class RandomPlan:
    """A case, what was chosen for each damage, and the plan of it."""

    case: Case
    wishes: tuple[Wish, ...]
    plan: tuple[PlannedStep, ...]


def _answer(sign: Sign, chance: random.Random) -> Answer:
    readings = list(sign.readings)
    if sign.kind == "tick_all":
        return Answer(tuple(reading for reading in readings if chance.random() < 0.3))
    return Answer((chance.choice(readings),))


def _answers(knowledge: Knowledge, of: str, chance: random.Random) -> dict[str, Answer]:
    signs = [sign for sign in knowledge.signs.values() if sign.of == of and sign.computed is None]
    return {sign.id: _answer(sign, chance) for sign in signs if chance.random() < ANSWERED}


def _fits(piece: Piece, lines: dict[str, tuple[str, ...]]) -> bool:
    return (
        ("piece" not in lines or bool({piece.id, piece.group} & set(lines["piece"])))
        and ("part" not in lines or bool(set(piece.parts) & set(lines["part"])))
        and ("joint" not in lines or any(set(joint.kind) & set(lines["joint"]) for joint in piece.joints))
    )


def _damage_for(knowledge: Knowledge, piece: Piece, method: Method, number: int, chance: random.Random) -> Damage:
    """A damage that a method may mend, as far as its own conditions say, and which says so; all else is random."""
    branch = chance.choice(method.when.branches) if method.when.branches else ()
    lines = {line.key: line.values for line in (*method.when.lines, *branch)}
    readings = _answers(knowledge, "damage", chance)
    closes = {line.key for line in method.unless.all_lines()}
    readings = {name: answer for name, answer in readings.items() if name not in closes}
    for key, values in lines.items():
        if key in knowledge.signs and knowledge.signs[key].of == "damage":
            readings[key] = Answer((chance.choice(values),))
    kinds = lines.get("joint", ())
    joints = [joint for joint in piece.joints if not kinds or set(joint.kind) & set(kinds)]
    joint = chance.choice(joints or piece.joints)
    parts = [part for part in lines.get("part", tuple(joint.joins)) if part in piece.parts]
    facts = {"joint": chance.choice(kinds)} if kinds else {}
    kind = chance.choice(lines.get("damage", tuple(words.DAMAGES)))
    return Damage(f"d{number}", kind, chance.choice(parts or joint.joins), joint.id, method.id, facts=facts, readings=readings)


def random_case(knowledge: Knowledge, seed: int) -> Case:
    """Any piece with one to three damages, half of them such as one method of the rule base asks for, the others anything at all."""
    chance = random.Random(seed)
    piece = knowledge.pieces[chance.choice(sorted(knowledge.pieces))]
    fitting = [m for m in knowledge.methods.values() if _fits(piece, {line.key: line.values for line in m.when.lines})]
    damages = []
    for number in range(chance.randint(1, MOST_DAMAGES)):
        if chance.random() < 0.5:
            damages.append(_damage_for(knowledge, piece, chance.choice(fitting), number, chance))
            continue
        joint = chance.choice(piece.joints)
        part = chance.choice([*joint.joins, *piece.parts])
        damages.append(
            Damage(
                id=f"d{number}",
                kind=chance.choice(sorted(words.DAMAGES)),
                part=part if chance.random() < 0.95 else None,
                joint=joint.id if part in joint.joins and chance.random() < 0.8 else None,
                readings=_answers(knowledge, "damage", chance),
            )
        )
    states = {joint.id: chance.choice(sorted(words.JOINT_STATES)) for joint in piece.joints} if chance.random() < 0.8 else {}
    return Case(
        piece=piece.id,
        number=f"R-{seed}",
        wood=chance.choice([None, *sorted(knowledge.woods)]),
        value=chance.choice([None, 80.0, 400.0, 3000.0]),
        joints=states,
        readings=_answers(knowledge, "piece", chance),
        damages=tuple(damages),
    )


def random_plan(knowledge: Knowledge, seed: int) -> RandomPlan:
    """The plan of a random case, each damage mended by a method that the rules leave open for it."""
    case, chance = random_case(knowledge, seed), random.Random(-seed)
    wishes = []
    for damage in case.damages:
        facts = facts_of(knowledge, case, damage)
        deduction = deduce_plainly(rulebook_of(knowledge), facts)
        banned = set(deduction.targets("forbid_method"))
        left = [m for m in knowledge.methods.values() if m.id not in banned and may_apply(m.when, m.unless, facts.values)]
        if left:
            meant = [method for method in left if method.id == damage.says]
            wishes.append(Wish(damage, meant[0] if meant and chance.random() < 0.8 else chance.choice(left), deduction, facts))
    return RandomPlan(case, tuple(wishes), compose(knowledge, case, wishes))


def one_answer_changed(knowledge: Knowledge, case: Case, seed: int) -> Case:
    """The same case with one answer given, changed or taken back, or the wood changed."""
    chance = random.Random(seed)
    if chance.random() < 0.1:
        return replace(case, wood=chance.choice([None, *sorted(knowledge.woods)]))
    damage = chance.choice(case.damages)
    sign = chance.choice([s for s in knowledge.signs.values() if s.computed is None])
    answer = None if chance.random() < 0.15 else _answer(sign, chance)
    return case.with_answer(None if sign.of == "piece" else damage.id, sign.id, answer)
