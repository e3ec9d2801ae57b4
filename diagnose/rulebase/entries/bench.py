"""What a plan reaches for at the bench: finishes and how they are told apart, colour on difficult woods, what to breathe through."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Entry, Id, Text, names
from diagnose.rulebase.entries.small import Air, FiguresKnownBy, Hazards, KnownBy
from diagnose.rulebase.entries.when import When, WhenOfReadings

Hours = Annotated[float, Field(gt=0, le=10_000)]


class SpotTest(Entry):
    """One drop of the spot test for an old finish."""

    name: Text = Field(description="What is dropped on, as it is called at the bench.")
    order: int = Field(ge=1, description="Which comes first, the gentlest as 1.")
    seconds: tuple[float, float] = Field(description="How long it is given to act, from and to, in seconds.")
    uses: Annotated[Id, names("consumables")] = Field(description="The consumable that is dropped on.")
    do: Text = Field(description="What to do and what to look for.")
    hazards: Hazards = ()


class Finish(Entry):
    """A finish: which drop moves it, how it is built up, and when the next coat may go on."""

    name: Text = Field(description="As it is called at the bench.")
    spot_test: Text = Field(description="How it answers the spot tests, in words.")
    moved_by: Annotated[Id, names("spot_tests")] | None = Field(
        default=None, description="The first spot test that moves it; left out where none does."
    )
    when: WhenOfReadings = Field(default=When(), description="The readings that name this finish.")
    coats: tuple[int, int] = Field(description="How many coats, from and to.")
    recoat_h: tuple[float, float] = Field(description="Hours until the next coat, from and to.")
    window_h: Hours | None = Field(
        default=None,
        description="Hours before which the next coat must follow, else it waits for recoat_h; where there is such a time.",
    )
    hard_h: Hours = Field(description="Hours until it is in full use.")
    build: Text = Field(description="How it is laid, coat by coat.")
    never_over: tuple[Annotated[Id, names("finishes")], ...] = Field(default=(), description="The finishes it is not laid on.")
    air: Air = Field(default=(), description="What it gives off as it is laid.")
    hazards: Hazards = ()
    known_by: FiguresKnownBy

    @model_validator(mode="after")
    def _whole(self) -> Self:
        for name, (low, high) in (("coats", self.coats), ("recoat_h", self.recoat_h)):
            if low > high:
                raise PydanticCustomError("span", "{message}", {"message": f"{name} is from and to, in rising order"})
        return self


class Staining(Entry):
    """How colour is put on woods that are hard to colour."""

    blotch: tuple[Literal["low", "moderate", "high", "unknown"], ...] = Field(
        default=(), description="It is for woods with one of these in the column blotch of the table of woods."
    )
    pores: tuple[Literal["ring", "semi_ring", "diffuse", "none"], ...] = Field(
        default=(), description="It is for woods with one of these in the column pores of the table of woods."
    )
    do: Text = Field(description="What to do.")
    why: Text = Field(description="What goes wrong otherwise.")


class Respirator(Entry):
    """What is breathed through."""

    name: Text = Field(description="As it is called at the bench.")
    rank: int = Field(ge=1, description="The lightest as 1; the lightest that keeps everything out is taken.")
    against: Air = Field(min_length=1, description="What it keeps out.")
    grade: Text = Field(description="Its class, as it is printed on it.")
    keep: Text = Field(description="How it is kept.")
    change: Text = Field(description="When it is changed.")
    authority: Text = Field(description="Who says so.")
    known_by: KnownBy
