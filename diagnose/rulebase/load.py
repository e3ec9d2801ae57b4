"""Reads the rules folder: every file of YAML into entries, with the place of each, and every fault of form at once."""

import csv
import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from diagnose.rulebase import entries
from diagnose.rulebase.entries.base import Entry
from diagnose.rulebase.fault import Fault, FaultsFound, Mark, nearest
from diagnose.rulebase.knowledge import Knowledge, ToldStory
from diagnose.rulebase.located import Located, collecting_later, read_located
from diagnose.rulebase.located import Path as Place
from diagnose.rulebase.model_faults import model_faults
from diagnose.rulebase.woods import Wood, WoodsError, read_woods

AnyEntry = type[Entry] | type[entries.Source]

# Top-level key of a file → what its entries are.
KINDS: dict[str, AnyEntry] = {
    "signs": entries.Sign,
    "causes": entries.Cause,
    "methods": entries.Method,
    "steps": entries.Step,
    "logic": entries.Rule,
    "findings": entries.Finding,
    "cautions": entries.Caution,
    "pieces": entries.Piece,
    "plates": entries.Plate,
    "sources": entries.Source,
}
MATERIALS: dict[str, AnyEntry] = {
    "consumables": entries.Consumable,
    "adhesives": entries.Adhesive,
    "finishes": entries.Finish,
    "spot_tests": entries.SpotTest,
    "staining": entries.Staining,
    "respirators": entries.Respirator,
}
WOODS_FILE = "materials/woods.csv"
# Endings that a person may well give a file of the rule base, and that are not read.
MISSPELT = (".yml", ".csv")


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


def _named(folder: Path, inside: str) -> str:
    """The name of a file as faults say it: from the rules folder on."""
    return (Path(folder.name) / inside).as_posix()


def rule_files(folder: Path) -> dict[str, bytes]:
    """Every file of the rule base, by its path inside the folder, in a fixed order. Hidden files are not of it.

    Raises FaultsFound for a file that cannot be read.
    """
    found = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.suffix not in (".yaml", *MISSPELT) or path.name.startswith(".") or path.is_dir():
            continue
        try:
            found[name] = path.read_bytes()
        except OSError as error:
            reason = (error.strerror or type(error).__name__).lower()
            mark = Mark(_named(folder, name))
            raise FaultsFound([Fault(mark, "unreadable", f"cannot be read: {reason}")]) from None
    return found


def version_of(files: Mapping[str, bytes]) -> str:
    """Twelve characters that change whenever any file of the rule base does.

    >>> version_of({"a.yaml": b"x"}) == version_of({"a.yaml": b"y"})
    False
    """
    digest = hashlib.sha256()
    for name, content in files.items():
        digest.update(b"%d %d " % (len(name.encode()), len(content)) + name.encode() + content)
    return digest.hexdigest()[:12]


def _read_entry(loaded: Loaded, document: Located, kind: str, model: AnyEntry, data: Any, place: Place) -> None:
    try:
        entry = model.model_validate(data)
    except ValidationError as error:
        loaded.faults.extend(model_faults(error, document, place, model))
        return
    entry_id = entry.id
    if entry_id in loaded.found[kind]:
        first = loaded.mark(kind, entry_id)
        mark = document.mark((*place, "id"))
        loaded.faults.append(Fault(mark, "duplicate", f"{entry_id} is already given at {first}", "ids are used once"))
        return
    loaded.found[kind][entry_id] = entry
    loaded.places[(kind, entry_id)] = (document, place)


def _read_list(loaded: Loaded, document: Located, kind: str, model: AnyEntry, data: Any, place: Place) -> None:
    if not isinstance(data, list):
        message = f"{kind} is a list of entries"
        loaded.faults.append(Fault(document.mark(place), "form", message, "start each with - id"))
        return
    for index, item in enumerate(data):
        _read_entry(loaded, document, kind, model, item, (*place, index))


