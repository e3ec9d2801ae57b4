"""The way in for somebody who has only a complaint: each kind of damage, what to ask first, and what it mostly comes from."""

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np

from diagnose import words
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.documents.fieldguide.blocks import Block, Items, Link, Page, Para, Section, items, phrase, present
from diagnose.documents.fieldguide.stock import Stock
from diagnose.reasoning.context import odds_of, open_causes
from diagnose.rulebase.entries import Cause, Line, Sign, When
from diagnose.rulebase.meeting import can_meet, wider_words

# Of each list at most so many: signs that tell the causes apart, signs that rules want first, causes.
MOST_TELLING, MOST_WANTED, MOST_CAUSES = 4, 3, 8


def _telling(stock: Stock, signs: Iterable[Sign], causes: Sequence[tuple[Cause, float]]) -> list[Sign]:
    """Signs by how far they set the causes of a damage apart, each cause counting as often as it is met."""
    places = [stock.weighed.place(cause.id) for cause, _ in causes]
    share = np.array([odds for _, odds in causes])

    def apart(sign: Sign) -> float:
        return float(share @ stock.weighed.signs[sign.id].gap[np.ix_(places, places)] @ share)

    return sorted(signs, key=lambda sign: (-apart(sign), sign.id))


def first_signs(stock: Stock, damage: str, causes: Sequence[tuple[Cause, float]]) -> list[Sign]:
    """What to ask first, with no joint opened: the signs that tell most, then those that rules for this damage bring forward."""
    knowledge = stock.knowledge
    wider = wider_words(knowledge.pieces.values(), knowledge.woods.values())
    at = When(lines=(Line("damage", (damage,)),))
    signs = {
        sign.id: sign
        for sign in knowledge.signs.values()
        if sign.computed is None and sign.station not in words.CLOSED_STATIONS["counter"] and can_meet(sign.when, at, wider)
    }
    rules = [
        rule
        for rule in knowledge.logic.values()
        if any(damage in line.values for line in rule.when.lines if line.key == "damage")
    ]
    wanted = Counter(
        effect.target for rule in rules for effect in rule.then if effect.kind == "ask_first" and effect.target in signs
    )
    telling = _telling(stock, signs.values(), causes)[:MOST_TELLING]
    further = sorted((signs[name] for name in wanted if signs[name] not in telling), key=lambda sign: (-wanted[sign.id], sign.id))
    return [*telling, *further[:MOST_WANTED]]


def _trouble(stock: Stock, damage: str) -> Section:
    values = {"damage": frozenset({damage})}
    causes = [(cause, odds_of(stock.knowledge, cause, values)) for cause in open_causes(stock.knowledge, values)]
    often = sorted(causes, key=lambda item: (-item[1], item[0].name))[:MOST_CAUSES]
    first = first_signs(stock, damage, causes)
    ask = items(((Link(sign.ask or sign.called, f"sign:{sign.id}"),) for sign in first), numbered=True)
    said = DAMAGE_WORDS[damage]
    return Section(
        said.sought,
        present(
            Para((f"That is: {said.means}.",)),
            Para(("Ask and look first, before anything is opened:",)) if ask else None,
            ask,
            Para(("What it mostly comes from, the most frequent first:",)) if often else None,
            items((Link(cause.name, f"cause:{cause.id}"),) for cause, _ in often),
        ),
        ref=f"trouble:{damage}",
    )


def trouble_links() -> Items:
    """Every trouble with what it is, as links."""
    return Items(
        tuple(phrase(Link(said.sought, f"trouble:{damage}"), f": {said.means}") for damage, said in DAMAGE_WORDS.items())
    )


def trouble_page(stock: Stock) -> Page:
    """Every kind of damage, one after another."""
    lead = Para(("Start from the complaint. Several causes are often at work at once, so look at the whole piece.",), "lead")
    until = (
        "Until it is known why: nobody sits, leans or climbs on it, nothing is glued, taped, nailed or filled, and every splinter and "
        "screw is kept."
    )
    further = Para((Link("All signs", "list:signs"), " · ", Link("all causes", "list:causes")))
    blocks: tuple[Block, ...] = (lead, Para((until,)), *(_trouble(stock, damage) for damage in DAMAGE_WORDS), further)
    return Page("list:troubles", "troubles.html", "What is wrong with it?", "list", blocks, names=("What is wrong with it?",))
