"""A step: one action of a plan."""

import re
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, ConfigDict, Field, WithJsonSchema, model_validator
from pydantic.config import JsonDict
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Id, Minutes, Model, OneOf, Text, Titled, names
from diagnose.rulebase.entries.small import Hazards
from diagnose.rulebase.entries.when import When, WhenOfFindings, WhenOfReadings

Millimetres = Annotated[float, Field(ge=0, le=500)]
Three = tuple[Minutes, Minutes, Minutes]
Phase = Annotated[str, OneOf(words.PHASES, "a phase")]
Steps = tuple[Annotated[Id, names("steps")], ...]
_WAIT = re.compile(r"^(\d+(?:\.\d+)?) ?(min|h|d|weeks?)$")
_HOURS = {"min": 1 / 60, "h": 1.0, "d": 24.0, "week": 168.0, "weeks": 168.0}


class Check(Model):
    """A hold point: the sign to look at and the reading that lets one go on."""

    sign: Annotated[Id, names("signs")] = Field(description="The sign to look at.")
    reads: Annotated[Id, names("readings")] = Field(description="The reading that lets one go on.")


class NewWood(Model):
    """New wood that a step shapes."""

    kind: Literal["part", "let_in"] = Field(description="A whole part, or a piece let in.")
    over: tuple[Millimetres, Millimetres, Millimetres] = Field(
        description="What is left on in thickness, width and length until the end, mm."
    )
    long: Annotated[float, Field(gt=0, le=40)] | None = Field(
        default=None, description="A piece let in is at least so many times as long as the part is thick."
    )


class Also(Model):
    """A further sentence of a step."""

    when: WhenOfFindings
    unless: WhenOfFindings = Field(default=When(), description="Any line that holds leaves the sentence out.")
    do: Text = Field(description="The sentence.")


def _hours(value: object) -> object:
    if isinstance(value, int | float):
        return value
    match = _WAIT.match(str(value).strip())
    if not match:
        raise PydanticCustomError("wait", "a wait is written like 0 min, 24 h, 14 d or 2 weeks")
    return float(match[1]) * _HOURS[match[2]]


Wait = Annotated[float, BeforeValidator(_hours), WithJsonSchema({"type": "string", "pattern": _WAIT.pattern})]


# What the check of the whole step says of `undo`, for editors.
_NO_WAY_BACK: JsonDict = {
    "if": {"properties": {"undo": {"enum": ["no", False]}}, "required": ["undo"]},
    "then": {"required": ["check"]},
}


class Step(Titled):
    """One action of a plan."""

    model_config = ConfigDict(json_schema_extra=_NO_WAY_BACK)

    phase: Phase = Field(description="The heading of the plan that it stands under.")
    per: Literal["piece", "damage", "part", "bond"] = Field(description="Done once for each of these.")
    do: Text = Field(description="What to do; {part.name} and {bond.faces} stand for those at hand.")
    why: Text = Field(description="What goes wrong otherwise.")
    minutes: Three = Field(description="Low, likely, high, for the first.")
    then: Three | None = Field(default=None, description="Low, likely, high, for each further one.")
    wait_hours: Wait = Field(default=0.0, alias="wait", description="How long it is left alone afterwards, as 24 h.")
    after: Steps = Field(default=(), description="Steps that come before it, where they are in the plan.")
    needs: Steps = Field(default=(), description="Steps without which it is never done; they come along.")
    where: WhenOfReadings = Field(default=When(), description="Left out where this is known not to be so.")
    unless: WhenOfReadings = Field(default=When(), description="Left out where any line of this is known to hold.")
    instead_of: Steps = Field(default=(), description="Steps whose place it takes, whoever asks for them.")
    warms_c: Annotated[float, Field(ge=0, le=60)] | None = Field(
        default=None, description="How warm it makes the wood that is glued, °C."
    )
    readies: tuple[Literal["bare", "fit", "masked"], ...] = Field(
        default=(), description="What it does for a face that is glued later: left bare, proved to fit dry, masked."
    )
    lays: Literal["colour", "finish"] | None = Field(default=None, description="What it puts on the surface.")
    new_wood: NewWood | None = Field(default=None, description="The new wood that it shapes.")
    also: tuple[Also, ...] = Field(default=(), description="Further sentences, each where its when holds.")
    photo: str = Field(default="", description="What to photograph, for the list.")
    keep: str = Field(default="", description="What to keep, for the list.")
    hazards: Hazards = ()
    tools: tuple[str, ...] = Field(default=(), description="What must lie ready.")
    uses: dict[Annotated[Id, names("consumables")], Annotated[float, Field(gt=0)]] = Field(
        default={}, description="What is used up, in units of it."
    )
    check: Check | None = Field(default=None, description="Hold point: go on only when this sign reads so.")
    trade: Annotated[str, OneOf(words.BYS, "who does it")] = Field(
        default="us", description="Whose work it belongs to: what is done with a cover is priced apart from the frame."
    )
    undo: bool = Field(description="no: there is no way back, and it must carry a check.")

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("step", "{message}", {"message": message})

        for three in (self.minutes, self.then or self.minutes):
            if list(three) != sorted(three):
                raise wrong("minutes are low, likely, high, in rising order")
        if not self.undo and self.check is None:
            raise wrong("a step that cannot be undone must carry a check: {sign, reads}")
        return self
