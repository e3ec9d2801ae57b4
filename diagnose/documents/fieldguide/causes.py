"""Cause pages: what happened inside, what it shows, how to prove it, what it is mistaken for, what treats it."""

from diagnose import words
from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Facts,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Table,
    Weights,
    items,
    many,
    phrase,
    present,
    section,
)
from diagnose.documents.fieldguide.conditions import in_one_line, lines_said
from diagnose.documents.fieldguide.signs import reading_link
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up, plain
from diagnose.rulebase.entries import BY_STRENGTH, Cause

UP = Link("Causes", "list:causes")

# The readings that weigh most, for or against; the rest say little by themselves.
MOST_ROWS = 8


def _facts(stock: Stock, cause: Cause) -> Facts:
    knowledge = stock.knowledge
    often: Phrase = (first_up(plain(cause.happens)),)
    for other in cause.exceptions:
        often = phrase(often, f"; {plain(other.happens)} where ", in_one_line(knowledge, other.when))
    back = (
        "As often as what is left of its strength lets it."
        if cause.returns == BY_STRENGTH
        else f"{first_up(plain(cause.returns))}, if nothing is done about it."
    )
    rows: list[tuple[str, Phrase]] = [
        ("Its role", (words.ROLES[cause.role],)),
        ("Family", (Link(first_up(plain(cause.family)), f"family:{cause.family}"),)),
        ("Reaches", ("the whole piece at once" if cause.reaches == "piece" else "this one damage",)),
        ("How often met", often),
        ("Comes back", (back,)),
    ]
    if cause.made_too_weak:
        rows.append(("Made too weak", ("Yes: as made it was not strong enough, so the repair must be stronger than that.",)))
    return Facts(tuple(rows))


def _shows(stock: Stock, cause: Cause) -> Section | None:
    rows = []
    said_of = sum(len(said) for said in cause.shows.values())
    for sign_id, said in cause.shows.items():
        sign = stock.knowledge.signs[sign_id]
        for reading, word in said.items():
            decibels = stock.weighed.decibel(sign_id, reading, cause.id)
            rows.append(told.weight(reading_link(sign, reading), decibels, (plain(word),)))
    rows = sorted(sorted(rows, key=lambda row: -abs(row.decibels))[:MOST_ROWS], key=lambda row: -row.decibels)
    rest = (
        f" The {len(rows)} heaviest readings are shown; {left} lighter ones are left out."
        if (left := said_of - len(rows))
        else ""
    )
    return section(
        "What it shows",
        Para(
            (
                "How often each reading is seen when this cause acts, and as a bar what it weighs for or against. What is not "
                f"listed is seen as often without it.{rest}",
            ),
            "note",
        ),
        Weights("Readings that this cause makes likelier or rarer", ("Reading", "Weight", "Seen"), tuple(rows)),
    )


def _proof(stock: Stock, cause: Cause) -> Section | None:
    rows = []
    for sign, apart, others in stock.weighed.proving(cause.id):
        readings = sorted(sign.readings, key=lambda name: -stock.weighed.decibel(sign.id, name, cause.id))
        weighs = [stock.weighed.decibel(sign.id, name, cause.id) for name in readings]
        rows.append(
            (
                (Link(sign.ask or sign.called, f"sign:{sign.id}"),),
                (Link(sign.say(readings[0]), f"reading:{sign.id}.{readings[0]}"), f" ({told.signed(weighs[0])})"),
                (Link(sign.say(readings[-1]), f"reading:{sign.id}.{readings[-1]}"), f" ({told.signed(weighs[-1])})"),
                (f"{apart} of {others}",),
            )
        )
    if not rows:
        return None
    return section(
        "How to prove it",
        Para(("The signs that set it apart best from all other causes that can be at work in the same place.",), "note"),
        Table(
            "Signs that prove or disprove it", ("Ask", "Speaks for it", "Speaks against it", "Sets it apart from"), tuple(rows)
        ),
    )


def _mistaken(stock: Stock, cause: Cause) -> Section | None:
    rows = []
    for other, sign in stock.weighed.nearest(cause.id):
        this, that = stock.weighed.telling(sign.id, cause.id, other.id)
        rows.append(
            (
                (Link(other.name, f"cause:{other.id}"),),
                (Link(sign.ask or sign.called, f"sign:{sign.id}"),),
                (Link(sign.say(this), f"reading:{sign.id}.{this}"),),
                (Link(sign.say(that), f"reading:{sign.id}.{that}"),),
            )
        )
    table = Table(
        "The causes that look most like it", ("Looks like", "Ask", "Then it is this", "Then it is the other"), tuple(rows)
    )
    return section("What it is mistaken for", Para((cause.tell_apart,)) if cause.tell_apart else None, table if rows else None)


def treats_said(stock: Stock, word: str) -> str:
    """How far a method treats a cause, with what is left over."""
    return f"{first_up(plain(word))}: {stock.knowledge.scale.treats[word]:.0%} of it is left".replace("%", " %")


def _methods(stock: Stock, cause: Cause) -> Section | None:
    by_word: dict[str, list[Link]] = {}
    for method, word in stock.treated_by(cause):
        by_word.setdefault(word, []).append(Link(method.name, f"method:{method.id}"))
    parts = [section(treats_said(stock, word), many((method,) for method in found)) for word, found in by_word.items()]
    return section("What treats it", *parts)


def cause_page(stock: Stock, cause: Cause) -> Page:
    """The page of one cause."""
    knowledge = stock.knowledge
    blocks = present(
        Para((cause.explains,), "lead"),
        _facts(stock, cause),
        _shows(stock, cause),
        _proof(stock, cause),
        _mistaken(stock, cause),
        _methods(stock, cause),
        section("What to tell the owner", Para((cause.owner,))),
        section("So that it does not come back", Para((cause.prevents,)) if cause.prevents else None),
        section("Where it can be at work", lines_said(knowledge, cause.when)),
        told.sources(knowledge, cause),
    )
    return Page(
        f"cause:{cause.id}",
        f"cause/{cause.id}.html",
        cause.name,
        "cause",
        blocks,
        up=(UP,),
        names=(cause.name, first_up(plain(cause.id))),
        also=(cause.owner,),
    )


def cause_list(stock: Stock) -> Page:
    """All causes, by family."""
    found = []
    for family in words.FAMILIES:
        listed = items(
            phrase(Link(cause.name, f"cause:{cause.id}"), f" ({words.ROLES[cause.role].lower()})")
            for cause in stock.knowledge.causes.values()
            if cause.family == family
        )
        if listed is not None:
            found.append(Section(first_up(plain(family)), (listed,), ref=f"family:{family}"))
    lead = Para(
        ("Why wooden furniture fails. Several causes are often at work at once: one made it weak, one wore it, one broke it.",),
        "lead",
    )
    return Page("list:causes", "causes.html", "Causes", "list", (lead, *found), names=("Causes, all",))
