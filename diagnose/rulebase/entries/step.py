"""A step: one action of a plan."""

import re
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Minutes, Model, Text, one_of, truth
from diagnose.rulebase.entries.when import When, WhenField

Millimetres = Annotated[float, Field(ge=0, le=500)]
Three = Annotated[tuple[Minutes, Minutes, Minutes], Field()]
_WAIT = re.compile(r"^(\d+(?:\.\d+)?) ?(min|h|d|weeks?)$")
_HOURS = {"min": 1 / 60, "h": 1.0, "d": 24.0, "week": 168.0, "weeks": 168.0}


class Check(Model):
    """A hold point: the sign to look at and the reading that lets one go on."""

    sign: Id
    reads: Id


class NewWood(Model):
    """New wood that a step shapes: a whole part, or a piece let in that is at least `long` times as long as the part is thick.

    `over` is left on in thickness, width and length, in mm, until the end.
    """

    kind: Literal["part", "let_in"]
    over: tuple[Millimetres, Millimetres, Millimetres]
    long: Annotated[float, Field(gt=0, le=40)] | None = None


class Also(Model):
    """A further sentence of a step, where every line of `when` holds and none of `unless`."""

    when: WhenField
    unless: WhenField = When()
    do: Text


def _hours(value: object) -> object:
    if isinstance(value, int | float):
        return value
    match = _WAIT.match(str(value).strip())
    if not match:
        raise PydanticCustomError("wait", "a wait is written like 0 min, 24 h, 14 d or 2 weeks")
    return float(match[1]) * _HOURS[match[2]]


class Step(Entry):
    """`minutes` are low, likely, high of the first; `then` of each further one. `wait` is kept in hours.

    `trade` is whose work the step belongs to: what a caner or upholsterer does with a cover is priced apart from the frame. `needs` are
    the steps without which it is never done; they come along. `where` is where it has its place: it is left out where that is known
    not to be so (a door is not taken off a drawer), and where `unless` is known to hold. `instead_of` are the steps whose place it takes,
    whoever asks for them. `warms_c` is how warm it makes the wood that is glued, in °C. `readies` is what it does for a face that is
    glued later: left bare, proved to fit dry, masked. `lays` is what it puts on the surface. `photo` and `keep` are what to photograph
    and what to keep, for the lists.
    """

    phase: str
    per: Literal["piece", "damage", "part", "bond"]
    do: Text
    why: Text
    minutes: Three
    then: Three | None = None
    wait_hours: Annotated[float, BeforeValidator(_hours)] = Field(default=0.0, alias="wait")
    after: tuple[Id, ...] = ()
    needs: tuple[Id, ...] = ()
    where: WhenField = When()
    unless: WhenField = When()
    instead_of: tuple[Id, ...] = ()
    warms_c: Annotated[float, Field(ge=0, le=60)] | None = None
    readies: tuple[Literal["bare", "fit", "masked"], ...] = ()
    lays: Literal["colour", "finish"] | None = None
    new_wood: NewWood | None = None
    also: tuple[Also, ...] = ()
    photo: str = ""
    keep: str = ""
    hazards: tuple[Id, ...] = ()
    tools: tuple[str, ...] = ()
    uses: dict[Id, Annotated[float, Field(gt=0)]] = Field(default={})
    check: Check | None = None
    trade: Annotated[str, one_of(words.BYS, "who does it")] = "us"
    undo: Annotated[bool, BeforeValidator(truth)]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("step", "{message}", {"message": message})

        if self.phase not in words.PHASES:
            raise wrong(f"phase {self.phase} is not one of {', '.join(words.PHASES)}")
        for three in (self.minutes, self.then or self.minutes):
            if list(three) != sorted(three):
                raise wrong("minutes are low, likely, high, in rising order")
        if not self.undo and self.check is None:
            raise wrong("a step that cannot be undone must carry a check: {sign, reads}")
        return self
