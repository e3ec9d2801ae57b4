"""The parts that schemas are put together from."""

from collections.abc import Iterable, Mapping
from typing import Any

from diagnose import words
from diagnose.rulebase.entries import Piece, Sign

DRAFT = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]
REFS = "#/$defs/{model}"
# Unquoted yes and no are text to an editor, true and false are not.
YES_OR_NO: Schema = {"enum": ["yes", "no", True, False]}


def one_of(known: Iterable[str]) -> Schema:
    """One word of a list."""
    return {"enum": [str(word) for word in dict.fromkeys(known)]}


def explained(schema: Schema, said: str) -> Schema:
    """The schema with what an editor shows beside it, where there is something to say."""
    return {**schema, "description": said} if said else schema


def mapping(properties: Mapping[str, Schema], **more: Any) -> Schema:
    """A mapping of these keys and no others."""
    return {"type": "object", "properties": dict(properties), "additionalProperties": False, **more}


def list_of(item: Schema, **more: Any) -> Schema:
    """A list of such items."""
    return {"type": "array", "items": item, **more}


def ref(name: str) -> Schema:
    """What stands under that name in `$defs`."""
    return {"$ref": REFS.format(model=key_of(name))}


def document(title: str, version: str, **form: Any) -> Schema:
    """A whole schema, which says what it was made from."""
    comment = f"Made from rule base {version}; what is added to the rules is unknown to it until it is made anew."
    return {"$schema": DRAFT, "$comment": comment, "title": title, **form}


def key_of(name: str) -> str:
    """A name as a pointer can hold it.

    >>> key_of("facts, readings and findings")
    'facts_readings_and_findings'
    """
    return "_".join(name.replace(",", "").split())


def said_by(sign: Sign) -> str:
    """What an editor shows beside a sign."""
    return sign.ask or "Worked out, never asked."


def reads(sign: Sign) -> Schema:
    """What may be answered to a sign: readings, the figure of a measured one, or that nobody can tell yet."""
    if sign.kind == "tick_all":
        return {"anyOf": [one_of([*sign.readings, "none", words.CANNOT_TELL]), list_of(one_of(sign.readings))]}
    known = one_of([*sign.readings, words.CANNOT_TELL])
    if sign.measure is None:
        return known
    bare = [] if sign.measure.unit == "mm" else ["number"]  # A length without its unit could be inches.
    return {"anyOf": [known, {"type": ["string", *bare], "pattern": r"\d", "description": f"A figure in {sign.measure.unit}."}]}


def answers(signs: Iterable[Sign]) -> dict[str, Schema]:
    """Every sign that is asked, with what may be answered; `{reads: …, by: …, unsure: …}` tells who says so."""
    said = {"by": one_of(words.SPEAKERS), "unsure": YES_OR_NO}
    return {
        sign.id: {
            "description": said_by(sign),
            "anyOf": [reads(sign), mapping({"reads": reads(sign), **said}, required=["reads"])],
        }
        for sign in signs
        if sign.computed is None
    }


def joint_states(pieces: Iterable[Piece]) -> Schema:
    """The joint map: every joint of these kinds of piece, or all of them at once."""
    joints = {joint.id for piece in pieces for joint in piece.joints}
    return mapping(dict.fromkeys(("all", *sorted(joints)), one_of(words.JOINT_STATES)))
