"""Small things that every page tells in one way: sources, status, minutes, figures and how each is known, weights."""

from collections.abc import Sequence

from diagnose.documents.fieldguide.blocks import (
    Items,
    Link,
    Para,
    Phrase,
    Section,
    Tag,
    Weight,
    phrase,
    section,
)
from diagnose.documents.say import plain, span
from diagnose.rulebase.entries import Cite, Entry, Step
from diagnose.rulebase.knowledge import Knowledge

# How a source or a figure is known, as a reader is told.
KNOWN = {
    "read": "read in print",
    "read_second_hand": "at second hand",
    "derived": "worked out from printed figures",
    "judgement": "our judgement",
    "memory": "remembered",
}
STATUS = {
    "draft": "Draft: no second repairer has read it.",
    "reviewed": "Read by a second repairer.",
    "field_tested": "Proved in use.",
}


def known(known_by: str | None) -> Phrase:
    """How a figure is known; nothing where it was read in print, since that is what a reader expects."""
    if known_by is None or known_by == "read":
        return ()
    return (" ", Tag(KNOWN.get(known_by, known_by)))


def cited(knowledge: Knowledge, cite: Cite) -> Phrase:
    """A source with its place and how it is known."""
    source = knowledge.sources[cite.source]
    year = f" ({source.year})" if source.year else ""
    place = f", {cite.place}" if cite.place else ""
    # That something is common practice only is what the title of that source says already.
    mark = () if source.known_by == "judgement" else known(source.known_by)
    return phrase(Link(source.title, f"source:{source.id}"), year, place, mark)


def in_brackets(knowledge: Knowledge, cites: Sequence[Cite]) -> Phrase:
    """Sources at the end of a sentence."""
    found: Phrase = ()
    for cite in cites:
        found = phrase(found, "; " if found else " (", cited(knowledge, cite))
    return phrase(found, ")") if found else ()


def on_whose_word(knowledge: Knowledge, cites: Sequence[Cite]) -> Phrase:
    """What kinds of source a rule stands on besides common practice, which a reader takes for granted where nothing is said.

    Beside it is a link to the rule, which names each source with its place.
    """
    found = []
    for source in (knowledge.sources[cite.source] for cite in cites):
        if source.known_by != "judgement":
            how = "" if source.known_by == "read" else KNOWN[source.known_by]
            found.append(", ".join(part for part in (plain(source.kind), how) if part))
    return (" ", Tag(f"({'; '.join(dict.fromkeys(found))})", "by")) if found else ()


def sources(knowledge: Knowledge, entry: Entry) -> Section | None:
    """The last section of an entry: its sources and its status."""
    return section(
        "Sources",
        Items(tuple(cited(knowledge, cite) for cite in entry.sources)),
        Para((STATUS[entry.status],), "note"),
    )


def number(value: float) -> str:
    """A number without needless zeros.

    >>> number(2.50), number(1000)
    ('2.5', '1000')
    """
    return f"{value:.6g}"


def three_figures(value: float) -> float:
    """An estimate, which claims no more than three figures.

    >>> three_figures(18.0059), three_figures(12962.0)
    (18.0, 13000.0)
    """
    return float(f"{value:.3g}")


def minutes(three: Sequence[float]) -> str:
    """Low, likely and high minutes.

    >>> minutes((5, 10, 25))
    '5 to 25 min, likely 10'
    """
    low, likely, high = three
    return span(low, high, "min") + ("" if low == high else f", likely {number(likely)}")


def work(minutes: float) -> str:
    """Minutes of work as a person reckons them: from an hour on in hours, to five minutes.

    >>> work(42.4), work(80.5), work(296), work(598)
    ('42 min', '1 h 20 min', '4 h 55 min', '10 h')
    """
    if minutes < 60:
        return f"{minutes:.0f} min"
    hours, left = divmod(5 * round(minutes / 5), 60)
    return f"{hours} h" + (f" {left} min" if left else "")


def signed(decibels: float) -> str:
    """A weight with its sign.

    >>> signed(-4.26), signed(0.01)
    ('−4.3 dB', '0.0 dB')
    """
    rounded = round(decibels, 1)
    sign = "+" if rounded > 0 else "−" if rounded < 0 else ""
    return f"{sign}{abs(rounded):.1f} dB"


def weight(words: Phrase, decibels: float, note: Phrase = ()) -> Weight:
    """A bar with its words."""
    return Weight(words, decibels, note)


def hold_point(knowledge: Knowledge, step: Step) -> Phrase:
    """What must be seen before one goes on; nothing where the step has no check."""
    if step.check is None:
        return ()
    sign = knowledge.signs[step.check.sign]
    reading = sign.say(step.check.reads)
    reads = f"reading:{sign.id}.{step.check.reads}"
    asked = f"“{sign.ask}” reads " if sign.ask else ""
    return phrase(Tag("hold point", "hold"), " Go on only when ", asked, "“", Link(reading, reads), "”.")
