"""What a plan reaches for at the bench: finishes and how they are told apart, colour on difficult woods, what to breathe through."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Entry, Id, Text
from diagnose.rulebase.entries.small import KnownBy
from diagnose.rulebase.entries.when import When, WhenField

Air = Literal["dust", "vapour", "spray_mist"]
Hours = Annotated[float, Field(gt=0, le=10_000)]


class SpotTest(Entry):
    """One drop of the spot test; `order` says which comes first, the gentlest as 1. `seconds` are from and to."""

    name: Text
    order: int = Field(ge=1)
    seconds: tuple[float, float]
    uses: Id
    do: Text
    hazards: tuple[Id, ...] = ()


class Finish(Entry):
    """A finish: which drop moves it, how it is built up, and when the next coat may go on.

    `recoat_h` from and to; `window_h` where a coat must either follow before it or wait for `recoat_h`; `hard_h` until it is in full use.
    `moved_by` is the first spot test that moves it, nothing where none does; `when` the readings that name it; `coats` how many, from and to.
    `air` is what it gives off as it is laid; `never_over` the finishes it is not laid on.
    """

    name: Text
    spot_test: Text
    moved_by: Id | None = None
    when: WhenField = When()
    coats: tuple[int, int]
    recoat_h: tuple[float, float]
    window_h: Hours | None = None
    hard_h: Hours
    build: Text
    never_over: tuple[Id, ...] = ()
    air: tuple[Air, ...] = ()
    hazards: tuple[Id, ...] = ()
    known_by: dict[str, KnownBy]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        for name, (low, high) in (("coats", self.coats), ("recoat_h", self.recoat_h)):
            if low > high:
                raise PydanticCustomError("span", "{message}", {"message": f"{name} is from and to, in rising order"})
        return self


class Staining(Entry):
    """How colour is put on woods that are hard to colour: those whose `blotch` or `pores` (as in the table of woods) are listed."""

    blotch: tuple[Literal["low", "moderate", "high", "unknown"], ...] = ()
    pores: tuple[Literal["ring", "semi_ring", "diffuse", "none"], ...] = ()
    do: Text
    why: Text


class Respirator(Entry):
    """What is breathed through, the lightest as rank 1: what it keeps out, its class, how it is kept, when it is changed, on whose word."""

    name: Text
    rank: int = Field(ge=1)
    against: tuple[Air, ...] = Field(min_length=1)
    grade: Text
    keep: Text
    change: Text
    authority: Text
    known_by: KnownBy
