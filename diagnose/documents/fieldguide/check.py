"""What is wrong with a finished site, from its files alone: links, plates, orphans, ids, headings, tables."""

import html
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from posixpath import dirname, join, normpath

FRONT = "index.html"
TABLE = "table"  # the element
_SCHEME = re.compile(r"^[a-z][a-z0-9+.-]*:", re.IGNORECASE)
_LOADS = {"link": "href", "script": "src", "img": "src", "iframe": "src", "source": "src", "object": "data"}


@dataclass
class _Table:
    caption: bool = False
    headed: bool = False
    unscoped: int = 0


@dataclass
class _Read(HTMLParser):
    """What matters of one page."""

    links: list[str] = field(default_factory=list)
    loads: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    levels: list[int] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    blind: int = 0
    tables: list[_Table] = field(default_factory=list)
    open_tables: list[_Table] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = {name: value or "" for name, value in attrs}
        if "id" in held:
            self.ids.append(held["id"])
        if "data-missing-plate" in held:
            self.missing.append(held["data-missing-plate"])
        if tag in ("a", "form") and ("href" in held or "action" in held):
            self.links.append(held.get("href", held.get("action", "")))
        if tag in _LOADS and _LOADS[tag] in held:
            self.loads.append(held[_LOADS[tag]])
        if tag == "img" and not held.get("alt"):
            self.blind += 1
        if re.fullmatch(r"h[1-6]", tag):
            self.levels.append(int(tag[1]))
        self._table(tag, held)

    def _table(self, tag: str, held: Mapping[str, str]) -> None:
        if tag == TABLE:
            self.tables.append(_Table())
            self.open_tables.append(self.tables[-1])
        elif self.open_tables:
            here = self.open_tables[-1]
            here.caption |= tag == "caption"
            here.headed |= tag == "th"
            here.unscoped += tag == "th" and held.get("scope") not in ("col", "row")

    def handle_endtag(self, tag: str) -> None:
        if tag == TABLE and self.open_tables:
            self.open_tables.pop()


def _read(text: str) -> _Read:
    reader = _Read()
    reader.feed(text)
    reader.close()
    return reader


def _target(path: str, link: str) -> tuple[str, str]:
    """The file and the anchor that a link of the page at `path` leads to."""
    where, _, place = link.partition("#")
    where = where.partition("?")[0]
    return (normpath(join(dirname(path), where)) if where else path), html.unescape(place)


def _of_links(path: str, read: _Read, files: Mapping[str, str], ids: Mapping[str, frozenset[str]]) -> Iterator[str]:
    for link in dict.fromkeys(read.links):
        if re.match(r"(https?:)?//", link, re.IGNORECASE):
            yield f"{path}: a link leads outside: {link}"
        elif _SCHEME.match(link):
            yield f"{path}: a link to an unknown entry: {link}"
        else:
            file, place = _target(path, link)
            if file not in files:
                yield f"{path}: a broken link: {link}"
            elif place and place not in ids.get(file, frozenset()):
                yield f"{path}: no such place: {link}"
    for link in dict.fromkeys(read.loads):
        if _SCHEME.match(link) or link.startswith("//"):
            what = "an unknown plate" if link.startswith("plate:") else "something from outside"
            yield f"{path}: loads {what}: {link}"
        elif _target(path, link)[0] not in files:
            yield f"{path}: loads a file that is not there: {link}"


def _of_form(path: str, read: _Read) -> Iterator[str]:
    for name in sorted({name for name in read.ids if read.ids.count(name) > 1}) if len(set(read.ids)) < len(read.ids) else ():
        yield f"{path}: an id is used twice: {name}"
    if read.levels[:1] != [1] or read.levels.count(1) != 1:
        yield f"{path}: a page has one heading of the first level, and it comes first"
    for above, level in zip(read.levels, read.levels[1:], strict=False):
        if level > above + 1:
            yield f"{path}: a heading of level {level} follows one of level {above}"
            break
    for table in read.tables:
        if not table.caption:
            yield f"{path}: a table has no caption"
        if table.unscoped or not table.headed:
            yield f"{path}: a table has headings without scope, or none"
    if read.blind:
        yield f"{path}: {read.blind} pictures have no words for who cannot see them"
    for plate in dict.fromkeys(read.missing):
        yield f"{path}: a plate is missing: {plate}"


def _reached(reads: Mapping[str, _Read]) -> set[str]:
    """The pages that links lead to, from the front page on."""
    found, waiting = {FRONT}, [FRONT]
    while waiting:
        path = waiting.pop()
        for link in reads[path].links:
            if not _SCHEME.match(link):
                file = _target(path, link)[0]
                if file in reads and file not in found:
                    found.add(file)
                    waiting.append(file)
    return found


def faults(files: Mapping[str, str]) -> list[str]:
    """Everything wrong with a site, one line each, sorted by page."""
    reads = {path: _read(text) for path, text in files.items() if path.endswith(".html")}
    if FRONT not in reads:
        return [f"{FRONT}: there is no front page"]
    ids = {path: frozenset(read.ids) for path, read in reads.items()}
    found = []
    for path, read in reads.items():
        found += [*_of_links(path, read, files, ids), *_of_form(path, read)]
    found += [f"{path}: an orphan: no way leads here from the front page" for path in reads.keys() - _reached(reads)]
    return sorted(found)
