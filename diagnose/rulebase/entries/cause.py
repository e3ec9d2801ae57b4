"""A cause: why a piece failed, and what it shows."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from diagnose.rulebase.entries.base import Entry, Id, Model, Text, Word
from diagnose.rulebase.entries.when import When, WhenField

BY_STRENGTH = "by_strength"


class Except(Model):
    """Where a cause is more or less frequent than `happens` says."""

    when: WhenField
    happens: Word


def _truth(value: object) -> object:
    return {"yes": True, "no": False}.get(str(value), value)


class Cause(Entry):
    """`shows` holds the rows: sign → reading → word of the scale. `prevents_at` says whose `prevents` is: the owner's at home, who reads
    it in the letter, or that of whoever works on it at the bench."""

    name: Text
    family: Literal["bond", "wood", "load", "fit", "hardware", "moisture", "biology", "earlier_repair", "material", "setting"]
    role: Literal["made_in", "grew", "hands", "set_off"]
    reaches: Literal["damage", "piece"] = "damage"
    when: WhenField = When()
    happens: Word
    exceptions: tuple[Except, ...] = Field(default=(), alias="except")
    shows: dict[Id, dict[Id, Word]] = Field(min_length=1)
    returns: Word
    made_too_weak: Annotated[bool, BeforeValidator(_truth)] = False
    explains: Text
    owner: Text
    prevents: str = ""
    prevents_at: Literal["home", "bench"] = "home"
    tell_apart: str = ""
