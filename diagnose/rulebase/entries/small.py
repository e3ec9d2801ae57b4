"""The small kinds: findings, cautions, sources, consumables, adhesives, finishes."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Entry, Id, Model, Text

Money = Annotated[float, Field(ge=0)]
KnownBy = Literal["read", "read_second_hand", "memory", "judgement"]


class Finding(Entry):
    """Something concluded by rules; steers words, requirements and bans, never the belief."""

    say: Text


class Caution(Entry):
    """A hazard, what to do about it, and who says so."""

    hazard: Text
    do: Text
    authority: Text


class Source(Model):
    """A printed source, once. A remembered one is never shown as published."""

    id: Id
    title: Text
    author: str = ""
    year: int | None = None
    kind: str
    where: str = ""
    known_by: KnownBy


class Consumable(Entry):
    """What is used up: price is low, likely, high for one unit, assumed until the shop says its own."""

    name: Text
    unit: str
    price: tuple[Money, Money, Money]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if list(self.price) != sorted(self.price):
            raise PydanticCustomError("price", "a price is low, likely, high, in rising order")
        return self


class Adhesive(Entry):
    """What a glue forgives. Minutes at `temp_c`; gap in mm; `known_by` says how each figure is known."""

    name: Text
    working_min: tuple[float, float]
    temp_c: float
    clamp_min: tuple[float, float]
    full_cure_h: float
    min_temp_c: float
    gap_max_mm: float
    water_class: str
    reversible: tuple[str, ...] = ()
    hazards: tuple[Id, ...] = ()
    bonds_over: tuple[str, ...] = ()
    two_part: bool = False
    known_by: dict[str, KnownBy]


class Finish(Entry):
    """A finish: how it is known by a spot test, and when the next coat may go on."""

    name: Text
    spot_test: Text
    recoat_h: tuple[float, float]
    hard_h: float
    never_over: tuple[str, ...] = ()
    known_by: dict[str, KnownBy] | KnownBy
