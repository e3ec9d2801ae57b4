"""What every kind of entry has: an id, a status and sources."""

from collections.abc import Collection
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from diagnose.rulebase.fault import nearest

Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]
Text = Annotated[str, Field(min_length=2)]
Word = Annotated[str, Field(pattern=r"^[a-z][a-z_]*$")]
Minutes = Annotated[float, Field(ge=0, le=10_000)]
Status = Literal["draft", "reviewed", "field_tested"]


class Model(BaseModel):
    """Frozen, and strict about keys: an unknown key is a fault, not a comment."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Cite(Model):
    """A source and the place in it."""

    source: str
    place: str = ""

    def __str__(self) -> str:
        return f"{self.source}, {self.place}" if self.place else self.source


def _cite(value: Any) -> Cite:
    if isinstance(value, Cite):
        return value
    if isinstance(value, str):
        return Cite(source=value)
    if isinstance(value, dict) and len(value) == 1:
        ((source, place),) = value.items()
        if isinstance(place, str):
            return Cite(source=source, place=place)
    raise PydanticCustomError("source", "a source is an id, or {{id: table or section}}")


CiteField = Annotated[
    Cite,
    PlainValidator(_cite),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "object", "maxProperties": 1}]}),
]
Sources = Annotated[tuple[CiteField, ...], Field(min_length=1)]


class Entry(Model):
    """The common part of all entries."""

    id: Id
    status: Status = "draft"
    sources: Sources


def one_of(known: Collection[str], what: str) -> AfterValidator:
    """The check that a text is one of a closed list of words.py; the fault names the nearest.

    >>> from pydantic import TypeAdapter
    >>> TypeAdapter(Annotated[str, one_of(("chair", "table"), "a piece")]).validate_python("chair")
    'chair'
    """

    def check(value: str) -> str:
        if value not in known:
            raise PydanticCustomError("one_of", "{message}", {"message": f"{value} is not {what}; {nearest(value, known)}"})
        return value

    return AfterValidator(check)


def as_tuple(value: Any) -> Any:
    """A single value where a list may stand.

    >>> as_tuple("chair"), as_tuple(["a", "b"])
    (['chair'], ['a', 'b'])
    """
    return [value] if isinstance(value, str) else value


def truth(value: Any) -> Any:
    """Yes and no as they are written in the rules; anything else is left to the check of its type.

    >>> truth("yes"), truth("no")
    (True, False)
    """
    return {"yes": True, "no": False}.get(str(value), value)
