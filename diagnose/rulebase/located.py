"""Reads YAML into plain text, lists and mappings that still know where they stood.

Every scalar stays the text that was written (`no`, `1:30` and `012` are not turned into something else); anchors,
aliases, tags, duplicate keys, excessive size and depth are refused. Two traps silently lose prose and are named: a
comma inside braces, and a ` #`.

The parser's events are read, not its nodes: nodes are built by recursion, which PyYAML 6.0.1 follows until the stack
ends and the interpreter with it, and they do not say where an alias stood or whether a tag was written.
"""

import gc
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from typing import Protocol

import yaml

from diagnose.rulebase.fault import Fault, FaultsFound, Mark

MAX_BYTES = 1_000_000
MAX_VALUES = 25_000
MAX_DEPTH = 16
Plain = str | list["Plain"] | dict[str, "Plain"] | None
Path = tuple[str | int, ...]

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_COMMENT = re.compile(r"[ \t]+(?=#)")


class _Place(Protocol):
    """Where the parser stood; lines and columns count from 0."""

    line: int
    column: int


@dataclass(frozen=True)
class Located:
    """A document as plain data, with the parser's place of every value and every key (made a Mark only when asked for: few are)."""

    file: str
    data: Plain
    values: dict[Path, _Place] = field(repr=False)
    keys: dict[Path, _Place] = field(repr=False)

    def mark(self, path: Path) -> Mark:
        """The mark of the value at `path`, or of the nearest thing above it that exists."""
        for length in range(len(path), -1, -1):
            found = self.values.get(path[:length])
            if found is not None:
                return Mark(self.file, found.line + 1, found.column + 1)
        return Mark(self.file)

    def key_mark(self, path: Path) -> Mark:
        """The mark of the key at `path` (falls back to the value)."""
        found = self.keys.get(path)
        return self.mark(path) if found is None else Mark(self.file, found.line + 1, found.column + 1)


def _yaml_hint(problem: str) -> str:
    if "mapping values are not allowed" in problem:
        return "a text that holds a colon needs quotes round it"
    if "end of stream" in problem:
        return "close the quote or the bracket that begins here"
    if "alias" in problem:
        return "write the value out; aliases are not used here"
    if "could not find expected ':'" in problem:
        return "a name needs a colon and a space behind it"
    if "did not find expected" in problem:
        return "lines of one entry begin in the same column, and a quote or bracket above may still be open"
    return ""


