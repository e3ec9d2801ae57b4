"""Sign pages: the question, the readings side by side, what each points to, and what it is taken for."""

from itertools import combinations

import numpy as np

from diagnose import words
from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Block,
    Facts,
    Figure,
    Gallery,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Weights,
    in_a_row,
    items,
    phrase,
    present,
    section,
)
from diagnose.documents.fieldguide.conditions import lines_said
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.fieldguide.weights import LEAST_DB
from diagnose.documents.say import first_up, plain, span
from diagnose.rulebase.entries import Sign

UP = Link("Signs", "list:signs")
# Readings whose weights lie this close, in decibels, for every cause say the same thing.
ALIKE_DB = 1.0
# The strongest that are listed for a reading: pointing to it, away from it.
MOST_FOR, MOST_AGAINST = 3, 2
_KINDS = {
    "choose_one": "Choose the one that fits best.",
    "tick_all": "Tick all that are there; each is a yes or no of its own.",
    "yes_no": "Yes or no.",
}


def _facts(stock: Stock, sign: Sign) -> Facts:
    rows: list[tuple[str, Phrase]] = []
    if sign.station:
        rows.append(("Where one stands", (first_up(words.STATIONS[sign.station]),)))
    minutes = stock.knowledge.minutes_of(sign)
    if sign.effort and minutes is not None:
        rows.append(("Effort", (f"{first_up(plain(sign.effort))}, about {told.number(minutes)} min",)))
    if sign.measure is not None:
        rows.append(("Answer", (f"A measure, {span(sign.measure.low, sign.measure.high, sign.measure.unit)}.",)))
    else:
        rows.append(("Answer", (_KINDS[sign.kind],)))
    rows.append(("Said of", ("the whole piece, once" if sign.of == "piece" else "each damage by itself",)))
    if sign.gone_after:
        phases = in_a_row([f"“{words.PHASES[phase]}”" for phase in sign.gone_after], last=" or ")
        rows.append(("When the evidence is gone", phrase("After the steps of ", phases, ". Look before, or lose it.")))
    else:
        rows.append(("When the evidence is gone", ("No step of the work destroys it.",)))
    if sign.counts == "half":
        rows.append(("How it counts", ("Half, because another sign sees the same mark.",)))
    if sign.computed is not None:
        rows.append(("How it is found", ("Never asked: worked out by the program.",)))
    return Facts(tuple(rows))


def _gates(stock: Stock, sign: Sign) -> list[Block | None]:
    return [
        section("Asked only when", lines_said(stock.knowledge, sign.when)),
        section("Not asked when", lines_said(stock.knowledge, sign.unless, any_closes=True)),
    ]


def _to_see(stock: Stock, plate: str) -> Phrase:
    """What to look at in a plate that is drawn."""
    picture = stock.pictures[plate]
    return (f": {picture.caption}",) if picture.svg else ()


def _gallery(stock: Stock, sign: Sign) -> Gallery | Items:
    """Every reading side by side where the look tells them; a list of words where none has a plate."""
    figures = tuple(
        Figure(stock.pictures[reading.plate], (Link(sign.say(name), f"reading:{sign.id}.{name}"), *_to_see(stock, reading.plate)))
        for name, reading in sign.readings.items()
        if reading.plate is not None
    )
    if figures:
        return Gallery(figures)
    return Items(tuple((Link(sign.say(name), f"reading:{sign.id}.{name}"),) for name in sign.readings))


def _rules(stock: Stock, sign: Sign) -> Section | None:
    """Rules that ask for a reading of it, each with the readings that it asks for."""
    found = []
    for rule in stock.rules_on(sign.id):
        asked = [value for line in rule.when.all_lines() if line.key == sign.id for value in line.values]
        links = [Link(sign.say(value), f"reading:{sign.id}.{value}") for value in dict.fromkeys(asked)]
        if links:
            found.append(phrase(in_a_row(links, last=" or "), ": ", Link(rule.called, f"rule:{rule.id}")))
    lead = Para(("What must follow where the rest of the rule holds too.",), "note")
    return section("Rules that ask for it", lead, items(found)) if found else None


