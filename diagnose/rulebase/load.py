"""Reads the rules folder: every file of YAML into entries, with the place of each, and every fault of form at once."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from diagnose.rulebase import entries
from diagnose.rulebase.fault import Fault, FaultsFound, Mark, nearest
from diagnose.rulebase.knowledge import Knowledge, ToldStory
from diagnose.rulebase.located import Located, read_located
from diagnose.rulebase.located import Path as Place
from diagnose.rulebase.woods import Wood, read_woods

# Top-level key of a file → what its entries are.
KINDS: dict[str, type[BaseModel]] = {
    "signs": entries.Sign,
    "causes": entries.Cause,
    "methods": entries.Method,
    "steps": entries.Step,
    "logic": entries.Rule,
    "findings": entries.Finding,
    "cautions": entries.Caution,
    "pieces": entries.Piece,
    "sources": entries.Source,
}
MATERIALS: dict[str, type[BaseModel]] = {
    "consumables": entries.Consumable,
    "adhesives": entries.Adhesive,
    "finishes": entries.Finish,
}
WOODS_FILE = "materials/woods.csv"
STORIES_SUFFIX = ".cases.yaml"


@dataclass
class Loaded:
    """What was read: entries by kind and id, where each stands, and the faults of form."""

    found: dict[str, dict[str, Any]] = field(default_factory=lambda: {kind: {} for kind in (*KINDS, *MATERIALS)})
    scale: entries.Scale | None = None
    stories: list[tuple[Located, Place, ToldStory]] = field(default_factory=list)
    woods: dict[str, Wood] = field(default_factory=dict)
    places: dict[tuple[str, str], tuple[Located, Place]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    version: str = ""

    def mark(self, kind: str, entry_id: str, *path: str | int) -> Mark:
        """Where something of an entry stands: the value at `path` inside it."""
        document, place = self.places[(kind, entry_id)]
        return document.mark((*place, *path))

    def key_mark(self, kind: str, entry_id: str, *path: str | int) -> Mark:
        """Where a key of an entry stands."""
        document, place = self.places[(kind, entry_id)]
        return document.key_mark((*place, *path))

    def knowledge(self) -> Knowledge:
        """The frozen rule base; only to be used when nothing is missing."""
        assert self.scale is not None
        return Knowledge(
            version=self.version,
            scale=self.scale,
            woods=self.woods,
            stories=tuple(told for _, _, told in self.stories),
            **self.found,
        )


def rule_files(folder: Path) -> list[Path]:
    """Every file of the rule base, in a fixed order."""
    return sorted([*folder.rglob("*.yaml"), *folder.rglob("*.csv")])


def version_of(folder: Path, files: Iterable[Path]) -> str:
    """Twelve characters that change whenever any file of the rule base does."""
    digest = hashlib.sha256()
    for path in files:
        digest.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:12]


def _fields(model: type[BaseModel]) -> list[str]:
    return [info.alias or name for name, info in model.model_fields.items()]


def _plain_message(error: ErrorDetails) -> str:
    kind = error["type"]
    if kind == "missing":
        return "is missing"
    if kind == "extra_forbidden":
        return "is not known here"
    if kind == "string_pattern_mismatch":
        return f"{error['input']!r} is not an id (small letters, digits and _)"
    if kind in ("string_type", "string_too_short"):
        return "needs a text"
    return error["msg"].replace("Input should be", "should be")


def model_faults(error: ValidationError, document: Located, place: Place, model: type[BaseModel]) -> list[Fault]:
    """The faults of one entry, each at its own place."""
    faults = []
    for detail in error.errors(include_url=False):
        path: Place = (*place, *detail["loc"])
        field_name = ".".join(str(part) for part in detail["loc"]) or "this entry"
        hint = nearest(str(detail["loc"][-1]), _fields(model)) if detail["type"] == "extra_forbidden" else ""
        extra = detail["type"] == "extra_forbidden"
        mark = document.key_mark(path) if extra else document.mark(path)
        faults.append(Fault(mark, "form", f"{field_name} {_plain_message(detail)}", hint))
    return faults


def _read_entry(
    loaded: Loaded, document: Located, kind: str, model: type[BaseModel], data: Any, place: Place
) -> None:
    try:
        entry = model.model_validate(data)
    except ValidationError as error:
        loaded.faults.extend(model_faults(error, document, place, model))
        return
    entry_id = entry.id  # type: ignore[attr-defined]
    if entry_id in loaded.found[kind]:
        first = loaded.mark(kind, entry_id)
        mark = document.mark((*place, "id"))
        loaded.faults.append(Fault(mark, "duplicate", f"{entry_id} is already given at {first}", "ids are used once"))
        return
    loaded.found[kind][entry_id] = entry
    loaded.places[(kind, entry_id)] = (document, place)


def _read_list(loaded: Loaded, document: Located, kind: str, model: type[BaseModel], data: Any, place: Place) -> None:
    if not isinstance(data, list):
        loaded.faults.append(Fault(document.mark(place), "form", f"{kind} is a list of entries", "start each with - id"))
        return
    for index, item in enumerate(data):
        _read_entry(loaded, document, kind, model, item, (*place, index))


def _read_scale(loaded: Loaded, document: Located, data: Any) -> None:
    try:
        loaded.scale = entries.Scale.model_validate(data)
    except ValidationError as error:
        loaded.faults.extend(model_faults(error, document, ("scale",), entries.Scale))


def _read_stories(loaded: Loaded, document: Located, data: Any) -> None:
    for index, item in enumerate(data if isinstance(data, list) else []):
        place: Place = ("stories", index)
        try:
            story = entries.Story.model_validate(item)
        except ValidationError as error:
            loaded.faults.extend(model_faults(error, document, place, entries.Story))
            continue
        loaded.stories.append((document, place, ToldStory(document.file, story)))


def _read_document(loaded: Loaded, document: Located) -> None:
    if not isinstance(document.data, dict):
        loaded.faults.append(Fault(Mark(document.file), "form", "the file is a mapping", f"start with {', '.join(KINDS)}"))
        return
    for key, data in document.data.items():
        if key in KINDS:
            _read_list(loaded, document, key, KINDS[key], data, (key,))
        elif key == "scale":
            _read_scale(loaded, document, data)
        elif key == "stories":
            _read_stories(loaded, document, data)
        elif key == "materials" and isinstance(data, dict):
            for name, items in data.items():
                if name in MATERIALS:
                    _read_list(loaded, document, name, MATERIALS[name], items, (key, name))
                else:
                    hint = nearest(name, MATERIALS)
                    loaded.faults.append(Fault(document.key_mark((key, name)), "unknown-key", f"{name} is no kind", hint))
        else:
            hint = nearest(key, [*KINDS, "scale", "stories", "materials"])
            loaded.faults.append(Fault(document.key_mark((key,)), "unknown-key", f"{key} is no kind of entry", hint))


def load_rules(folder: Path) -> Loaded:
    """Everything in the rules folder, with the faults of form that were met.

    Raises FaultsFound only when the folder itself cannot be read.
    """
    if not folder.is_dir():
        raise FaultsFound([Fault(Mark(str(folder)), "missing-folder", "there is no rules folder here")])
    loaded = Loaded()
    files = rule_files(folder)
    loaded.version = version_of(folder, files)
    for path in files:
        name = (Path(folder.name) / path.relative_to(folder)).as_posix()
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError as error:
            loaded.faults.append(Fault(Mark(name), "not-text", f"not UTF-8 at byte {error.start}", "save it as UTF-8"))
            continue
        if path.suffix == ".csv":
            if path.relative_to(folder).as_posix() == WOODS_FILE:
                loaded.woods = read_woods(text)
            continue
        try:
            _read_document(loaded, read_located(text, name))
        except FaultsFound as found:
            loaded.faults.extend(found.faults)
    if loaded.scale is None and not loaded.faults:
        loaded.faults.append(Fault(Mark(f"{folder.name}/scale.yaml"), "missing", "there is no scale", "write scale.yaml"))
    return loaded
