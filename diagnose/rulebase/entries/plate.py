"""A plate: one drawing of the field guide, made by a family of drawings from a few parameters."""

import re
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Text, Word, one_of

Given = str | float | bool


def _id(value: str) -> str:
    if re.fullmatch(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", value) is None:
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
    """`draw` names the family, `with` its parameters; `caption` says what to look at, `alt` what the drawing shows a blind reader."""

    id: Annotated[str, AfterValidator(_id)]
    draw: Annotated[str, one_of(words.PLATE_FAMILIES, "a family of drawings")]
    given: Parameters = Field(default={}, alias="with")
    caption: Text
    alt: Text
