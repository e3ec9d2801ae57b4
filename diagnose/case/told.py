"""From a story of the rule base to a case: its facts and readings, laid out as a person would have written them."""

from collections.abc import Mapping
from typing import Any

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.naming import find_piece, parse_reading
from diagnose.case.read import STATED
from diagnose.rulebase.entries import Piece, Sign, Story
from diagnose.rulebase.knowledge import Knowledge


class StoryError(ValueError):
    """A story gives something that no case can hold."""


def _answer(sign: Sign, value: Any) -> Answer:
    by, unsure, reads = "seen", False, value
    if isinstance(value, dict):
        by, unsure, reads = value.get("by", "seen"), value.get("unsure") in ("yes", "true"), value.get("reads")
        if by not in words.SPEAKERS:
            raise StoryError(f"{by} is nobody who could say {sign.id}")
    if reads == words.CANNOT_TELL:
        return Answer((), by, unsure, cannot_tell=True)
    if sign.kind == "tick_all":
        if reads is None:
            raise StoryError(f"{sign.id} needs its readings, or none")
        listed = reads if isinstance(reads, list) else [] if reads == "none" else [reads]
        for word in listed:
            if not isinstance(word, str) or word not in sign.readings:
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
    part, wood = given.get("part"), given.get("wood")
    piece = _piece(knowledge, str(given.get("piece", "")), part)
    groups = {known.group for known in knowledge.woods.values()}
    if wood is not None and (not isinstance(wood, str) or wood not in {*knowledge.woods, *groups}):
        raise StoryError(f"{wood} is neither a wood of the rule base nor a group of woods")
    of_piece: dict[str, Answer] = {}
    of_damage: dict[str, Answer] = {}
    facts: dict[str, str] = {}
    joints: dict[str, str] = {}
    for key, value in given.items():
        sign = knowledge.signs.get(key)
        if sign is not None and sign.computed is None:
            (of_piece if sign.of == "piece" else of_damage)[key] = _answer(sign, value)
        elif key in STATED:
            if not isinstance(value, str) or value not in STATED[key]:
                raise StoryError(f"{value} is not a value of {key}")
            facts[key] = value
        elif key == "joints":
            joints = _joints(value, [joint.id for joint in piece.joints])
        elif key not in ("piece", "damage", "part", "wood", "value"):
            raise StoryError(f"{key} is neither a fact of a case nor a sign")
    kind = given.get("damage")
    if not isinstance(kind, str) or kind not in words.DAMAGES:
        raise StoryError(f"{kind} is not a kind of damage")
    damage = Damage(id="a", kind=kind, part=part, facts=facts, readings=of_damage)
    return Case(
        piece=piece.id,
        wood=wood,
        value=_worth(given.get("value")),
        joints=joints,
        readings=of_piece,
        damages=(damage,),
    )


def _worth(value: Any) -> float | None:
    if value is None:
        return None
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise StoryError(f"{value} is no value of a piece") from None
    if not 0.0 < number < float("inf"):
        raise StoryError(f"{value} is no value of a piece")
    return number


def _piece(knowledge: Knowledge, name: str, part: Any) -> Piece:
    """The piece named; where a story names only the group, the first of it that has the part."""
    if part is not None and not isinstance(part, str):
        raise StoryError(f"{part} is not one part")
    group = [piece for piece in knowledge.pieces.values() if name in (piece.group, piece.id)]
    found = find_piece(knowledge, name)
    for piece in [*([found] if found is not None else []), *group]:
        if part is None or part in piece.parts:
            return piece
    raise StoryError(f"there is no {name} with a part {part}" if group or found else f"{name} is not a piece")


def _joints(value: Any, known: list[str]) -> dict[str, str]:
    if not isinstance(value, dict):
        raise StoryError("joints is a mapping of joints and states")
    found: dict[str, str] = {}
    for name, state in sorted(value.items(), key=lambda item: item[0] != "all"):
        if name not in (*known, "all") or not isinstance(state, str) or state not in words.JOINT_STATES:
            raise StoryError(f"{name}: {state} is not a joint of this piece and a state")
        found.update(dict.fromkeys(known, state) if name == "all" else {name: state})
    return found
