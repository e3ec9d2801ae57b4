"""A rule: when these facts hold, then these effects follow."""

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Model, Text
from diagnose.rulebase.entries.when import When, WhenField

EffectKind = Literal[
    "finding", "require", "forbid_method", "forbid_class", "forbid_whose", "caution", "triage", "refer", "ask_first"
]
# The plan for a strength that a method leaves behind, as a ban may ask for it.
STRENGTHS_AFTER = ("short", "ample")


class Effect(Model):
    """One effect: its kind and the id (or, for refer, the text) that it names."""

    kind: EffectKind
    target: str


def _wrong(message: str) -> PydanticCustomError:
    return PydanticCustomError("effect", "{message}", {"message": message})


def _forbid(value: Any) -> Effect:
    if isinstance(value, dict):
        if set(value) == {"class"} and isinstance(value["class"], str):
            if value["class"] not in words.CLASSES:
                raise _wrong(f"{value['class']} is not a decision class: {', '.join(words.CLASSES)}")
            return Effect(kind="forbid_class", target=value["class"])
        if set(value) == {"method"} and isinstance(value["method"], str):
            return Effect(kind="forbid_method", target=value["method"])
        if set(value) == {"method", "whose"} and value["method"] == "any":
            whose = value["whose"]
            if isinstance(whose, dict) and whose.get("strength_after") in STRENGTHS_AFTER and len(whose) == 1:
                return Effect(kind="forbid_whose", target=whose["strength_after"])
    raise _wrong("forbid takes {method: id}, {class: id}, or {method: any, whose: {strength_after: short}}")


def parse_effect(value: Any) -> Effect:
    """An Effect from its one-line form.

    >>> parse_effect({"forbid": {"class": "reglue"}}).kind
    'forbid_class'
    """
    if isinstance(value, Effect):
        return value
    if not isinstance(value, dict) or len(value) != 1:
        raise _wrong("an effect is one line: finding, require, forbid, caution, triage, refer or ask_first")
    ((kind, target),) = value.items()
    if kind == "forbid":
        return _forbid(target)
    if kind not in ("finding", "require", "caution", "triage", "refer", "ask_first") or not isinstance(target, str):
        raise _wrong(f"{kind} is not an effect: finding, require, forbid, caution, triage, refer, ask_first")
    if kind == "triage" and target not in list(words.Triage):
        raise _wrong(f"{target} is not a triage class: {', '.join(words.Triage)}")
    return Effect(kind=kind, target=target)


EffectField = Annotated[Effect, PlainValidator(parse_effect), WithJsonSchema({"type": "object", "maxProperties": 1})]


class Rule(Entry):
    """All lines of `when` hold and none of `unless`: then every effect follows."""

    protects: Literal["safety", "law", "period", "bond", "strength", "value", "warranty"]
    when: WhenField
    unless: WhenField = When()
    then: tuple[EffectField, ...] = Field(min_length=1)
    because: Text