def _reading(stock: Stock, sign: Sign, name: str) -> Section:
    weighed = stock.weighed.of_reading(sign.id, name)
    points = [item for item in weighed if item[1] > 0][:MOST_FOR]
    away = [item for item in weighed if item[1] < 0][-MOST_AGAINST:]
    caption = "For and against"
    rows = tuple(told.weight((Link(cause.name, f"cause:{cause.id}"),), decibels) for cause, decibels in (*points, *away))
    silent = f"It moves no cause by {told.number(LEAST_DB)} dB or more: it is seen as often whatever the cause."
    blocks = present(
        Weights(caption, (), rows) if rows else Para((silent,)),
    )
    return Section(first_up(sign.say(name)), blocks, ref=f"reading:{sign.id}.{name}")


def _alike(stock: Stock, sign: Sign) -> Section | None:
    """What is mistaken for what: readings that say the same, and what tells apart the causes that the readings point to first."""
    found: list[Phrase] = []
    weights = stock.weighed.signs[sign.id]
    for one, other in combinations(range(len(weights.readings)), 2):
        speaks = np.abs(weights.decibels[[one, other]]).max() >= LEAST_DB
        if speaks and np.abs(weights.decibels[one] - weights.decibels[other]).max() < ALIKE_DB:
            names = (weights.readings[one], weights.readings[other])
            found.append(
                (f"“{sign.say(names[0])}” and “{sign.say(names[1])}” count alike: lose no time over which of the two it is.",)
            )
    leading = dict.fromkeys(
        stock.weighed.of_reading(sign.id, name)[0][0].id for name in sign.readings if stock.weighed.of_reading(sign.id, name)
    )
    for cause_id in leading:
        cause = stock.knowledge.causes[cause_id]
        if cause.tell_apart:
            found.append(phrase(Link(cause.name, f"cause:{cause.id}"), ": ", cause.tell_apart))
    return section("Look-alikes", items(found))


def _uses(stock: Stock, sign: Sign) -> Section | None:
    steps = [step for step in stock.knowledge.steps.values() if step.check is not None and step.check.sign == sign.id]
    return section(
        "Where the work waits for it",
        items(
            phrase(
                Link(step.called, f"step:{step.id}"),
                " goes on only at “",
                sign.say(step.check.reads) if step.check else "",
                "”.",
            )
            for step in steps
        ),
    )


def sign_page(stock: Stock, sign: Sign) -> Page:
    """The page of one sign."""
    title = sign.ask or sign.called
    blocks = present(
        Para((sign.look,), "lead") if sign.look else None,
        section("The readings, side by side", _gallery(stock, sign)),
        section("How it is asked", _facts(stock, sign)),
        section(
            "What each reading points to",
            Para(
                (
                    "A bar to the right speaks for the cause, one to the left against it: three decibels double the odds, ten make "
                    f"them tenfold. At most {MOST_FOR} for and {MOST_AGAINST} against are shown.",
                ),
                "note",
            ),
            *(_reading(stock, sign, name) for name in sign.readings),
        ),
        _alike(stock, sign),
        _rules(stock, sign),
        *_gates(stock, sign),
        _uses(stock, sign),
        told.sources(stock.knowledge, sign),
    )
    return Page(
        ref=f"sign:{sign.id}",
        path=f"sign/{sign.id}.html",
        title=title,
        kind="sign",
        blocks=blocks,
        up=(UP,),
        names=(sign.called,),
        also=tuple(sign.say(name) for name in sign.readings),
    )


def sign_list(stock: Stock) -> Page:
    """All signs, station by station."""
    sections = []
    for station, called in words.STATIONS.items():
        found = [sign for sign in stock.knowledge.signs.values() if sign.station == station]
        listed = items((Link(sign.ask or sign.called, f"sign:{sign.id}"),) for sign in found)
        sections.append(section(first_up(called), listed))
    computed = [sign for sign in stock.knowledge.signs.values() if sign.computed is not None]
    sections.append(section("Worked out, never asked", items((Link(sign.called, f"sign:{sign.id}"),) for sign in computed)))
    lead = Para(("What can be seen, felt, asked or measured, in the order of the places where one stands.",), "lead")
    return Page("list:signs", "signs.html", "Signs", "list", present(lead, *sections), names=("Signs, all",))


def reading_link(sign: Sign, reading: str) -> Phrase:
    """A sign with one of its readings."""
    said = sign.say(reading)
    return (f"{sign.called}: ", Link(said[:1].lower() + said[1:], f"reading:{sign.id}.{reading}"))
