"""The words of the language and their numbers."""

from typing import Annotated, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Model, Sources, Status, names

Share = Annotated[float, Field(ge=0, le=1)]
# A likelihood or frequency of 0 could never be moved by an answer, one of 1 neither.
Chance = Annotated[float, Field(gt=0, lt=1)]
# How sure an answer is: what `off_by` must give a number for.
SURE_WORDS = ("sure", "owner", "photograph", "unsure")


class Scale(Model):
    """The words of the language and the numbers they stand for."""

    words: dict[str, Chance] = Field(min_length=1, description="How likely: the words of rows and backgrounds.")
    happens: dict[str, Chance] = Field(description="How often a cause is met, as relative odds.")
    treats: dict[str, Share] = Field(description="How well a method treats a cause, as the share of it that is left over.")
    keeps: dict[str, Share] = Field(description="How much of the piece's value a method keeps, as a share.")
    effort: dict[str, float] = Field(description="The minutes that each way of looking takes.")
    off_by: dict[str, Share] = Field(
        description="How often an answer is wrong: sure, the owner's word, from a photograph, unsure."
    )
    together: Chance = Field(description="What the odds of all causes that may act add up to.")
    something_else: Chance = Field(description="The chance of a cause that is not in the rule base.")
    something_else_returns: Annotated[str, names("words")] = Field(description="How surely such a cause comes back.")
    turning: float = Field(description="Minutes for turning to another station.")
    status: Status = Field(default="draft", description="draft, reviewed or field_tested.")
    sources: Sources

    @model_validator(mode="after")
    def _whole(self) -> Self:
        missing = [word for word in SURE_WORDS if word not in self.off_by]
        if missing:
            message = f"off_by does not say how easily an answer is off: {', '.join(missing)}"
            raise PydanticCustomError("scale", "{message}", {"message": message})
        return self
