"""From a story of the rule base to a case: its facts and readings, laid out as a person would have written them down."""

from collections.abc import Mapping
from typing import Any

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.file import find_piece, parse_reading
from diagnose.rulebase.entries import Piece, Sign, Story
from diagnose.rulebase.knowledge import Knowledge

STATED = ("joint", "carries", "consequence", "moving_joints")


class StoryError(ValueError):
    """A story gives something that no case can hold."""


def _answer(sign: Sign, value: Any) -> Answer:
    by, unsure, reads = "seen", False, value
    if isinstance(value, dict):
        by, unsure, reads = value.get("by", "seen"), value.get("unsure") in ("yes", "true"), value.get("reads")
    if reads == words.CANNOT_TELL:
        return Answer((), by, unsure, cannot_tell=True)
    if sign.kind == "tick_all":
        listed = reads if isinstance(reads, list) else [] if reads in (None, "none") else [reads]
        for word in listed:
            if word not in sign.readings:
                raise StoryError(f"{word} is not a reading of {sign.id}")
        return Answer(tuple(name for name in sign.readings if name in listed), by, unsure)
    if not isinstance(reads, str):
        raise StoryError(f"{sign.id} takes one reading")
    try:
        reading, measured = parse_reading(sign, reads)
    except ValueError as error:
        raise StoryError(str(error)) from None
    return Answer((reading,), by, unsure, measured=measured)


def case_of(story: Story, knowledge: Knowledge) -> Case:
    """The case that a story tells. Raises StoryError for what is neither a fact of a case nor a sign."""
    given: Mapping[str, Any] = story.given
    part = given.get("part")
    piece = _piece(knowledge, str(given.get("piece", "")), part)
    of_piece: dict[str, Answer] = {}
    of_damage: dict[str, Answer] = {}
    facts: dict[str, str] = {}
    joints: dict[str, str] = {}
    for key, value in given.items():
        sign = knowledge.signs.get(key)
        if sign is not None and sign.computed is None:
            (of_piece if sign.of == "piece" else of_damage)[key] = _answer(sign, value)
        elif key in STATED:
            facts[key] = str(value)
        elif key == "joints":
            joints = _joints(value, [joint.id for joint in piece.joints])
        elif key not in ("piece", "damage", "part", "wood", "value"):
            raise StoryError(f"{key} is neither a fact of a case nor a sign")
    if given.get("damage") not in words.DAMAGES:
        raise StoryError(f"{given.get('damage')} is not a kind of damage")
    damage = Damage(id="a", kind=given["damage"], part=part, facts=facts, readings=of_damage)
    value = given.get("value")
    return Case(
        piece=piece.id,
        wood=given.get("wood"),
        value=float(value) if value is not None else None,
        joints=joints,
        readings=of_piece,
        damages=(damage,),
    )


def _piece(knowledge: Knowledge, name: str, part: str | None) -> Piece:
    """The piece named; where a story names only the group, the first of it that has the part."""
    group = [piece for piece in knowledge.pieces.values() if name in (piece.group, piece.id)]
    found = find_piece(knowledge, name)
    for piece in [*([found] if found is not None else []), *group]:
        if part is None or part in piece.parts:
            return piece
    raise StoryError(f"there is no {name} with a part {part}" if group or found else f"{name} is not a piece")


def _joints(value: Any, known: list[str]) -> dict[str, str]:
    if not isinstance(value, dict):
        raise StoryError("joints is a mapping of joints and states")
    everywhere = value.get("all")
    found: dict[str, str] = dict.fromkeys(known, everywhere) if everywhere else {}
    for name, state in value.items():
        if name == "all":
            continue
        if name not in known or state not in words.JOINT_STATES:
            raise StoryError(f"{name}: {state} is not a joint of this piece and a state")
        found[name] = state
    return found
