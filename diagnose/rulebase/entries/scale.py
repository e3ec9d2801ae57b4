"""The words of the language and their numbers."""

from typing import Annotated, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import Model, Sources, Status

Share = Annotated[float, Field(ge=0, le=1)]
# A likelihood or frequency of 0 could never be moved by an answer, one of 1 neither.
Chance = Annotated[float, Field(gt=0, lt=1)]
# How sure an answer is: what `off_by` must give a number for.
SURE_WORDS = ("sure", "owner", "photograph", "unsure")


class Scale(Model):
    """`words` are likelihoods; `happens` relative odds; `treats` what is left over; `keeps` the share of value kept."""

    words: dict[str, Chance] = Field(min_length=1)
    happens: dict[str, Chance]
    treats: dict[str, Share]
    keeps: dict[str, Share]
    effort: dict[str, float]
    off_by: dict[str, Share]
    together: Chance
    something_else: Chance
    something_else_returns: str
    turning: float
    status: Status = "draft"
    sources: Sources

    @model_validator(mode="after")
    def _whole(self) -> Self:
        missing = [word for word in SURE_WORDS if word not in self.off_by]
        if missing:
            message = f"off_by does not say how easily an answer is off: {', '.join(missing)}"
            raise PydanticCustomError("scale", "{message}", {"message": message})
        return self
