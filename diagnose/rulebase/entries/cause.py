"""A cause: why a piece failed, and what it shows."""

from typing import Annotated, Literal

from pydantic import Field

from diagnose.rulebase.entries.base import Entry, Id, Model, Text, Word, names
from diagnose.rulebase.entries.when import When, WhenOfCase

BY_STRENGTH = "by_strength"
Frequency = Annotated[Word, names("happens")]


class Except(Model):
    """Where a cause is more or less frequent than `happens` says; the first line that holds counts."""

    when: WhenOfCase
    happens: Frequency = Field(description="How often there.")


class Cause(Entry):
    """A cause: why a piece failed, and what it shows."""

    name: Text = Field(description="A line that says it, as the shop would.")
    family: Literal["bond", "wood", "load", "fit", "hardware", "moisture", "biology", "earlier_repair", "material", "setting"] = (
        Field(description="What it belongs to; a method may treat a whole family.")
    )
    role: Literal["made_in", "grew", "hands", "set_off"] = Field(
        description="made_in: weak from the start; grew: weakened with the years; hands: somebody's earlier work; set_off: what finished it."
    )
    reaches: Literal["damage", "piece"] = Field(
        default="damage", description="piece: it acts on every damage of the piece at once."
    )
    when: WhenOfCase = Field(
        default=When(), description="Where it may act at all. Facts of the case alone; nothing known = may act."
    )
    happens: Frequency = Field(description="How often it is met, before anything was looked at.")
    exceptions: tuple[Except, ...] = Field(default=(), alias="except", description="Where it is more or less frequent than that.")
    shows: Annotated[dict[Id, dict[Id, Word]], names("rows")] = Field(
        min_length=1,
        description="The rows: sign, reading, and how often this cause shows it. Only where it shifts what is usual, up or down.",
    )
    returns: Annotated[Word, names("words or by_strength")] = Field(
        description="How surely it comes back within the years looked ahead if nothing is done about it; or by_strength."
    )
    made_too_weak: bool = Field(
        default=False, description="yes: the part was made too weak, and as strong as made is not enough."
    )
    explains: Text = Field(description="How it came to this, for the shop.")
    owner: Text = Field(description="How it came to this, for its owner: plain words, no blame.")
    prevents: str = Field(default="", description="What keeps it from coming back.")
    prevents_at: Literal["home", "bench"] = Field(
        default="home",
        description="Whose prevents is: home, its owner's, who reads it in the letter; bench, of whoever works on it.",
    )
    tell_apart: str = Field(default="", description="How to tell it from its look-alike.")
