"""A step: one action of a plan."""

import re
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Minutes, Model, Text

Three = Annotated[tuple[Minutes, Minutes, Minutes], Field()]
_WAIT = re.compile(r"^(\d+(?:\.\d+)?) ?(min|h|d|weeks?)$")
_HOURS = {"min": 1 / 60, "h": 1.0, "d": 24.0, "week": 168.0, "weeks": 168.0}


class Check(Model):
    """A hold point: the sign to look at and the reading that lets one go on."""

    sign: Id
    reads: Id


def _hours(value: object) -> object:
    if isinstance(value, int | float):
        return value
    match = _WAIT.match(str(value).strip())
    if not match:
        raise PydanticCustomError("wait", "a wait is written like 0 min, 24 h, 14 d or 2 weeks")
    return float(match[1]) * _HOURS[match[2]]


def _truth(value: object) -> object:
    return {"yes": True, "no": False}.get(str(value), value)


class Step(Entry):
    """`minutes` are low, likely, high of the first; `then` of each further one. `wait` is kept in hours."""

    phase: str
    per: Literal["piece", "damage", "part", "bond"]
    do: Text
    why: Text
    minutes: Three
    then: Three | None = None
    wait_hours: Annotated[float, BeforeValidator(_hours)] = Field(default=0.0, alias="wait")
    after: tuple[Id, ...] = ()
    hazards: tuple[Id, ...] = ()
    tools: tuple[str, ...] = ()
    uses: dict[Id, Annotated[float, Field(gt=0)]] = Field(default={})
    check: Check | None = None
    undo: Annotated[bool, BeforeValidator(_truth)]

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
