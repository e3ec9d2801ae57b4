"""A method: one way to repair, in one decision class."""

from typing import Annotated

from pydantic import Field

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Text, Word, one_of
from diagnose.rulebase.entries.when import When, WhenField

DecisionClass = Annotated[str, one_of(words.CLASSES, "a decision class")]
StrengthModel = Annotated[str, one_of(words.STRENGTH_MODELS, "a strength model")]
Extent = Annotated[str, one_of(words.EXTENTS, "an extent")]
EndUse = Annotated[str, one_of(words.END_USES, "an end use")]
By = Annotated[str, one_of(words.BYS, "who does it")]
Timing = Annotated[str, one_of(words.TIMINGS, "a timing")]


class Method(Entry):
    """`treats` gives a word for a family of causes, or for one cause, which then wins.

    What nobody knows does not close a gate, but for the lines of `when`, and of its branches, that `only_if_known` names: a
    guarantee that nobody has spoken of is no ground for sending somebody to the maker.
    """

    name: Text
    owner: Text
    stays_visible: Text
    decision: DecisionClass = Field(alias="class")
    when: WhenField = When()
    unless: WhenField = When()
    only_if_known: tuple[Id, ...] = ()
    treats: dict[Id, Word] = Field(default_factory=dict)
    keeps: Word = "all"
    strength: StrengthModel = "none"
    steps: tuple[Id, ...] = Field(min_length=1)
    extent: Extent = "joint"
    end_use: EndUse = "as_before"
    by: By = "us"
    timing: Timing = "now"
    fails_again_if: tuple[Text, ...] = ()
    needs: tuple[str, ...] = ()
