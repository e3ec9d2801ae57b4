"""A sign: one thing that can be observed, with its possible readings."""

from typing import Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Minutes, Model, Text
from diagnose.rulebase.entries.when import When, WhenField

Quantity = Literal["slope", "length_over_depth", "gap_mm", "section_left", "clean_share", "joint_face_left"]


class Reading(Model):
    """One possible reading; `upto` only for measured signs, `background` a word of the scale.

    `means` is what the reading stands for in the strength sums, on the safe side: a quantity of words.QUANTITIES and
    its number. `when` says on which pieces and parts it can be seen at all; elsewhere it is not offered.
    """

    say: str = ""
    means: dict[Quantity, float] = Field(default={})
    plate: str | None = None
    background: str | None = None
    upto: float | None = None
    when: WhenField = When()


class Measure(Model):
    """Unit and range of a measured sign; outside the range a figure is refused."""

    unit: Literal["mm", "percent", "degrees", "count"]
    low: float = Field(alias="from")
    high: float = Field(alias="to")


class Computed(Model):
    """A sign that is worked out, never asked; in the belief it stands in place of the signs in `from`."""

    by: Literal["moving_joints", "strength_ratio"]
    source_signs: tuple[Id, ...] = Field(default=(), alias="from")


class Sign(Entry):
    """See entry_language: the question, how to look, and the readings."""

    kind: Literal["choose_one", "tick_all", "yes_no", "measure"]
    of: Literal["damage", "piece"]
    ask: Text | None = None
    look: Text | None = None
    station: str | None = None
    effort: str | None = None
    minutes: Minutes | None = None
    gone_after: tuple[str, ...] = ()
    when: WhenField = When()
    unless: WhenField = When()
    readings: dict[Id, Reading] = Field(min_length=1)
    counts: Literal["full", "half"] = "full"
    measure: Measure | None = None
    computed: Computed | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("sign", "{message}", {"message": message})

        if self.computed is None:
            if self.id in (*words.CASE_FACTS, words.FINDING, "any"):
                raise wrong(f"{self.id} is a word of conditions and cannot be the id of a sign that is asked")
            if not (self.ask and self.look and self.station and self.effort):
                raise wrong("a sign that is asked needs ask, look, station and effort")
            if self.station not in words.STATIONS:
                raise wrong(f"station {self.station} is not one of {', '.join(words.STATIONS)}")
            if self.effort not in words.EFFORTS:
                raise wrong(f"effort {self.effort} is not one of {', '.join(words.EFFORTS)}")
        unknown = [phase for phase in self.gone_after if phase not in words.PHASES]
        if unknown:
            raise wrong(f"gone_after: {unknown[0]} is not a phase")
        if self.kind == "yes_no" and list(self.readings) not in (["yes", "no"], ["no", "yes"]):
            raise wrong("a yes_no sign has the readings yes and no")
        if (self.kind == "measure") != (self.measure is not None):
            raise wrong("a measured sign, and only that, has measure: {unit, from, to}")
        if self.measure is not None:
            limits = [reading.upto for reading in self.readings.values()]
            if None in limits or limits != sorted(limit for limit in limits if limit is not None):
                raise wrong("every reading of a measured sign needs upto, in rising order")
            if limits[-1] != self.measure.high or self.measure.low >= self.measure.high:
                raise wrong("the readings must cover from..to, the last upto being to")
        return self

    def reading_of(self, value: float) -> str:
        """The named reading of a measured `value` in the sign's unit; ValueError outside its range."""
        assert self.measure is not None
        if not self.measure.low <= value <= self.measure.high:
            unit, low, high = self.measure.unit, self.measure.low, self.measure.high
            raise ValueError(f"{value:g} {unit} is outside {low:g} to {high:g} {unit}")
        return next(name for name, r in self.readings.items() if r.upto is not None and value <= r.upto)

    def say(self, reading: str) -> str:
        """The words of a reading."""
        entry = self.readings.get(reading)
        if entry is not None and entry.say:
            return entry.say
        if entry is not None and entry.upto is not None and self.measure is not None:
            return f"{reading.replace('_', ' ')} (to {entry.upto:g} {self.measure.unit})"
        return reading.replace("_", " ")
