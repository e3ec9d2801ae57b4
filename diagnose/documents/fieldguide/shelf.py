"""Where everything lies: the path and the anchor of every name that a link may use."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from posixpath import dirname, relpath

from diagnose.documents.fieldguide.blocks import Entries, Figure, Page, Section, anchor, walk


@dataclass(frozen=True)
class Shelf:
    """Path and anchor by name, and the words of the glossary with their anchors."""

    places: Mapping[str, tuple[str, str]]
    terms: Mapping[str, str]

    def href(self, ref: str, here: str) -> str:
        """The relative address of a name from the page at `here`. An unknown name stays as it is, for the check to find.

        >>> Shelf({"cause:x": ("cause/x.html", "")}, {}).href("cause:x", "sign/y.html")
        '../cause/x.html'
        """
        if ref not in self.places:
            return ref
        path, place = self.places[ref]
        if path == here and place:
            return f"#{place}"
        return relative(path, here) + (f"#{place}" if place else "")


def relative(path: str, here: str) -> str:
    """The way from one page to another file.

    >>> relative("index.html", "sign/a.html")
    '../index.html'
    """
    return _from_folder(path, dirname(here) or ".")


@lru_cache(maxsize=20_000)
def _from_folder(path: str, folder: str) -> str:
    return relpath(path, folder)


def shelve(pages: Iterable[Page], terms: Mapping[str, str]) -> Shelf:
    """The places of all pages and of all entries in them. The first page that holds an entry is its home."""
    places: dict[str, tuple[str, str]] = {}
    listed = list(pages)
    for page in listed:
        places[page.ref] = (page.path, "")
    for page in listed:
        for block in walk(page.blocks):
            if isinstance(block, (Section, Figure)) and block.ref:
                places.setdefault(block.ref, (page.path, anchor(block.ref)))
            elif isinstance(block, Entries):
                for ref, _, _ in block.rows:
                    places.setdefault(ref, (page.path, anchor(ref)))
    return Shelf(places, terms)
