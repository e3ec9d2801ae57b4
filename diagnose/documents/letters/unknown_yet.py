"""What cannot be known before it is opened, the limit up to which we go on, and what happens above it."""

from diagnose.assess import Assessment
from diagnose.documents import md
from diagnose.documents.letters import prices
from diagnose.documents.letters.told_and_found import to_you
from diagnose.documents.letters.work import opens, sent_on

MOST_ASKED = 3


def unknown_yet(assessment: Assessment) -> str:
    """What may still change the price, or that nothing will."""
    if sent_on(assessment):
        return "What they find when they look at it, and what they ask for it."
    if not opens(assessment):
        return "Nothing is opened, so nothing is likely to change the price."
    limit = assessment.shop.money(prices.limit(assessment))
    return md.join(
        "Part of what decides the work shows only when it is taken apart. If we find more than we expect, we go on up to "
        f"{limit}. Above that we stop, tell you what we expected and what we found, and wait for your answer.",
        _opening(assessment),
    )


def _opening(assessment: Assessment) -> str:
    span, price = assessment.told.before_opening, assessment.price
    asks = [ask for name in assessment.told.settles if (ask := assessment.knowledge.signs[name].ask)]
    if span is None or price is None or not asks or (span.low, span.high) == (price.low, price.high):
        return ""
    told = f"Opening it will settle this; by what it shows the work could cost from {prices.span(assessment.shop, span)}:"
    return md.join(told, md.bullets(to_you(ask) for ask in asks[:MOST_ASKED]))
