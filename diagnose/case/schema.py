"""The form of a case file as a JSON Schema, made from the entries of one rule base as that of rules files is (rulebase/schema).

What it cannot say is left to the reading of the file: a kind of piece in other capitals, a wood by any of its names, figures out of
range, days that contradict each other, and two damages of one name.
"""

from collections.abc import Iterator

from diagnose import words
from diagnose.case.case import SCHEMA
from diagnose.case.read import MOST_PIECES, STATED
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.schema.parts import Schema, answers, document, joint_states, list_of, mapping, one_of


def _text(said: str) -> Schema:
    """A text; a number that is written bare is one as well."""
    return {"type": ["string", "number"], "description": said}


def _day(said: str) -> Schema:
    return {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$", "description": said}


def _names(piece: Piece) -> Schema:
    called = (piece.id, piece.name, *piece.also_called)
    return one_of([*called, *(name.lower() for name in called)])


def _part_names(piece: Piece) -> Iterator[str]:
    """What a part of a piece may be called in a file."""
    for part, entry in piece.parts.items():
        yield part
        yield from entry.also_called


def _piece(knowledge: Knowledge) -> Schema:
    kinds = [_names(piece) for piece in knowledge.pieces.values()]
    woods = [word for wood in knowledge.woods.values() for word in (wood.id, wood.name)]
    return mapping(
        {
            "kind": {
                "description": "The kind of piece, by its id or a name.",
                **one_of(n for kind in kinds for n in kind["enum"]),
            },
            "called": _text("What its owner calls it."),
            "wood": {"type": "string", "description": "The wood, by its id or a name.", "examples": woods},
            "value": {"type": "number", "exclusiveMinimum": 0, "description": "What it is worth, in the shop's currency."},
            "value_by": _text("Who says so."),
            "count": {"type": "integer", "minimum": 1, "maximum": MOST_PIECES, "description": "How many of a set it is about."},
        },
        required=["kind"],
    )


def _damage(knowledge: Knowledge) -> Schema:
    parts = [name for piece in knowledge.pieces.values() for name in _part_names(piece)]
    joints = [joint.id for piece in knowledge.pieces.values() for joint in piece.joints]
    size = {"type": "string", "pattern": r"\d", "description": "A length with its unit, as 35 mm or 1 3/8 in."}
    return mapping(
        {
            "id": _text("A name of its own."),
            "damage": {"description": "What it is.", **one_of(words.DAMAGES)},
            "part": {"description": "The part that is damaged.", **one_of(parts)},
            "joint": {"description": "The joint that is damaged, by its name on the joint map.", **one_of(joints)},
            "says": _text("What its owner says of it."),
            "found_by": {"description": "Who found it.", **one_of(("owner", "us"))},
            "repaired": _day("The day of an earlier repair of ours, as 2026-03-02."),
            "facts": mapping(
                {name: one_of(known) for name, known in STATED.items()}, description="What is known of it outright."
            ),
            "sizes": mapping(dict.fromkeys((*words.PART_SIZES, *words.JOINT_SIZES), size), description="What was measured."),
            "readings": mapping(
                answers(sign for sign in knowledge.signs.values() if sign.of == "damage"),
                description="The answers to the signs of this damage.",
            ),
        },
        required=["damage"],
    )


def _of_kind(piece: Piece) -> Schema:
    """What holds for one kind of piece: its own parts and joints."""
    place = {"part": one_of(_part_names(piece)), "joint": one_of(joint.id for joint in piece.joints)}
    kind = {"properties": {"piece": {"properties": {"kind": _names(piece)}, "required": ["kind"]}}, "required": ["piece"]}
    own = {"joints": joint_states([piece]), "damages": {"items": {"properties": place}}}
    return {"if": kind, "then": {"properties": own}}


def case_schema(knowledge: Knowledge) -> Schema:
    """The schema of a case file."""
    form = mapping(
        {
            "schema": {"const": SCHEMA, "description": "The version of the form of case files."},
            "number": _text("The repair number."),
            "taken_in": _day("The day it was taken in, as 2026-03-02."),
            "owner": _text("The owner's name."),
            "owner_says": _text("What its owner says."),
            "piece": _piece(knowledge),
            "joints": {"type": "object", "description": "The joint map: each joint and its state, or all: tight."},
            "readings": mapping(
                answers(sign for sign in knowledge.signs.values() if sign.of == "piece"),
                description="The answers to the signs of the whole piece.",
            ),
            "damages": list_of(_damage(knowledge), description="Every broken, loose or spoiled place."),
        },
        required=["piece"],
    )
    return document("A case", knowledge.version, **form, allOf=[_of_kind(piece) for piece in knowledge.pieces.values()])
