"""How many causes stand open: never more than the sums carry once part and joint are known; and what happens where they are not."""

from collections.abc import Iterator

import pytest

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.reasoning.context import likeliest, model_for, open_causes
from diagnose.reasoning.facts import case_values, facts_of
from diagnose.reasoning.model import MOST_CAUSES
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def known_places(knowledge: Knowledge) -> Iterator[Case]:
    """Every kind of damage at every joint of every piece, on either part."""
    for piece in knowledge.pieces.values():
        seen = set()
        for joint in piece.joints:
            for part in joint.joins:
                for of in joint.kind:
                    if (part, of) in seen:
                        continue
                    seen.add((part, of))
                    for kind in words.DAMAGES:
                        damage = Damage("a", kind, part=part, joint=joint.id, facts={"joint": of})
                        yield Case(piece=piece.id, damages=(damage,))


def test_no_place_opens_more_causes_than_the_sums_carry(knowledge: Knowledge) -> None:
    most = {}
    for case in known_places(knowledge):
        (damage,) = case.damages
        count = len(open_causes(knowledge, case_values(knowledge, case, damage)))
        if count > MOST_CAUSES:
            most[f"{case.piece} {damage.kind} {damage.part} {damage.facts['joint']}"] = count
    assert most == {}


def test_where_nothing_is_known_the_likeliest_are_taken(knowledge: Knowledge) -> None:
    for piece in knowledge.pieces:
        for kind in words.DAMAGES:
            case = Case(piece=piece, damages=(Damage("a", kind),))
            facts = facts_of(knowledge, case, case.damages[0])
            stand_open = open_causes(knowledge, facts.values)
            model = model_for(knowledge, facts)
            assert len(model.names) == min(len(stand_open), MOST_CAUSES)
            assert {*model.names, *model.left_out} == {cause.id for cause in stand_open}


def test_the_likeliest_keep_their_order_and_name_the_rest(knowledge: Knowledge) -> None:
    causes = list(knowledge.causes.values())[:4]
    kept, odds, rest = likeliest(causes, [0.01, 0.15, 0.003, 0.15], most=2)
    assert [cause.id for cause in kept] == [causes[1].id, causes[3].id]
    assert odds == [0.15, 0.15]
    assert rest == (causes[0].id, causes[2].id)
