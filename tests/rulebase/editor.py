"""Reading YAML and a schema as an editor does: YAML 1.2, in which yes and no are text, and a bare number is one."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, ClassVar

import yaml
from jsonschema import Draft202012Validator

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Core(_LOADER):  # type: ignore[misc]
    """The core schema of YAML 1.2."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


for _tag, _written, _first in (
    ("bool", "true|True|TRUE|false|False|FALSE", "tTfF"),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", "-+.0123456789"),
    ("null", "~|null|Null|NULL|", ["~", "n", "N", ""]),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_written})$"), list(_first))


def as_editor(text: str) -> Any:
    """The data of a document as an editor holds it against a schema. Raises yaml.YAMLError."""
    return yaml.load(text, Core)


def underlined(schema: dict[str, Any], text: str) -> list[str]:
    """The places that an editor would underline: keys and numbers from the outside in, with what it says."""
    found = Draft202012Validator(schema).iter_errors(as_editor(text))
    return sorted(f"{'.'.join(map(str, error.absolute_path))}: {error.message}" for error in found)


def deepest(schema: dict[str, Any], text: str) -> Iterator[str]:
    """The places as deep as the schema can say them: of a choice, those of the branches as well."""
    waiting = list(Draft202012Validator(schema).iter_errors(as_editor(text)))
    for error in waiting:
        waiting.extend(error.context or ())
        yield f"{'.'.join(map(str, error.absolute_path))}: {error.message}"


def texts(folder: Path) -> dict[str, str]:
    """Every YAML file of a folder, by its path inside it."""
    return {path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in sorted(folder.rglob("*.yaml"))}
