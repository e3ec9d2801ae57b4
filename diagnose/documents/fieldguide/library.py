"""The list of sources, each with how it is known; what is only remembered stands apart and is never shown as published."""

from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import Entries, Page, Para, Phrase, Section, Tag
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import plain
from diagnose.rulebase.entries import Source

_GROUPS = {
    "read": ("Read", "We have had the text itself before us, at least in part."),
    "read_second_hand": ("Known at second hand", "We have read what somebody else says stands there."),
    "judgement": ("Judgement of the trade", "Nobody has printed it; repairers do it so."),
    "memory": ("Remembered, not read", "Nothing here may be taken for a published figure until somebody has looked it up."),
}


def source_row(source: Source) -> tuple[str, Phrase, Phrase]:
    """A source as it is listed."""
    told_of = [
        part for part in (source.author, str(source.year) if source.year else "", plain(source.kind), source.where) if part
    ]
    mark: Phrase = () if source.known_by == "read" else (" ", Tag(told.KNOWN[source.known_by]))
    return f"source:{source.id}", (source.title, *mark), ((", ".join(told_of) + ".") if told_of else "",)


def source_page(stock: Stock) -> Page:
    """Every source once, by how it is known."""
    found = []
    for known_by, (title, what) in _GROUPS.items():
        rows = [source_row(source) for source in stock.knowledge.sources.values() if source.known_by == known_by]
        if rows:
            rows.sort(key=lambda row: str(row[1][0]).lower())
            found.append(Section(title, (Para((what,), "note"), Entries(tuple(rows)))))
    lead = Para(("Where what is said here comes from, and how we know it.",), "lead")
    return Page("list:sources", "sources.html", "Sources", "list", (lead, *found), names=("Sources",))
