"""The front page with every way in, the index from A to Z, and the page for searching."""

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Sequence

from diagnose import words
from diagnose.documents.fieldguide.blocks import (
    Block,
    Figure,
    Gallery,
    Html,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    in_a_row,
    items,
    phrase,
    present,
    section,
)
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.fieldguide.troubles import trouble_links
from diagnose.documents.say import first_up, plain

# The hazards that the front page names: those that most steps carry.
MOST_HAZARDS = 12
_ARTICLE = re.compile(r"^(an?|the) +")
SEARCH_FORM = (
    '<form role="search" action="search.html" method="get">\n'
    '<label for="words">What are you looking for?</label>\n'
    '<input type="search" id="words" name="q" autocomplete="off"> <button type="submit">Search</button>\n</form>'
)


def _samples(stock: Stock) -> Gallery | None:
    """The readings of the first sign of the break that is known by its look: what a stranger sees first."""
    shown = [sign for sign in stock.knowledge.signs.values() if any(reading.plate for reading in sign.readings.values())]
    first = next((sign for sign in shown if sign.station == "break"), shown[0] if shown else None)
    if first is None:
        return None
    return Gallery(
        tuple(
            Figure(stock.pictures[reading.plate], (Link(first.say(name), f"reading:{first.id}.{name}"),))
            for name, reading in first.readings.items()
            if reading.plate is not None
        )
    )


def _counted(kind: str, names: Sequence[str], said: Callable[[str], str], held: Sequence[str]) -> list[Phrase]:
    """Groups as links, each with how many entries it holds; empty ones are left out."""
    return [phrase(Link(first_up(said(name)), f"{kind}:{name}"), f" ({held.count(name)})") for name in names if name in held]


def front_page(stock: Stock, chapters: Sequence[Page]) -> Page:
    """The front page."""
    knowledge = stock.knowledge
    groups = dict.fromkeys(piece.group for piece in knowledge.pieces.values())
    by_piece = [
        phrase(
            first_up(plain(group)),
            ": ",
            in_a_row([Link(p.name.lower(), f"piece:{p.id}") for p in knowledge.pieces.values() if p.group == group]),
        )
        for group in groups
    ]
    families = _counted("family", words.FAMILIES, plain, [cause.family for cause in knowledge.causes.values()])
    decisions = [method.decision for method in knowledge.methods.values()]
    classes = _counted("class", tuple(words.CLASSES), lambda name: words.CLASSES[name][0], decisions)
    carried = Counter(hazard for step in knowledge.steps.values() for hazard in step.hazards)
    hazards = items((Link(knowledge.cautions[name].called, f"caution:{name}"),) for name, _ in carried.most_common(MOST_HAZARDS))
    lead = "Why did it fail, and what is the right repair? Look before you touch glue. Every way below leads to the same pages."
    blocks = present(
        Para((lead,), "lead"),
        Html(SEARCH_FORM, ""),
        section("By what is wrong", trouble_links()),
        section(
            "By what you see", _samples(stock), Para((Link("All drawings", "list:look"), " · ", Link("all signs", "list:signs")))
        ),
        section("By piece and part", items(by_piece), Para((Link("All pieces and parts", "list:pieces"),))),
        section("By cause", items(families), Para((Link("All causes", "list:causes"),))),
        section("By method", items(classes), Para((Link("All methods", "list:methods"), " · ", Link("all steps", "list:steps")))),
        section(
            "By wood, glue or finish",
            Items(
                (
                    (Link("Woods", "list:woods"), f", {len(knowledge.woods)} of them"),
                    (Link("Adhesives", "list:adhesives"), f", {len(knowledge.adhesives)}"),
                    (Link("Finishes", "list:finishes"), f", {len(knowledge.finishes)}"),
                    (Link("Things used up", "list:consumables"),),
                )
            ),
        ),
        section("By hazard", hazards, Para((Link(f"All {len(knowledge.cautions)} hazards", "list:hazards"),))),
        section("To read from end to end", items((Link(page.title, page.ref),) for page in chapters if page.kind == "chapter")),
        section(
            "Look it up",
            Items(
                (
                    (Link("Index from A to Z", "list:index"),),
                    (Link("Glossary", "list:glossary"),),
                    (Link("Rules", "list:rules"), ", what must follow when something is seen"),
                    (Link("Sources", "list:sources"), ", where all this comes from and how it is known"),
                )
            ),
        ),
    )
    return Page("list:front", "index.html", "Field guide to furniture repair", "front", blocks)


def _sort_key(name: str) -> str:
    """What a name is sorted by: small letters and digits, without accents and without the article before it."""
    bare = _ARTICLE.sub("", unicodedata.normalize("NFKD", name).lower())
    return "".join(letter for letter in bare if letter.isalnum() or letter == " ")


def letter_of(name: str) -> str:
    """The letter under which a name stands.

    >>> letter_of("Écorce"), letter_of("3-legged"), letter_of("A glued blank"), letter_of("Ash")
    ('E', '0–9', 'G', 'A')
    """
    first = _sort_key(name).strip()[:1].upper()
    return first if "A" <= first <= "Z" else "0–9"


def index_page(pages: Sequence[Page], entries: Sequence[tuple[str, str, str]]) -> Page:
    """Every name from A to Z. `entries` are name, kind and ref of what has no page of its own."""
    named = {(name, page.kind, page.ref) for page in pages for name in page.names} | set(entries)
    letters: dict[str, list[tuple[str, str, str]]] = {}
    for name, kind, ref in sorted(named, key=lambda item: (_sort_key(item[0]), item)):
        letters.setdefault(letter_of(name), []).append((name, kind, ref))
    order = sorted(letters, key=lambda letter: (letter == "0–9", letter))
    jump = Para(in_a_row([Link(letter, f"letter:{letter}") for letter in order], between=" "))
    found: list[Block] = [jump]
    for letter in order:
        rows = tuple(phrase(Link(name, ref), f", {kind}" if kind != "list" else "") for name, kind, ref in letters[letter])
        found.append(Section(letter, (Items(rows),), ref=f"letter:{letter}"))
    return Page("list:index", "index-a-z.html", "Index from A to Z", "index", tuple(found))


def search_page() -> Page:
    """The page for searching; without script it sends the reader to the index."""
    markup = (
        f"{SEARCH_FORM}\n<noscript><p>Searching needs a script. Without one, use the "
        '<a href="list:index">index from A to Z</a>.</p></noscript>\n'
        '<p id="count" role="status"></p>\n<ol id="results"></ol>'
    )
    lead = Para(("Other names and small slips in spelling are understood.",), "note")
    return Page("list:search", "search.html", "Search", "search", (lead, Html(markup, "")), names=("Search",))
