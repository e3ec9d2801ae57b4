"""The one condition of the language: a mapping whose lines must all hold.

`{break_path: [across_part, at_knot], faces_carry: {all: [finish, old_glue]}, any: [{…}, {…}]}`: a list means any of its
values, `all` means every one, `any` means that at least one of its mappings holds. `unless` has the same shape; any of
its lines closes it.
"""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PlainValidator
from pydantic_core import PydanticCustomError

from diagnose.rulebase.entries.base import names

MAX_CONDITIONS = 12


@dataclass(frozen=True)
class Line:
    """One line of a condition: the fact `key` has one of (or every one of) `values`."""

    key: str
    values: tuple[str, ...]
    every: bool = False


@dataclass(frozen=True)
class When:
    """All `lines` hold, and, where given, at least one branch of `branches`."""

    lines: tuple[Line, ...] = ()
    branches: tuple[tuple[Line, ...], ...] = ()

    def keys(self) -> frozenset[str]:
        """Every fact that the condition asks about."""
        branch_keys = {line.key for branch in self.branches for line in branch}
        return frozenset({line.key for line in self.lines} | branch_keys)

    def all_lines(self) -> tuple[Line, ...]:
        """Every line, those of the branches included."""
        return self.lines + tuple(line for branch in self.branches for line in branch)

    def conditions(self) -> int:
        """How many conditions the rule engine will see."""
        width = 1
        for branch in self.branches:
            width *= max(1, len(branch))
        return sum(len(line.values) if line.every else 1 for line in self.lines) + (width if self.branches else 0)

    def __bool__(self) -> bool:
        return bool(self.lines or self.branches)


def _wrong(message: str) -> PydanticCustomError:
    return PydanticCustomError("when", "{message}", {"message": message})


def _texts(value: Any, key: str) -> tuple[str, ...]:
    values = value if isinstance(value, list) else [value]
    if not values or not all(isinstance(item, str) for item in values):
        raise _wrong(f"{key} needs a value, a list of values, or {{all: [values]}}")
    return tuple(values)


def _line(key: str, value: Any) -> Line:
    if isinstance(value, dict):
        if list(value) != ["all"]:
            raise _wrong(f"{key}: only {{all: [values]}} may stand in braces here")
        return Line(key, _texts(value["all"], key), every=True)
    return Line(key, _texts(value, key))


def parse_when(value: Any) -> When:
    """A When from plain data.

    >>> parse_when({"damage": "loose", "joint": ["dowel", "round_tenon"]}).lines[1].values
    ('dowel', 'round_tenon')
    """
    if isinstance(value, When):
        return value
    if not isinstance(value, dict) or not value:
        raise _wrong("a condition is a mapping of facts and values")
    lines = []
    branches: tuple[tuple[Line, ...], ...] = ()
    for key, item in value.items():
        if key == "any":
            if not isinstance(item, list) or not item or not all(isinstance(b, dict) and b for b in item):
                raise _wrong("any is a list of mappings")
            branches = tuple(tuple(_line(k, v) for k, v in branch.items()) for branch in item)
        else:
            lines.append(_line(key, item))
    return When(tuple(lines), branches)


# What a condition may ask for: facts of the case alone, readings of signs too, or findings as well.
WhenOfCase = Annotated[
    When,
    PlainValidator(parse_when),
    names("facts"),
    Field(description="Every line must hold; a list means any of its values. Facts of the case alone. Nothing known = may hold."),
]
WhenOfReadings = Annotated[
    When,
    PlainValidator(parse_when),
    names("facts and readings"),
    Field(description="Every line must hold; a list means any of its values. Facts of the case and readings of signs."),
]
WhenOfFindings = Annotated[
    When,
    PlainValidator(parse_when),
    names("facts, readings and findings"),
    Field(description="Every line must hold; a list means any of its values. Facts of the case, readings of signs, findings."),
]
