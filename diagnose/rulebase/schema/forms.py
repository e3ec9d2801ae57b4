"""The models of the entries as they are written, and the schemas made of them."""

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue, models_json_schema
from pydantic_core import core_schema

from diagnose.rulebase.entries import Scale, Story
from diagnose.rulebase.entries.base import NAMES
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import KINDS, MATERIALS
from diagnose.rulebase.schema.listed import definitions_of, lists_of
from diagnose.rulebase.schema.parts import REFS, YES_OR_NO, Schema, document, explained, key_of, list_of, mapping, ref


class _Forms(GenerateJsonSchema):
    """The models as they are written: yes and no for flags, no default that is empty, the keys of mappings checked."""

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        found = super().str_schema(schema)
        # A text may be written as a bare number, which an editor takes for one; an id may not.
        return found if "pattern" in found else {**found, "type": ["string", "number"]}

    def bool_schema(self, schema: core_schema.BoolSchema) -> JsonSchemaValue:
        return dict(YES_OR_NO)

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        inner, default = self.generate_inner(schema["schema"]), schema.get("default")
        if isinstance(default, bool):
            return {**inner, "default": "yes" if default else "no"}
        return {**inner, "default": default} if default and isinstance(default, str | int | float) else inner

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        found: Schema = {
            "type": "object",
            "additionalProperties": self.generate_inner(schema.get("values_schema", {"type": "any"})),
        }
        if "keys_schema" in schema:
            found["propertyNames"] = self.generate_inner(schema["keys_schema"])
        self.update_with_validations(found, schema, self.ValidationsMapping.object)
        return found

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        found = super().model_schema(schema)
        found.pop("title", None)
        for name, field in schema["cls"].model_fields.items():
            if field.description:  # Of a model that has a default it would be lost.
                found["properties"][field.alias or name].setdefault("description", field.description)
        return {**found, "description": _doc(schema["cls"])}

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def _doc(model: type[BaseModel]) -> str:
    return " ".join((model.__doc__ or "").split())


def _resolved(schema: Any, lists: Mapping[str, Mapping[str, str]]) -> Any:
    """The schema with every mark of `names` replaced by what it stands for.

    The keys of a mapping are written out, each with what it says, since editors offer those and explain them.
    """
    if isinstance(schema, list):
        return [_resolved(item, lists) for item in schema]
    if not isinstance(schema, dict):
        return schema
    if NAMES in schema:
        return {**{key: value for key, value in schema.items() if key != NAMES}, **ref(schema[NAMES])}
    found = {key: _resolved(value, lists) for key, value in schema.items()}
    keys = schema.get("propertyNames", {}).get(NAMES)
    if keys is None:
        return found
    del found["propertyNames"]
    found["properties"] = {key: explained(found["additionalProperties"], said) for key, said in lists[keys].items()}
    return {**found, "additionalProperties": False}


def _refs(schema: Any) -> Iterator[str]:
    if isinstance(schema, dict):
        if isinstance(schema.get("$ref"), str):
            yield schema["$ref"].rpartition("/")[2]
        schema = list(schema.values())
    if isinstance(schema, list):
        for item in schema:
            yield from _refs(item)


def _with_used(schema: Schema, definitions: Mapping[str, Schema]) -> Schema:
    """The schema with those definitions that it leads to."""
    used: dict[str, Schema] = {}
    wanted = set(_refs(schema))
    while wanted - used.keys():
        for name in sorted(wanted - used.keys()):
            used[name] = definitions[name]
            wanted |= set(_refs(definitions[name]))
    return {**schema, "$defs": dict(sorted(used.items()))}


def form_of(model: type[BaseModel], title: str, version: str) -> Schema:
    """The schema of a model that names nothing of the rule base."""
    return document(title, version, **model.model_json_schema(by_alias=True, ref_template=REFS, schema_generator=_Forms))


def rules_schema(knowledge: Knowledge, kind: str | None = None) -> Schema:
    """The schema of a whole rules file, or of one entry of `kind` (a key of load.KINDS or load.MATERIALS)."""
    models: tuple[type[BaseModel], ...] = (*KINDS.values(), *MATERIALS.values(), Scale, Story)
    places, made = models_json_schema(
        [(model, "validation") for model in models], by_alias=True, ref_template=REFS, schema_generator=_Forms
    )
    lists = lists_of(knowledge)
    forms = _resolved(made["$defs"], lists)
    definitions = {**forms, **{key_of(name): schema for name, schema in definitions_of(knowledge, lists).items()}}

    def entry(model: type[BaseModel]) -> Schema:
        return dict(places[(model, "validation")])

    def entries(kinds: Mapping[str, type[BaseModel]]) -> dict[str, Schema]:
        return {name: list_of(entry(model), description=_doc(model)) for name, model in kinds.items()}

    if kind is not None:
        one = document(f"One of {kind}", knowledge.version, **entry({**KINDS, **MATERIALS}[kind]))
        return _with_used(one, definitions)
    properties = {
        **entries(KINDS),
        "materials": mapping(entries(MATERIALS), description="What is used up, glues, finishes and what goes with them."),
        "scale": entry(Scale),
        "stories": list_of(entry(Story), description="What must come of made-up cases. They stand in a .cases.yaml."),
    }
    whole = document("A file of the rule base", knowledge.version, **mapping(properties, minProperties=1))
    return _with_used(whole, definitions)
