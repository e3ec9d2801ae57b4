"""The words of the language and their numbers."""

from typing import Annotated

from pydantic import Field

from diagnose.rulebase.entries.base import Model, Sources, Status

Share = Annotated[float, Field(ge=0, le=1)]


class Scale(Model):
    """`words` are likelihoods; `happens` relative odds; `treats` what is left over; `keeps` the share of value kept."""

    words: dict[str, Share]
    happens: dict[str, Share]
    treats: dict[str, Share]
    keeps: dict[str, Share]
    effort: dict[str, float]
    off_by: dict[str, Share]
    together: Share
    something_else: Share
    something_else_returns: str
    turning: float
    status: Status = "draft"
    sources: Sources
