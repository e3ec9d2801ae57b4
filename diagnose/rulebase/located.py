"""Reads YAML into plain text, lists and mappings that still know where they stood.

Every scalar stays the text that was written (`no`, `1:30` and `012` are not turned into something else); aliases, tags, duplicate
keys, excessive size and depth are refused. Two traps silently lose prose and are named: a comma inside braces, and a ` #`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from diagnose.rulebase.fault import Fault, FaultsFound, Mark

MAX_BYTES = 1_000_000
MAX_DEPTH = 16
Plain = str | list["Plain"] | dict[str, "Plain"] | None
Path = tuple[str | int, ...]

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
HAS_LIBYAML = hasattr(yaml, "CSafeLoader")


@dataclass(frozen=True)
class Located:
    """A document as plain data, with the mark of every value and every key."""

    file: str
    data: Plain
    values: dict[Path, Mark] = field(repr=False)
    keys: dict[Path, Mark] = field(repr=False)

    def mark(self, path: Path) -> Mark:
        """The mark of the value at `path`, or of the nearest thing above it that exists."""
        for length in range(len(path), -1, -1):
            found = self.values.get(path[:length])
            if found is not None:
                return found
        return Mark(self.file)

    def key_mark(self, path: Path) -> Mark:
        """The mark of the key at `path` (falls back to the value)."""
        return self.keys.get(path) or self.mark(path)


def _too_deep(text: str) -> bool:
    depth = deepest = 0
    for character in text:
        if character in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif character in "]}":
            depth = max(0, depth - 1)
    longest_indent = max((len(line) - len(line.lstrip(" ")) for line in text.splitlines()), default=0)
    return deepest > 200 or longest_indent > 400


def _compose(text: str, file: str) -> yaml.Node | None:
    if len(text.encode("utf-8", "replace")) > MAX_BYTES:
        raise FaultsFound([Fault(Mark(file), "too-large", f"larger than {MAX_BYTES} bytes", "split the file")])
    if _too_deep(text):
        raise FaultsFound([Fault(Mark(file), "too-deep", f"nested deeper than {MAX_DEPTH} levels")])
    try:
        return yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        place = error.problem_mark or error.context_mark
        mark = Mark(file, place.line + 1, place.column + 1) if place else Mark(file)
        problem = (error.problem or error.context or "not YAML").replace("\n", " ")
        raise FaultsFound([Fault(mark, "yaml", f"not YAML: {problem}", _yaml_hint(problem))]) from None
    except (yaml.YAMLError, RecursionError, ValueError) as error:
        first = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise FaultsFound([Fault(Mark(file), "yaml", f"not YAML: {first}")]) from None


def _yaml_hint(problem: str) -> str:
    if "mapping values are not allowed" in problem:
        return "a text that holds a colon needs quotes round it"
    if "tab" in problem or "\\t" in problem:
        return "indent with spaces, not tabs"
    if "alias" in problem:
        return "write the value out; aliases are not used here"
    return ""


class _Reader:
    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.lines = text.splitlines()
        self.values: dict[Path, Mark] = {}
        self.keys: dict[Path, Mark] = {}
        self.faults: list[Fault] = []
        self.seen: set[int] = set()

    def mark(self, node: yaml.Node) -> Mark:
        return Mark(self.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def fault(self, node: yaml.Node, code: str, message: str, hint: str = "") -> None:
        self.faults.append(Fault(self.mark(node), code, message, hint))

    def read(self, node: yaml.Node, path: Path) -> Plain:
        self.values[path] = self.mark(node)
        if id(node) in self.seen:
            self.fault(node, "alias", "an alias (*name) stands here", "write the value out; aliases are not used here")
            return None
        self.seen.add(id(node))
        if len(path) > MAX_DEPTH:
            self.fault(node, "too-deep", f"nested deeper than {MAX_DEPTH} levels")
            return None
        if node.tag.startswith("!") or not node.tag.startswith("tag:yaml.org,2002:"):
            self.fault(node, "tag", f"a tag ({node.tag}) stands here", "leave it out; the entry's own kind gives the type")
            return None
        if isinstance(node, yaml.MappingNode):
            return dict(self._items(node, path))
        if isinstance(node, yaml.SequenceNode):
            return [self.read(child, (*path, index)) for index, child in enumerate(node.value)]
        return self._scalar(node)

    def _items(self, node: yaml.MappingNode, path: Path) -> Iterator[tuple[str, Plain]]:
        known: set[str] = set()
        for key_node, value_node in node.value:
            if not isinstance(key_node, yaml.ScalarNode):
                self.fault(key_node, "key", "a key must be a single word")
                continue
            key = str(key_node.value)
            if key in known:
                self.fault(key_node, "duplicate-key", f"{key} is given twice here", "keep one of them")
                continue
            known.add(key)
            self.keys[(*path, key)] = self.mark(key_node)
            empty = isinstance(value_node, yaml.ScalarNode) and value_node.value == "" and not value_node.style
            if empty and node.flow_style:
                self.fault(
                    key_node,
                    "prose-in-braces",
                    f"the text after a comma ({key}) would be lost: prose stands inside braces",
                    "give the text a line of its own",
                )
                continue
            yield key, self.read(value_node, (*path, key))

    def _scalar(self, node: yaml.Node) -> str | None:
        if not node.style:
            line = self.lines[node.end_mark.line] if node.end_mark.line < len(self.lines) else ""
            rest = line[node.end_mark.column :]
            if " " in str(node.value) and rest.lstrip().startswith("#") and rest[:1] in " \t":
                self.faults.append(
                    Fault(
                        Mark(self.file, node.end_mark.line + 1, node.end_mark.column + rest.index("#") + 1),
                        "comment-in-prose",
                        "everything after # is lost",
                        "put the text in quotes, or the comment on a line of its own",
                    )
                )
            if node.value in ("", "~", "null"):
                return None
        return str(node.value)


def read_located(text: str, file: str) -> Located:
    """Plain data with marks from the YAML `text` of `file`.

    Raises FaultsFound with every fault of form. An empty document is a fault.

    >>> document = read_located("a:\\n  b: no\\n", "x.yaml")
    >>> document.data, str(document.mark(("a", "b")))
    ({'a': {'b': 'no'}}, 'x.yaml:2:6')
    """
    node = _compose(text, file)
    if node is None:
        raise FaultsFound([Fault(Mark(file), "empty", "the file is empty")])
    reader = _Reader(text, file)
    data = reader.read(node, ())
    if reader.faults:
        raise FaultsFound(reader.faults)
    return Located(file, data, reader.values, reader.keys)
