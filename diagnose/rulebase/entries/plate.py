"""A plate: one drawing of the field guide, made by a family of drawings from a few parameters."""

import re
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, OneOf, Text, Word

Given = str | float | bool
PLATE_ID = r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$"


def _id(value: str) -> str:
    if re.fullmatch(PLATE_ID, value) is None:
        raise PydanticCustomError("plate_id", "is not the id of a plate (small letters and digits, with single hyphens)")
    return value


def _given(value: Any) -> Any:
    """What a parameter says: yes and no are flags, a number is a number, all else is text.

    >>> _given("yes"), _given("0.5"), _given("steep")
    (True, 0.5, 'steep')
    """
    if value in ("yes", "no"):
        return value == "yes"
    try:
        return float(value)
    except (TypeError, ValueError):
        return value


# Parameters of a drawing, by name.
Parameters = dict[Word, Annotated[Given, BeforeValidator(_given)]]


class Plate(Entry):
    """One drawing of the field guide."""

    id: Annotated[str, AfterValidator(_id), WithJsonSchema({"type": "string", "pattern": PLATE_ID})] = Field(
        description="The name that readings use: small letters and digits, with single hyphens."
    )
    draw: Annotated[str, OneOf(words.PLATE_FAMILIES, "a family of drawings")] = Field(description="The family of drawings.")
    given: Parameters = Field(default={}, alias="with", description="The parameters of the drawing.")
    caption: Text = Field(description="What to look at.")
    alt: Text = Field(description="What the drawing shows, for a blind reader.")
