"""A rule: when these facts hold, then these effects follow."""

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import NAMES, Model, Text, Titled
from diagnose.rulebase.entries.when import When, WhenOfFindings
from diagnose.rulebase.fault import nearest

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
                raise _wrong(f"{value['class']} is not a decision class; {nearest(value['class'], words.CLASSES)}")
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
        raise _wrong(f"an effect is one line: {', '.join(EFFECTS)}")
    ((kind, target),) = value.items()
    if kind not in EFFECTS:
        raise _wrong(f"{kind} is not an effect; {nearest(kind, EFFECTS)}")
    if kind == "forbid":
        return _forbid(target)
    if not isinstance(target, str):
        raise _wrong(f"{kind} needs one id or text; write each effect on a line of its own")
    if kind == "triage" and target not in list(words.Triage):
        raise _wrong(f"{target} is not a triage class; {nearest(target, words.Triage)}")
    return Effect(kind=kind, target=target)


def _only(**properties: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": list(properties), "additionalProperties": False}


_FORBIDDEN = [
    _only(method={NAMES: "methods"}),
    _only(**{"class": {"enum": list(words.CLASSES)}}),
    _only(method={"const": "any"}, whose=_only(strength_after={"enum": list(STRENGTHS_AFTER)})),
]
# Each effect as it is written, what it does, and what it names.
EFFECTS: dict[str, dict[str, Any]] = {
    "finding": {"description": "Conclude a sentence that stands in the report.", NAMES: "findings"},
    "require": {"description": "Put a step into the plan.", NAMES: "steps"},
    "forbid": {"description": "Rule out {method: id}, {class: id}, or {method: any, whose: …}.", "anyOf": _FORBIDDEN},
    "caution": {"description": "Print a warning.", NAMES: "cautions"},
    "triage": {"description": "What happens to the piece at the door.", "enum": [str(word) for word in words.Triage]},
    "refer": {"description": "Say who does it, in words.", "type": "string"},
    "ask_first": {"description": "Bring a question forward.", NAMES: "signs"},
}
_ONE_EFFECT = {"type": "object", "minProperties": 1, "maxProperties": 1, "properties": EFFECTS, "additionalProperties": False}
EffectField = Annotated[Effect, PlainValidator(parse_effect), WithJsonSchema(_ONE_EFFECT)]


class Rule(Titled):
    """All lines of `when` hold and none of `unless`: then every effect follows."""

    protects: Literal["safety", "law", "period", "bond", "strength", "value", "warranty"] = Field(
        description="What it protects. A shop's own rules cannot replace those of the first three."
    )
    when: WhenOfFindings
    unless: WhenOfFindings = Field(default=When(), description="Any line that holds keeps it from firing.")
    then: tuple[EffectField, ...] = Field(min_length=1, description="What follows, each effect on a line of its own.")
    because: Text = Field(description="Why, as it would be said to somebody who asks.")
