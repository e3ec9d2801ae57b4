"""One entry for the terminal: the page of it, or the section, or the plate."""

from collections.abc import Iterator

from diagnose.documents.fieldguide.blocks import (
    Entries,
    Link,
    Page,
    Para,
    Section,
    items,
    plain_text,
    present,
    section,
    walk,
)
from diagnose.documents.fieldguide.book import Book
from diagnose.documents.fieldguide.to_text import SHOWN, as_text


def _kind_and_id(ref: str) -> tuple[str, str]:
    kind, _, name = ref.partition(":")
    return kind, name


def _entries(page: Page) -> Iterator[tuple[str, str, tuple[Section | Para, ...]]]:
    """What a page holds besides itself: ref, title and what is said."""
    for block in walk(page.blocks):
        if isinstance(block, Section) and block.ref:
            yield block.ref, block.title, tuple(b for b in (Section(block.title, block.blocks),))
        elif isinstance(block, Entries):
            for ref, name, said in block.rows:
                yield ref, plain_text(name), (Para(said),)


def ids(book: Book) -> frozenset[str]:
    """Every id that can be shown."""
    return frozenset(name for kind, name in map(_kind_and_id, book.shelf.places) if kind in SHOWN)


def _plate(book: Book, plate: str, width: int) -> str:
    picture = book.stock.pictures[plate]
    shown = []
    for sign in book.stock.knowledge.signs.values():
        shown += [
            (Link(sign.ask or sign.id, f"sign:{sign.id}"), f": {sign.say(name)}")
            for name, r in sign.readings.items()
            if r.plate == plate
        ]
    drawn = Para((picture.alt,)) if picture.svg else Para(("Not drawn yet.",))
    return as_text(picture.caption, present(drawn, section("Shows", items(shown))), width)


def shown(book: Book, entry_id: str, width: int) -> list[str]:
    """Every entry of this id as text, `width` letters wide; nothing where there is none."""
    found = [
        as_text(page.title, page.blocks, width)
        for page in book.pages
        if _kind_and_id(page.ref)[1] == entry_id and _kind_and_id(page.ref)[0] in SHOWN
    ]
    for page in book.pages:
        for ref, title, blocks in _entries(page):
            kind, name = _kind_and_id(ref)
            if name == entry_id and kind in SHOWN and kind != "plate":
                inside = blocks[0].blocks if isinstance(blocks[0], Section) else blocks
                found.append(as_text(title, inside, width))
    if entry_id in book.stock.pictures:
        found.append(_plate(book, entry_id, width))
    return found
