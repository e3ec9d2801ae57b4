"""The small kinds: findings, cautions, sources, consumables, adhesives, finishes."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Entry, Id, Model, Text, Titled, names
from diagnose.rulebase.entries.when import When, WhenOfCase, WhenOfFindings

Money = Annotated[float, Field(ge=0)]
KnownBy = Annotated[
    Literal["read", "read_second_hand", "memory", "judgement"],
    Field(description="How it is known. What is known from memory is never shown as published."),
]
FiguresKnownBy = Annotated[dict[str, KnownBy], Field(description="For each figure of the entry, how it is known.")]
Hazards = Annotated[tuple[Annotated[Id, names("cautions")], ...], Field(description="The cautions that go with it.")]
Air = tuple[Literal["dust", "vapour", "spray_mist"], ...]


class Finding(Entry):
    """Something concluded by rules; steers words, requirements, bans and what may be said of the price, never the belief."""

    say: Text = Field(description="The sentence, without a full stop.")
    owner: str = Field(default="", description="The sentence for a letter, where the owner must hear of it.")
    heard: Literal["now", "also"] = Field(
        default="also", description="Where in the letter: now, in the box on its first page; also, further down."
    )
    price: Literal["as_planned", "not_yet", "apart", "ours"] = Field(
        default="as_planned",
        description="not_yet: while it stands no price is told; apart: what covers the joint has a price of its own; ours: we bear it.",
    )


class Caution(Titled):
    """A hazard, what to do about it, and who says so."""

    hazard: Text = Field(description="What can happen.")
    when: WhenOfCase = Field(
        default=When(), description="Where it cannot hold there is no such hazard, whatever step or rule names it."
    )
    brief: str = Field(default="", description="A few words for the line of every step that carries the hazard.")
    do: Text = Field(description="What to do about it.")
    authority: Text = Field(description="Who says so.")
    air: Air = Field(default=(), description="What must not be breathed in.")


class Source(Model):
    """A printed source, once. A remembered one is never shown as published."""

    id: Id = Field(description="The name that sources of entries use.")
    title: Text = Field(description="As it is printed.")
    author: str = Field(default="", description="Who wrote it.")
    year: int | None = Field(default=None, description="When it came out.")
    kind: str = Field(description="What it is: book, paper, handbook, regulation …")
    where: str = Field(default="", description="Where it is found.")
    known_by: KnownBy


class Consumable(Entry):
    """What is used up."""

    name: Text = Field(description="As it stands on the list of things to lay ready.")
    unit: str = Field(description="What one of it is, as ml, each or m.")
    price: tuple[Money, Money, Money] = Field(description="Low, likely, high for one unit, assumed until the shop says its own.")
    chosen: Literal["adhesive"] | None = Field(
        default=None, description="It stands for the glue that the plan chooses: a step that uses it is a gluing step."
    )
    over: float = Field(default=0.15, ge=0, le=2, description="The share laid ready beyond what is used up.")
    counted: bool = Field(default=False, description="yes: only whole ones exist.")
    buy_days: tuple[Money, Money] | None = Field(
        default=None, description="Days until it is here, from and to, where it must be in hand before the piece is opened."
    )

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if list(self.price) != sorted(self.price):
            raise PydanticCustomError("price", "a price is low, likely, high, in rising order")
        return self


class Ground(Model):
    """What forbids a glue, speaks against it or for it."""

    says: Literal["never", "against", "for"] = Field(description="Whether it is a bar, a doubt or a recommendation.")
    when: WhenOfFindings
    unless: WhenOfFindings = Field(default=When(), description="Any line that holds takes the ground away.")
    because: Text = Field(description="Why, in a sentence.")


class Adhesive(Entry):
    """What a glue wants and forgives."""

    name: Text = Field(description="What kind of glue it is; no brand.")
    working_min: tuple[float, float] = Field(description="Minutes from spreading to closed, from and to, at temp_c.")
    temp_c: float = Field(description="The temperature, °C, that the minutes are given for.")
    clamp_min: tuple[float, float] = Field(description="Minutes in clamps, from and to, at temp_c.")
    full_cure_h: float = Field(description="Hours until it is as strong as it will be.")
    min_temp_c: float = Field(description="The coldest wood, °C, that it still sets on.")
    gap_max_mm: float = Field(description="The widest gap that it bridges, mm.")
    water_class: str = Field(description="Its class of water resistance.")
    reversible: tuple[str, ...] = Field(default=(), description="What undoes it again; an empty list where nothing does.")
    hazards: Hazards = ()
    bonds_over: tuple[str, ...] = Field(default=(), description="The old glues that it holds on.")
    two_part: bool = Field(default=False, description="yes: it is mixed.")
    press: Literal["clamps", "contact"] = Field(
        default="clamps", description="What closes the line: clamps that squeeze, or contact."
    )
    grounds: tuple[Ground, ...] = Field(default=(), description="What forbids it, speaks against it or for it.")
    methods: tuple[Annotated[Id, names("methods")], ...] = Field(
        default=(), description="Methods that are done with this glue, and with no other that does not name them."
    )
    known_by: FiguresKnownBy
