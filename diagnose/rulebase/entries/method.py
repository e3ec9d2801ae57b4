"""A method: one way to repair, in one decision class."""

from typing import Annotated

from pydantic import Field

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, OneOf, Text, Word, names
from diagnose.rulebase.entries.when import When, WhenOfReadings

DecisionClass = Annotated[str, OneOf(words.CLASSES, "a decision class")]
StrengthModel = Annotated[str, OneOf(words.STRENGTH_MODELS, "a strength model")]
Extent = Annotated[str, OneOf(words.EXTENTS, "an extent")]
EndUse = Annotated[str, OneOf(words.END_USES, "an end use")]
By = Annotated[str, OneOf(words.BYS, "who does it")]
Timing = Annotated[str, OneOf(words.TIMINGS, "a timing")]


class Method(Entry):
    """A method: one way to repair."""

    name: Text = Field(description="A line that says it, as the shop would.")
    owner: Text = Field(description="The same in the letter: we would … in plain words.")
    stays_visible: Text = Field(description="What is still seen of it afterwards.")
    decision: DecisionClass = Field(alias="class", description="The decision it belongs to.")
    when: WhenOfReadings = Field(default=When(), description="Where it may be done. What nobody knows does not close it.")
    unless: WhenOfReadings = Field(default=When(), description="Where it is never done: any line that holds closes it.")
    only_if_known: tuple[Id, ...] = Field(
        default=(),
        description="Lines of when that ignorance does not open: a guarantee that nobody spoke of sends nobody to the maker.",
    )
    treats: Annotated[dict[Id, Word], names("treated")] = Field(
        default_factory=dict,
        description="How well it treats a family of causes, or one cause, which then wins. Not named = not treated.",
    )
    keeps: Annotated[Word, names("keeps")] = Field(default="all", description="The share of the piece's value that is kept.")
    strength: StrengthModel = Field(default="none", description="The sum that says how strong it leaves the place.")
    steps: tuple[Annotated[Id, names("steps")], ...] = Field(
        min_length=1, description="Its steps; what they need and what rules require comes by itself."
    )
    extent: Extent = Field(default="joint", description="How far it reaches.")
    end_use: EndUse = Field(default="as_before", description="What the piece may be used for afterwards.")
    by: By = Field(default="us", description="Who does it.")
    timing: Timing = Field(default="now", description="When it is done.")
    fails_again_if: tuple[Text, ...] = Field(default=(), description="What would undo it, each a sentence for its owner.")
    needs: tuple[str, ...] = Field(
        default=(), description="Machines and skills without which the shop cannot do it (can_do in shop.yaml)."
    )
