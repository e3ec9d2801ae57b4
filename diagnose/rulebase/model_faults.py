"""What pydantic finds wrong with an entry, said to the person who wrote it: each fault at its place, with the nearest right thing."""

import re
from collections.abc import Iterable
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from diagnose.rulebase.fault import Fault, nearest
from diagnose.rulebase.located import Located
from diagnose.rulebase.located import Path as Place

# Kind of error → what is said of the field.
SAID = {
    "missing": "is missing",
    "extra_forbidden": "is not known here",
    "string_type": "needs a text",
    "string_too_short": "needs a text",
    "dict_type": "needs names and values, as {name: value}",
    "model_type": "needs names and values, as {name: value}",
    "tuple_type": "needs a list, as [one, two]",
    "bool_parsing": "needs yes or no",
    "bool_type": "needs yes or no",
}
# The same, of what was written there.
SAID_OF_INPUT = {
    "int_parsing": "is not a whole number",
    "int_from_float": "is not a whole number",
    "float_parsing": "is not a number",
    "literal_error": "is none of its words",
}
# How pydantic marks that a key of a mapping is meant and not its value.
OF_KEY = "[key]"


def _inside(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for inner in get_args(annotation) if (found := _inside(inner)) is not None), None)


def _fields_at(model: type[BaseModel], place: Iterable[str | int]) -> list[str]:
    """The fields of the model that stands at a place inside another."""
    for part in place:
        field = next((info for name, info in model.model_fields.items() if part in (info.alias, name)), None)
        model = model if field is None else _inside(field.annotation) or model
    return [info.alias or name for name, info in model.model_fields.items()]


def _as_id(written: str) -> str:
    """An id as it was probably meant.

    >>> _as_id("AnimalGlue-aged"), _as_id("0.8")
    ('animal_glue_aged', '')
    """
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", written).lower()
    found = re.sub(r"[^a-z0-9]+", "_", apart).strip("_")
    return found if re.match(r"[a-z]", found) else ""


def _message(detail: ErrorDetails) -> str:
    kind, written = detail["type"], detail["input"]
    if kind == "missing" and detail["loc"] and isinstance(detail["loc"][-1], int):
        return "is missing: the list is too short"
    if kind == "string_pattern_mismatch":
        what = "an id (small letters, digits and _)" if "0-9" in detail["ctx"]["pattern"] else "a word (small letters and _)"
        return f"{written!r} is not {what}"
    if kind == "too_short":
        return "needs at least one"
    if kind == "too_long":
        return f"has more than {detail['ctx']['max_length']} values"
    if kind in SAID_OF_INPUT:
        return f"{written!r} {SAID_OF_INPUT[kind]}" if isinstance(written, str) else f"is not what stands here: {written}"
    return SAID.get(kind) or detail["msg"].replace("Input should be", "should be")


def _hint(detail: ErrorDetails, place: Place, model: type[BaseModel]) -> str:
    kind, written = detail["type"], str(detail["input"])
    if kind == "extra_forbidden":
        return nearest(str(place[-1]), _fields_at(model, place[:-1]))
    if kind == "literal_error":
        return nearest(written, re.findall(r"'([^']*)'", detail["ctx"]["expected"]))
    if kind == "string_pattern_mismatch" and (meant := _as_id(written)):
        return f"did you mean {meant}?"
    return ""


def _is_echo(detail: ErrorDetails, details: list[ErrorDetails]) -> bool:
    """Whether a list counts as too short only because what stands in it was refused."""
    loc = detail["loc"]
    return detail["type"] == "too_short" and any(other["loc"][: len(loc)] == loc != other["loc"] for other in details)


def model_faults(error: ValidationError, document: Located, place: Place, model: type[BaseModel]) -> list[Fault]:
    """The faults of one entry, each at its own place."""
    faults = []
    details = error.errors(include_url=False)
    for detail in details:
        if _is_echo(detail, details):
            continue
        of_key = bool(detail["loc"]) and detail["loc"][-1] == OF_KEY
        inside: Place = detail["loc"][:-1] if of_key else detail["loc"]
        path: Place = (*place, *inside)
        field_name = ".".join(str(part) for part in inside) or "this entry"
        mark = document.key_mark(path) if of_key or detail["type"] == "extra_forbidden" else document.mark(path)
        faults.append(Fault(mark, "form", f"{field_name} {_message(detail)}", _hint(detail, inside, model)))
    return faults
