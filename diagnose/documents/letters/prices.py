"""Prices as an owner reads them: one figure once, a range with both of its ends, and the figure above which we ring."""

from math import floor

from diagnose.assess import Assessment
from diagnose.decision.cost import Price
from diagnose.shop import Shop

STEP = 10.0


def told(shop: Shop, price: Price) -> str:
    """A price in a sentence or two; what is the same is said once.

    >>> told(Shop(), Price(165, 304, 662)), told(Shop(), Price(40, 40, 55)), told(Shop(), Price(40, 40, 40))
    ('Likely EUR 304. It can end at EUR 165 or at EUR 662.', 'Likely EUR 40, and EUR 55 at the most.', 'It costs EUR 40.')
    """
    low, likely, high = (shop.money(amount) for amount in (price.low, price.likely, price.high))
    if low == high:
        return f"It costs {likely}."
    if low == likely:
        return f"Likely {likely}, and {high} at the most."
    if likely == high:
        return f"Likely {likely}, and {low} at the least."
    return f"Likely {likely}. It can end at {low} or at {high}."


def span(shop: Shop, price: Price) -> str:
    """The two ends of a price, or the one figure.

    >>> span(Shop(), Price(51, 90, 191)), span(Shop(), Price(40, 40, 40))
    ('EUR 51 to EUR 191', 'EUR 40')
    """
    rounded = price.rounded(shop.round_to)
    low, high = shop.money(rounded.low), shop.money(rounded.high)
    return low if low == high else f"{low} to {high}"


def limit_of(price: Price) -> float:
    """Up to which figure we go on without asking: half way from likely to the most, in whole tens where there is room for them.

    >>> limit_of(Price(165, 304, 662)), limit_of(Price(40, 40, 42)), limit_of(Price(40, 40, 55))
    (480.0, 42, 50.0)
    """
    half_way = floor((price.likely + price.high) / 2 / STEP + 0.5) * STEP
    return half_way if price.likely < half_way < price.high else price.high


def limit(assessment: Assessment) -> float:
    """The limit of our work on the piece. Raises ValueError where no price is told."""
    if assessment.price is None:
        raise ValueError("no price is told")
    return limit_of(assessment.price)


def ring_above(assessment: Assessment) -> str:
    """That we ring before it gets dearer; nothing is dearer than what has been told as the most."""
    assert assessment.price is not None
    above = limit(assessment)
    return f" Above {assessment.shop.money(above)} we ring you before we go on." if above < assessment.price.high else ""
