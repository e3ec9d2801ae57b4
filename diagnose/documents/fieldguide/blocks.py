"""What a page is made of, before it is HTML or plain text: frozen blocks and phrases with links by name.

A link names its target by kind and id (`cause:some_id`), never by a path: where a page lies is decided in one place only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from diagnose.documents.fieldguide.picture import Picture


@dataclass(frozen=True)
class Link:
    """Words that lead to an entry: `to` is kind and id, as in `method:some_id`."""

    text: str
    to: str


@dataclass(frozen=True)
class Strong:
    """Words that stand out."""

    text: str


@dataclass(frozen=True)
class Tag:
    """A small label that qualifies what stands before it; `kind` is its look: hold, by, list, or nothing for the quiet one."""

    text: str
    kind: str = ""


Inline = str | Link | Strong | Tag
Phrase = tuple[Inline, ...]


def phrase(*parts: Inline | Phrase) -> Phrase:
    """One phrase of words and phrases.

    >>> phrase("see ", (Link("here", "term:x"), "."))
    ('see ', Link(text='here', to='term:x'), '.')
    """
    found: list[Inline] = []
    for part in parts:
        found.extend(part if isinstance(part, tuple) else (part,))
    return tuple(found)


def in_a_row(items: Iterable[Inline | Phrase], between: str = ", ", last: str | None = None) -> Phrase:
    """Items one after another; `last` stands before the last of them where it is given.

    >>> in_a_row(["glue", "wear", "damp"], last=" or ")
    ('glue', ', ', 'wear', ' or ', 'damp')
    """
    listed = list(items)
    found: list[Inline] = []
    for place, item in enumerate(listed):
        if place:
            found.append(last if last is not None and place == len(listed) - 1 else between)
        found.extend(phrase(item))
    return tuple(found)


def plain_text(words: Phrase) -> str:
    """A phrase without its links.

    >>> plain_text(("see ", Link("here", "term:x")))
    'see here'
    """
    return "".join(part if isinstance(part, str) else part.text for part in words)


@dataclass(frozen=True)
class Para:
    """A paragraph; `role` is lead, note, jump (a line of links within the page) or nothing."""

    words: Phrase
    role: str = ""


@dataclass(frozen=True)
class Items:
    """A list, numbered (from `start`) or not; `many` short ones may stand in columns."""

    items: tuple[Phrase, ...]
    numbered: bool = False
    start: int = 1
    many: bool = False


@dataclass(frozen=True)
class Facts:
    """Short facts: what, and what is so."""

    rows: tuple[tuple[str, Phrase], ...]


@dataclass(frozen=True)
class Entries:
    """Small entries that need no page of their own: ref, name, and what is said of it."""

    rows: tuple[tuple[str, Phrase, Phrase], ...]


@dataclass(frozen=True)
class Table:
    """A table; the first cell of each row is its heading."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Phrase, ...], ...]


@dataclass(frozen=True)
class Weight:
    """One bar: what it is about, its weight in decibels, and a word beside it."""

    words: Phrase
    decibels: float
    note: Phrase = ()


@dataclass(frozen=True)
class Weights:
    """Bars of weights under one caption; `head` names the columns where the caption does not say it all."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[Weight, ...]


@dataclass(frozen=True)
class Figure:
    """A picture with the words under it."""

    picture: Picture
    words: Phrase
    ref: str = ""


@dataclass(frozen=True)
class Gallery:
    """Pictures side by side."""

    figures: tuple[Figure, ...]


@dataclass(frozen=True)
class Box:
    """Something framed: a caution or a hold point."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Html:
    """Markup that is clean already (a chapter), with its plain text; links in it still go by name."""

    markup: str
    text: str
    anchors: tuple[str, ...] = ()


@dataclass(frozen=True)
class Section:
    """A heading and what stands under it; levels follow from the nesting. `ref` makes it an entry that can be linked."""

    title: str
    blocks: tuple[Block, ...]
    ref: str = ""


Block = Para | Items | Facts | Entries | Table | Weights | Figure | Gallery | Box | Html | Section


@dataclass(frozen=True)
class Page:
    """One page: `ref` its own name, `kind` a word for what it is, `up` the refs of the pages above it.

    `names` are the words under which the index lists it, `also` further words that the search knows.
    """

    ref: str
    path: str
    title: str
    kind: str
    blocks: tuple[Block, ...]
    up: tuple[Link, ...] = ()
    names: tuple[str, ...] = field(default=())
    also: tuple[str, ...] = field(default=())


def section(title: str, *blocks: Block | None, ref: str = "") -> Section | None:
    """A section of the blocks that there are; None where there is none."""
    there = tuple(block for block in blocks if block is not None)
    return Section(title, there, ref) if there else None


def jump_to(sections: Iterable[Section], between: str = " · ") -> Para:
    """A line at the head of a long page that leads to its sections; each of them has a name."""
    return Para(in_a_row([Link(part.title, part.ref) for part in sections], between=between), "jump")


def contents(sections: Iterable[Section]) -> Items:
    """The sections of a long page by name, at its head."""
    return Items(tuple((Link(part.title, part.ref),) for part in sections), many=True)


def present(*blocks: Block | None) -> tuple[Block, ...]:
    """The blocks that there are."""
    return tuple(block for block in blocks if block is not None)


def items(found: Iterable[Phrase], numbered: bool = False) -> Items | None:
    """A list, or None where there is nothing to list."""
    listed = tuple(found)
    return Items(listed, numbered) if listed else None


def many(found: Iterable[Phrase]) -> Items | None:
    """A list of short things, such as links, that may stand in columns; None where there is nothing to list."""
    listed = tuple(found)
    return Items(listed, many=True) if listed else None


def walk(blocks: Iterable[Block]) -> Iterator[Block]:
    """Every block, those inside others included."""
    for block in blocks:
        yield block
        if isinstance(block, (Box, Section)):
            yield from walk(block.blocks)
        elif isinstance(block, Gallery):
            yield from block.figures


def anchor(ref: str) -> str:
    """The id of an entry inside a page: its own name, which no other entry of the same page has (the check would find it).

    >>> anchor("rule:old_glue_goes"), anchor("reading:break_path.across_part")
    ('old_glue_goes', 'across_part')
    """
    return ref.partition(":")[2].rpartition(".")[2]
