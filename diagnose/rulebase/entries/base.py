"""What every kind of entry has: an id, a status and sources."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, PlainValidator, WithJsonSchema
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from diagnose.rulebase.fault import nearest

# In a schema for editors: what a text stands for, an entry of a kind, a word of the scale, a fact. Whether there is such a one is
# found by faults/ when the whole rule base is read; schema/ puts the list of them in its place.
NAMES = "x-names"

Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]
Text = Annotated[str, Field(min_length=2)]
Word = Annotated[str, Field(pattern=r"^[a-z][a-z_]*$")]
Minutes = Annotated[float, Field(ge=0, le=10_000)]
Status = Literal["draft", "reviewed", "field_tested"]


class Model(BaseModel):
    """Frozen, and strict about keys: an unknown key is a fault, not a comment."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


def names(what: str) -> WithJsonSchema:
    """The mark of a field whose text names something that stands elsewhere in the rule base."""
    return WithJsonSchema({NAMES: what})


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
    raise PydanticCustomError("source", "a source is an id, or {id: table or section}")


CiteField = Annotated[Cite, PlainValidator(_cite), names("sources")]
Sources = Annotated[
    tuple[CiteField, ...],
    Field(min_length=1, description="Whose word it is: ids of sources.yaml, each alone or as {id: table or section}."),
]


class Entry(Model):
    """The common part of all entries."""

    id: Id = Field(description="The name that the files use: small letters, digits and _. Used once in its kind.")
    status: Status = Field(default="draft", description="draft: no second repairer has read it; reviewed; field_tested.")
    sources: Sources


class Titled(Entry):
    """An entry that has no name of its own."""

    title: str = Field(default="", description="What a person calls it, where its id does not read as that.")

    @property
    def called(self) -> str:
        """What stands for it in headings, links and lists."""
        text = self.title or self.id.replace("_", " ")
        return text[:1].upper() + text[1:]


@dataclass(frozen=True, eq=False)
class OneOf:
    """The check that a text is one of a closed list of words.py; the fault names the nearest, the schema lists them.

    >>> from pydantic import TypeAdapter
    >>> piece = TypeAdapter(Annotated[str, OneOf(("chair", "table"), "a piece")])
    >>> piece.validate_python("chair"), piece.json_schema()
    ('chair', {'enum': ['chair', 'table']})
    """

    known: Collection[str]
    what: str

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self._check, handler(source))

    def __get_pydantic_json_schema__(self, _: CoreSchema, __: object) -> dict[str, Any]:
        return {"enum": list(self.known)}

    def _check(self, value: str) -> str:
        if value not in self.known:
            message = f"{value} is not {self.what}; {nearest(value, self.known)}"
            raise PydanticCustomError("one_of", "{message}", {"message": message})
        return value


class OrOne:
    """A list that may be written as its only value.

    >>> from pydantic import TypeAdapter
    >>> TypeAdapter(Annotated[tuple[str, ...], OrOne()]).validate_python("chair")
    ('chair',)
    """

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self._listed, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: Any) -> dict[str, Any]:
        listed = handler(core)
        return {"anyOf": [listed["items"], listed]}

    @staticmethod
    def _listed(value: Any) -> Any:
        return [value] if isinstance(value, str) else value