class _Reader:
    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.lines = text.splitlines()
        self.values: dict[Path, _Place] = {}
        self.keys: dict[Path, _Place] = {}
        self.faults: list[Fault] = []
        self.read_so_far = 0
        self.get_event: Callable[[], yaml.Event] = _LOADER(text).get_event

    def mark(self, event: yaml.Event) -> Mark:
        assert event.start_mark is not None
        return self.at(event.start_mark.line, event.start_mark.column)

    def at(self, line: int, column: int) -> Mark:
        return Mark(self.file, line + 1, column + 1)

    def line(self, number: int) -> str:
        return self.lines[number] if number < len(self.lines) else ""

    def fault(self, event: yaml.Event, code: str, message: str, hint: str = "") -> None:
        self.faults.append(Fault(self.mark(event), code, message, hint))

    def next(self) -> yaml.Event:
        """The next event; a syntax error or too large a document ends the reading, with what was found before."""
        try:
            event = self.get_event()
        except yaml.MarkedYAMLError as error:
            raise FaultsFound([*self.faults, self.not_yaml(error)]) from None
        self.read_so_far += 1
        if self.read_so_far > MAX_VALUES:
            self.fault(event, "too-large", f"more than {MAX_VALUES} values in one file", "split the file")
            raise FaultsFound(self.faults)
        return event

    def not_yaml(self, error: yaml.MarkedYAMLError) -> Fault:
        problem = (error.problem or error.context or "not YAML").replace("\n", " ")
        place = error.problem_mark or error.context_mark
        if "end of stream" in problem and error.context_mark is not None:
            place = error.context_mark  # The quote or bracket that was never closed, not the end of the file.
        if place is None:
            return Fault(Mark(self.file), "yaml", f"not YAML: {problem}", _yaml_hint(problem))
        if place.line >= len(self.lines):  # Behind the end of the file: the last character is the nearest place in it.
            last = max(len(self.lines) - 1, 0)
            return Fault(self.at(last, len(self.line(last))), "yaml", f"not YAML: {problem}", _yaml_hint(problem))
        is_tab = self.line(place.line)[place.column : place.column + 1] == "\t"
        hint = "indent with spaces, not tabs" if is_tab else _yaml_hint(problem)
        return Fault(self.at(place.line, place.column), "yaml", f"not YAML: {problem}", hint)

    def document(self) -> Plain:
        event = self.next()
        while isinstance(event, yaml.StreamStartEvent | yaml.DocumentStartEvent):
            event = self.next()
        if isinstance(event, yaml.StreamEndEvent):
            raise FaultsFound([Fault(Mark(self.file), "empty", "the file is empty")])
        data = self.read(event, ())
        self.next()
        after = self.next()
        if not isinstance(after, yaml.StreamEndEvent):
            self.fault(after, "yaml", "not YAML of one document: another one begins here", "take the line --- out")
        return data

    def read(self, event: yaml.Event, path: Path) -> Plain:
        assert event.start_mark is not None
        self.values[path] = event.start_mark
        if self.refused(event):
            self.skip(event)
            return None
        if len(path) > MAX_DEPTH:
            raise self.too_deep(event)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, yaml.MappingStartEvent):
            return dict(self._items(event, path))
        return list(self._list(path))

    def refused(self, event: yaml.Event) -> bool:
        """Whether something stands before a value that the language does not have: an alias, an anchor or a tag."""
        anchor: str | None = getattr(event, "anchor", None)
        tag: str | None = getattr(event, "tag", None)
        if anchor is None and tag is None:
            return False
        if isinstance(event, yaml.AliasEvent):
            self.fault(
                event, "alias", f"an alias (*{str(anchor)[:40]}) stands here", "write the value out; aliases are not used here"
            )
        elif anchor is not None:
            hint = "put a text that begins with & in quotes"
            self.fault(event, "anchor", f"the name of an alias (&{anchor[:40]}) stands here", hint)
        else:
            hint = "leave it out; the entry's own kind gives the type"
            self.fault(event, "tag", f"a tag ({str(tag)[:40]}) stands here", hint)
        return True

    def too_deep(self, event: yaml.Event) -> FaultsFound:
        self.fault(event, "too-deep", f"nested deeper than {MAX_DEPTH} levels")
        return FaultsFound(self.faults)

    def skip(self, event: yaml.Event) -> None:
        """Passes over a whole value."""
        depth = int(isinstance(event, yaml.CollectionStartEvent))
        while depth:
            event = self.next()
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if depth > MAX_DEPTH:
                raise self.too_deep(event)

    def _list(self, path: Path) -> Iterator[Plain]:
        for index in count():
            event = self.next()
            if isinstance(event, yaml.SequenceEndEvent):
                return
            yield self.read(event, (*path, index))

    def _items(self, start: yaml.MappingStartEvent, path: Path) -> Iterator[tuple[str, Plain]]:
        known: set[str] = set()
        while not isinstance(key_event := self.next(), yaml.MappingEndEvent):
            usable = self._key_is_usable(key_event, known)
            value_event = self.next()
            if not usable:
                self.skip(value_event)
                continue
            assert isinstance(key_event, yaml.ScalarEvent)
            key = str(key_event.value)
            known.add(key)
            assert key_event.start_mark is not None
            self.keys[(*path, key)] = key_event.start_mark
            empty = isinstance(value_event, yaml.ScalarEvent) and value_event.value == "" and not value_event.style
            if empty and start.flow_style:
                self.fault(
                    key_event,
                    "prose-in-braces",
                    f"the text after a comma ({key}) would be lost: prose stands inside braces",
                    "give the text a line of its own",
                )
                continue
            yield key, self.read(value_event, (*path, key))

    def _key_is_usable(self, event: yaml.Event, known: set[str]) -> bool:
        if self.refused(event):
            self.skip(event)
            return False
        if not isinstance(event, yaml.ScalarEvent):
            self.fault(event, "key", "a key must be a single word")
            self.skip(event)
            return False
        if event.value in known:
            self.fault(event, "duplicate-key", f"{event.value} is given twice here", "keep one of them")
            return False
        return True

    def _scalar(self, event: yaml.ScalarEvent) -> str | None:
        if not event.style:
            end = event.end_mark
            assert end is not None
            lost = _COMMENT.match(self.line(end.line), end.column) if " " in str(event.value) else None
            if lost is not None:
                hint = "put the text in quotes, or the comment on a line of its own"
                self.faults.append(Fault(self.at(end.line, lost.end()), "comment-in-prose", "everything after # is lost", hint))
            if event.value in ("", "~", "null"):
                return None
        return str(event.value)


@contextmanager
def collecting_later() -> Iterator[None]:
    """No garbage collection inside: everything read is kept, and the collector would walk it over and over for half of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _unreadable(text: str, file: str) -> Fault | None:
    """What keeps the parser from being started at all: size, and characters that are no text."""
    if len(text.encode("utf-8", "replace")) > MAX_BYTES:
        return Fault(Mark(file), "too-large", f"larger than {MAX_BYTES} bytes", "split the file")
    found = yaml.reader.Reader.NON_PRINTABLE.search(text)
    if found is None:
        return None
    before = (text[: found.start()] + "x").splitlines()
    message = f"the character U+{ord(found[0]):04X} is not text"
    return Fault(Mark(file, len(before), len(before[-1])), "not-text", message, "take it out")


@collecting_later()
def read_located(text: str, file: str) -> Located:
    """Plain data with marks from the YAML `text` of `file`.

    Raises FaultsFound with every fault of form. An empty document is a fault.

    >>> document = read_located("a:\\n  b: no\\n", "x.yaml")
    >>> document.data, str(document.mark(("a", "b")))
    ({'a': {'b': 'no'}}, 'x.yaml:2:6')
    """
    text = text.removeprefix("\ufeff")
    unreadable = _unreadable(text, file)
    if unreadable is not None:
        raise FaultsFound([unreadable])
    reader = _Reader(text, file)
    data = reader.document()
    if reader.faults:
        raise FaultsFound(reader.faults)
    return Located(file, data, reader.values, reader.keys)
