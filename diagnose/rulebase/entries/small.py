"""The small kinds: findings, cautions, sources, consumables, adhesives, finishes."""

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Entry, Id, Model, Text, truth
from diagnose.rulebase.entries.when import When, WhenField

Money = Annotated[float, Field(ge=0)]
KnownBy = Literal["read", "read_second_hand", "memory", "judgement"]


class Finding(Entry):
    """Something concluded by rules; steers words, requirements, bans and what may be said of the price, never the belief.

    `price`: `not_yet` while it stands no price is told; `apart` what covers the joint has a price of its own; `ours` we bear it.
    `owner` is the sentence for a letter, where the owner must hear of it; `heard` says where: `now` stands in the box on its first
    page, `also` further down.
    """

    say: Text
    owner: str = ""
    heard: Literal["now", "also"] = "also"
    price: Literal["as_planned", "not_yet", "apart", "ours"] = "as_planned"


class Caution(Entry):
    """A hazard, what to do about it, and who says so.

    `brief` stands on the line of every step that carries the hazard; `air` is what must not be breathed in. Where `when` cannot hold
    there is no such hazard, whatever step or rule names it.
    """

    hazard: Text
    when: WhenField = When()
    brief: str = ""
    do: Text
    authority: Text
    air: tuple[Literal["dust", "vapour", "spray_mist"], ...] = ()


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
    """What is used up: price is low, likely, high for one unit, assumed until the shop says its own.

    `chosen: adhesive` marks what stands for the glue that the plan chooses: a step that uses it is a gluing step. `over` is the share
    laid ready beyond what is used up, `counted` says that only whole ones exist, `buy_days` (from and to) marks what must be in hand before
    the piece is opened.
    """

    name: Text
    unit: str
    price: tuple[Money, Money, Money]
    chosen: Literal["adhesive"] | None = None
    over: float = Field(default=0.15, ge=0, le=2)
    counted: Annotated[bool, BeforeValidator(truth)] = False
    buy_days: tuple[Money, Money] | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if list(self.price) != sorted(self.price):
            raise PydanticCustomError("price", "a price is low, likely, high, in rising order")
        return self


class Ground(Model):
    """What forbids a glue, speaks against it or for it: where every line of `when` holds and none of `unless`."""

    says: Literal["never", "against", "for"]
    when: WhenField
    unless: WhenField = When()
    because: Text


class Adhesive(Entry):
    """What a glue forgives. Minutes at `temp_c`; gap in mm; `known_by` says how each figure is known.

    `bonds_over` lists the old glue it holds on; `press` is what closes the line: clamps that squeeze, or mere contact. `methods` are
    those that are done with this glue and with no other that does not name them.
    """

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
    press: Literal["clamps", "contact"] = "clamps"
    grounds: tuple[Ground, ...] = ()
    methods: tuple[Id, ...] = ()
    known_by: dict[str, KnownBy]
