"""A sign: one thing that can be observed, with its possible readings."""

from typing import Annotated, Literal, Self

from pydantic import ConfigDict, Field, model_validator
from pydantic.config import JsonDict
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Id, Minutes, Model, OneOf, Text, Titled, names
from diagnose.rulebase.entries.step import Phase
from diagnose.rulebase.entries.when import When, WhenOfCase, WhenOfReadings

# What a reading may stand for in the strength sums: slope of grain (rise per run), length of a break over the depth of the part,
# gap in a joint (mm), share of the section left, share of a break's face that will be clean and closed, share of a joint's face left.
Quantity = Literal["slope", "length_over_depth", "gap_mm", "section_left", "clean_share", "joint_face_left"]


class Reading(Model):
    """One possible reading of a sign."""

    say: str = Field(default="", description="What the person at the counter reads: short, and nothing to interpret.")
    means: dict[Quantity, float] = Field(
        default={}, description="What it stands for in the strength sums, on the safe side: a quantity and its number."
    )
    plate: Annotated[str, names("plates")] | None = Field(default=None, description="The drawing that shows it.")
    background: Annotated[str, names("words")] | None = Field(
        default=None, description="How often it is seen whatever the cause. Left out everywhere = all alike."
    )
    upto: float | None = Field(
        default=None, description="Measured signs only: the reading holds up to this figure, which it includes."
    )
    when: WhenOfCase = Field(
        default=When(), description="On which pieces, parts and joints it can be seen at all; elsewhere it is not offered."
    )


class Measure(Model):
    """Unit and range of a measured sign; outside the range a figure is refused."""

    unit: Literal["mm", "percent", "degrees", "count"] = Field(description="The unit of upto, from and to.")
    low: float = Field(alias="from", description="The least that can be measured.")
    high: float = Field(alias="to", description="The most that can be measured; upto of the last reading.")


class Computed(Model):
    """A sign that is worked out, never asked; in the belief it stands in place of the signs in `from`."""

    by: Literal["moving_joints", "strength_ratio"] = Field(description="How it is worked out.")
    source_signs: tuple[Annotated[Id, names("signs")], ...] = Field(
        default=(), alias="from", description="The signs that it stands in place of."
    )


def _of_kind(kind: str) -> JsonDict:
    return {"properties": {"kind": {"const": kind}}, "required": ["kind"]}


_ASKED: JsonDict = {"if": {"not": {"required": ["computed"]}}, "then": {"required": ["ask", "look", "station", "effort"]}}
_YES_OR_NO: JsonDict = {
    "if": _of_kind("yes_no"),
    "then": {"properties": {"readings": {"propertyNames": {"enum": ["yes", "no"]}, "required": ["yes", "no"]}}},
}
_MEASURED: JsonDict = {
    "if": _of_kind("measure"),
    "then": {"required": ["measure"], "properties": {"readings": {"additionalProperties": {"required": ["upto"]}}}},
    "else": {"not": {"required": ["measure"]}},
}
# What the check of the whole sign says of its kinds, for editors.
_BY_KIND: JsonDict = {"allOf": [_ASKED, _YES_OR_NO, _MEASURED]}


class Sign(Titled):
    """One thing that can be observed, with its possible readings."""

    model_config = ConfigDict(json_schema_extra=_BY_KIND)

    kind: Literal["choose_one", "tick_all", "yes_no", "measure"] = Field(description="How it is answered.")
    of: Literal["damage", "piece"] = Field(
        description="piece: a fact of the whole piece, counted once however many damages it has."
    )
    ask: Text | None = Field(default=None, description="The question.")
    look: Text | None = Field(default=None, description="How to look, so that two people see the same.")
    station: Annotated[str, OneOf(words.STATIONS, "a station")] | None = Field(
        default=None, description="Where one stands or what is turned over; a station is finished before it is left."
    )
    effort: Annotated[str, OneOf(words.EFFORTS, "an effort")] | None = Field(
        default=None, description="What it takes; the scale gives each its minutes."
    )
    minutes: Minutes | None = Field(default=None, description="The minutes it takes, where they are not those of its effort.")
    gone_after: tuple[Phase, ...] = Field(default=(), description="Phases of the work whose steps destroy the evidence.")
    when: WhenOfReadings = Field(
        default=When(), description="Where it is asked. A reading whose gate has closed is kept and not counted."
    )
    unless: WhenOfReadings = Field(default=When(), description="Any line that holds closes the question.")
    readings: dict[Id, Reading] = Field(min_length=1, description="The possible readings, each under its id.")
    counts: Literal["full", "half"] = Field(default="full", description="half: another sign sees the same mark.")
    measure: Measure | None = Field(default=None, description="Unit and range; measured signs and only those.")
    computed: Computed | None = Field(default=None, description="It is worked out and never asked.")

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("sign", "{message}", {"message": message})

        if self.computed is None:
            if self.id in (*words.CASE_FACTS, words.FINDING, "any"):
                raise wrong(f"{self.id} is a word of conditions and cannot be the id of a sign that is asked")
            if not (self.ask and self.look and self.station and self.effort):
                raise wrong("a sign that is asked needs ask, look, station and effort")
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