def _read_scale(loaded: Loaded, document: Located, data: Any) -> None:
    if loaded.scale is not None:
        first = loaded.places[("scale", "scale")][0].key_mark(("scale",))
        mark = document.key_mark(("scale",))
        loaded.faults.append(Fault(mark, "duplicate", f"the scale is already given at {first}", "keep one of them"))
        return
    loaded.places[("scale", "scale")] = (document, ("scale",))
    try:
        loaded.scale = entries.Scale.model_validate(data)
    except ValidationError as error:
        loaded.faults.extend(model_faults(error, document, ("scale",), entries.Scale))


def _read_stories(loaded: Loaded, document: Located, data: Any) -> None:
    if not isinstance(data, list):
        mark = document.mark(("stories",))
        loaded.faults.append(Fault(mark, "form", "stories is a list of stories", "start each with - name"))
        return
    for index, item in enumerate(data):
        place: Place = ("stories", index)
        try:
            story = entries.Story.model_validate(item)
        except ValidationError as error:
            loaded.faults.extend(model_faults(error, document, place, entries.Story))
            continue
        loaded.stories.append((document, place, ToldStory(document.file, story)))


def _read_document(loaded: Loaded, document: Located) -> None:
    if not isinstance(document.data, dict):
        hint = f"start with {', '.join(KINDS)}"
        loaded.faults.append(Fault(Mark(document.file), "form", "the file is a mapping", hint))
        return
    for key, data in document.data.items():
        if key in KINDS:
            _read_list(loaded, document, key, KINDS[key], data, (key,))
        elif key == "scale":
            _read_scale(loaded, document, data)
        elif key == "stories":
            _read_stories(loaded, document, data)
        elif key == "materials":
            if not isinstance(data, dict):
                hint = f"start with {', '.join(MATERIALS)}"
                loaded.faults.append(Fault(document.mark((key,)), "form", "materials is a mapping of lists", hint))
                continue
            for name, items in data.items():
                if name in MATERIALS:
                    _read_list(loaded, document, name, MATERIALS[name], items, (key, name))
                else:
                    mark, hint = document.key_mark((key, name)), nearest(name, MATERIALS)
                    loaded.faults.append(Fault(mark, "unknown-key", f"{name} is no kind", hint))
        else:
            hint = nearest(key, [*KINDS, "scale", "stories", "materials"])
            loaded.faults.append(Fault(document.key_mark((key,)), "unknown-key", f"{key} is no kind of entry", hint))


def _read_woods(loaded: Loaded, text: str, name: str) -> None:
    try:
        loaded.woods = read_woods(text)
    except (WoodsError, csv.Error) as error:
        line = re.search(r"line (\d+)", str(error))
        loaded.faults.append(Fault(Mark(name, int(line[1]) if line else 1), "woods", str(error)))


@collecting_later()
def load_rules(folder: Path) -> Loaded:
    """Everything in the rules folder, with the faults of form that were met.

    Raises FaultsFound only when the folder itself, or a file of it, cannot be read.
    """
    if not folder.is_dir():
        raise FaultsFound([Fault(Mark(str(folder)), "missing-folder", "there is no rules folder here")])
    files = rule_files(folder)
    loaded = Loaded(version=version_of(files))
    for inside, content in files.items():
        name = _named(folder, inside)
        if inside.endswith(MISSPELT) and inside != WOODS_FILE:
            hint = f"files of the rule base end in .yaml, the woods lie in {WOODS_FILE}"
            loaded.faults.append(Fault(Mark(name), "not-read", "this file is not read", hint))
            continue
        try:
            text = content.decode("utf-8")
        except UnicodeDecodeError as error:
            loaded.faults.append(Fault(Mark(name), "not-text", f"not UTF-8 at byte {error.start}", "save it as UTF-8"))
            continue
        if inside == WOODS_FILE:
            _read_woods(loaded, text, name)
            continue
        try:
            _read_document(loaded, read_located(text, name))
        except FaultsFound as found:
            loaded.faults.extend(found.faults)
    if loaded.scale is None and not loaded.faults:
        mark = Mark(_named(folder, "scale.yaml"))
        loaded.faults.append(Fault(mark, "missing", "there is no scale", "write scale.yaml"))
    return loaded
