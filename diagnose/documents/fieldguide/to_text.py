"""Pages as text for the terminal: the same blocks, wrapped, with the id of every entry that can be shown behind its words."""

import textwrap

from diagnose.documents.fieldguide.blocks import (
    Block,
    Box,
    Entries,
    Facts,
    Figure,
    Gallery,
    Html,
    Items,
    Link,
    Para,
    Phrase,
    Section,
    Strong,
    Table,
    Tag,
    Weights,
)
from diagnose.documents.fieldguide.told import signed

# Kinds of which the terminal shows a single entry.
SHOWN = frozenset(
    {
        "adhesive",
        "cause",
        "caution",
        "consumable",
        "finding",
        "finish",
        "method",
        "part",
        "piece",
        "plate",
        "rule",
        "sign",
        "step",
        "wood",
    }
)
_MARKS = ("=", "-", "")


def said(words: Phrase) -> str:
    """A phrase; behind a link to an entry its id, as `guide show` takes it."""
    found = ""
    for part in words:
        if isinstance(part, str):
            found += part
        elif isinstance(part, Link):
            kind, _, name = part.to.partition(":")
            found += f"{part.text} [{name}]" if kind in SHOWN else part.text
        elif isinstance(part, Tag):
            found += part.text if part.kind == "list" else f"({part.text})"
        elif isinstance(part, Strong):
            found += part.text
    return found


def _wrapped(text: str, width: int, first: str = "", further: str = "") -> str:
    return textwrap.fill(
        text, width, initial_indent=first, subsequent_indent=further, break_long_words=False, break_on_hyphens=False
    )


def _row(parts: list[str], width: int) -> str:
    return _wrapped("; ".join(part for part in parts if part), width, "  - ", "    ")


def _block(block: Block, width: int, depth: int) -> list[str]:
    if isinstance(block, Para):
        return [_wrapped(said(block.words), width), ""]
    if isinstance(block, Items):
        marks = [f"{number}. " if block.numbered else "- " for number in range(block.start, block.start + len(block.items))]
        rows = [
            _wrapped(said(item), width, "  " + mark, "  " + " " * len(mark))
            for mark, item in zip(marks, block.items, strict=True)
        ]
        return [*rows, ""]
    if isinstance(block, Facts):
        return [*(_wrapped(f"{what}: {said(words)}", width, "  ", "    ") for what, words in block.rows), ""]
    if isinstance(block, Entries):
        return [*(_wrapped(f"{said(name)}: {said(words)}", width, "  ", "    ") for _, name, words in block.rows), ""]
    if isinstance(block, Table):
        rows = []
        for first, *rest in block.rows:
            cells = [f"{head.lower()}: {said(cell)}" for head, cell in zip(block.head[1:], rest, strict=True)]
            rows.append(_row([said(first), *cells], width))
        return [_wrapped(f"{block.caption}:", width), *rows, ""]
    if isinstance(block, Weights):
        rows = [f"  {signed(row.decibels):>9}  {said(row.words)} ({said(row.note)})" for row in block.rows]
        return [
            _wrapped(f"{block.caption}:", width),
            *(_wrapped(row.strip(), width, " " * (len(row) - len(row.lstrip())), " " * 13) for row in rows),
            "",
        ]
    if isinstance(block, Figure):
        return [_wrapped(f"{said(block.words)}: {block.picture.alt}", width - 2, "  [ ", "    ") + " ]", ""]
    if isinstance(block, Gallery):
        return [line for figure in block.figures for line in _block(figure, width, depth)[:-1]] + [""]
    if isinstance(block, Box):
        return [
            f"! {block.title}",
            *(f"! {line}".rstrip() for line in "\n".join(_blocks(block.blocks, width - 2, depth)).strip().splitlines()),
            "",
        ]
    if isinstance(block, Html):
        return [_wrapped(block.text, width), ""]
    return _section(block, width, depth)


def _section(block: Section, width: int, depth: int) -> list[str]:
    title = _wrapped(block.title, width)
    mark = _MARKS[min(depth, len(_MARKS) - 1)]
    under = [mark * min(width, len(title.splitlines()[-1]))] if mark else []
    return [title, *under, *_blocks(block.blocks, width, depth + 1)]


def _blocks(blocks: tuple[Block, ...], width: int, depth: int) -> list[str]:
    return [line for block in blocks for line in _block(block, width, depth)]


def as_text(title: str, blocks: tuple[Block, ...], width: int = 88) -> str:
    """An entry for the terminal, `width` letters wide.

    >>> print(as_text("Kerf", (Para(("The slot that a saw leaves.",)),)), end="")
    Kerf
    ====
    <BLANKLINE>
    The slot that a saw leaves.
    """
    head = _wrapped(title, width)
    lines = [head, "=" * min(width, len(head.splitlines()[-1])), "", *_blocks(blocks, width, 1)]
    return "\n".join(lines).rstrip() + "\n"
