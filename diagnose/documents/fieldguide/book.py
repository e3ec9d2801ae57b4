"""The whole guide: from the rule base and the chapters to every file of it. Pure: the same input gives the same bytes."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files

from diagnose.damage_words import DAMAGE_WORDS
from diagnose.documents.fieldguide.blocks import Page
from diagnose.documents.fieldguide.causes import cause_list, cause_page
from diagnose.documents.fieldguide.chapters import (
    GLOSSARY,
    Term,
    chapter_pages,
    glossary_of,
    glossary_page,
    plates_in,
    term_anchors,
)
from diagnose.documents.fieldguide.conditions import part_ids
from diagnose.documents.fieldguide.front import front_page, index_page, search_page
from diagnose.documents.fieldguide.hazards import hazard_list, hazard_page
from diagnose.documents.fieldguide.library import source_page
from diagnose.documents.fieldguide.look import look_page
from diagnose.documents.fieldguide.materials import material_pages
from diagnose.documents.fieldguide.methods import method_list, method_page
from diagnose.documents.fieldguide.picture import piece_picture
from diagnose.documents.fieldguide.pieces import part_page, piece_list, piece_page
from diagnose.documents.fieldguide.rules import finding_page, rule_pages
from diagnose.documents.fieldguide.search import search_index
from diagnose.documents.fieldguide.shelf import Shelf, shelve
from diagnose.documents.fieldguide.signs import sign_list, sign_page
from diagnose.documents.fieldguide.steps import phase_pages, step_list
from diagnose.documents.fieldguide.stock import Stock, stock_of
from diagnose.documents.fieldguide.to_html import SEARCH, SEARCH_INDEX, STYLE, Writer
from diagnose.documents.fieldguide.troubles import trouble_page
from diagnose.documents.say import plain
from diagnose.rulebase.knowledge import Knowledge


@dataclass(frozen=True, eq=False)
class Book:
    """Every page before it is written, with what is needed to write it."""

    stock: Stock
    terms: tuple[Term, ...]
    pages: tuple[Page, ...]
    shelf: Shelf


def small_entries(stock: Stock, terms: tuple[Term, ...]) -> list[tuple[str, str, str]]:
    """What has a name and a place but no page of its own: name, kind, ref."""
    knowledge = stock.knowledge
    return [
        *((term.name, "term", term.ref) for term in terms),
        *((said.sought, "trouble", f"trouble:{damage}") for damage, said in DAMAGE_WORDS.items()),
        *((rule.called, "rule", f"rule:{rule.id}") for rule in knowledge.logic.values()),
        *((step.called, "step", f"step:{step.id}") for step in knowledge.steps.values()),
        *((wood.name, "wood", f"wood:{wood.id}") for wood in knowledge.woods.values()),
        *((one.name, "used up", f"consumable:{one.id}") for one in knowledge.consumables.values()),
    ]


def book_of(knowledge: Knowledge, chapters: Mapping[str, str]) -> Book:
    """All pages. `chapters` are Markdown texts by file name, the glossary among them under its own name."""
    stock = stock_of(knowledge, plates_in(chapters))
    terms = glossary_of(chapters.get(GLOSSARY, ""))
    written = chapter_pages(chapters, knowledge.sources)
    means = {word.lower(): term.means for term in terms for word in (term.name, *term.also)}
    pages = [
        trouble_page(stock),
        look_page(stock),
        piece_list(stock),
        *(piece_page(stock, piece) for piece in knowledge.pieces.values()),
        *(part_page(stock, part, means.get(plain(part), "")) for part in part_ids(knowledge)),
        sign_list(stock),
        *(sign_page(stock, sign) for sign in knowledge.signs.values()),
        cause_list(stock),
        *(cause_page(stock, cause) for cause in knowledge.causes.values()),
        method_list(stock),
        *(method_page(stock, method) for method in knowledge.methods.values()),
        step_list(stock),
        *phase_pages(stock),
        *material_pages(stock),
        hazard_list(stock),
        *(hazard_page(stock, caution) for caution in knowledge.cautions.values()),
        *rule_pages(stock),
        finding_page(stock),
        *written,
        glossary_page(terms),
        source_page(stock),
        search_page(),
    ]
    index = index_page(pages, small_entries(stock, terms))
    whole = (front_page(stock, written), *pages, index)
    return Book(stock, terms, whole, shelve(whole, term_anchors(terms)))


def own_file(name: str) -> str:
    """A file that lies beside this one: the style and the script."""
    return (files("diagnose.documents.fieldguide") / name).read_text(encoding="utf-8")


def pages(knowledge: Knowledge, chapters: Mapping[str, str]) -> Mapping[str, str]:
    """Every file of the site by its path: pages, plates, style, script and search index."""
    book = book_of(knowledge, chapters)
    found: dict[str, str] = {}
    for page in book.pages:
        if page.path in found:
            raise ValueError(f"two pages are called {page.path}")
        scripts = (SEARCH_INDEX, SEARCH) if page.kind == "search" else ()
        found[page.path] = Writer(page, book.shelf, book.stock.pictures, knowledge.version).whole(scripts)
    drawn = [*book.stock.pictures.values(), *(piece_picture(piece) for piece in knowledge.pieces.values())]
    found.update({picture.path: picture.svg for picture in drawn if picture is not None and picture.svg})
    also = {term.ref: term.also for term in book.terms} | {f"trouble:{kind}": said.also for kind, said in DAMAGE_WORDS.items()}
    found[SEARCH_INDEX] = search_index(book.pages, small_entries(book.stock, book.terms), book.shelf, also)
    return {**found, STYLE: own_file(STYLE), SEARCH: own_file(SEARCH)}
