"""The decision: every method considered, in one table, argued in numbers.

cost = price + (1 − kept)·V + P(again)·(redo + goodwill + harm·V), a straight line in the value V of the piece; the flips are
the crossings of the lines. Injury is not money: where somebody could fall, a method that does not leave the part fit for use is
ruled out before costs are compared.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from diagnose import words
from diagnose.decision.cost import Price
from diagnose.reasoning.model import Array
from diagnose.shop import Shop


@dataclass(frozen=True)
class Choice:
    """A method as the sums see it: its price, the share of value kept, and P(again | set), shape (S,)."""

    method: str
    decision: str
    price: Price
    kept: float
    fails: Array
    strength_ratio: float | None = None


@dataclass(frozen=True)
class Line:
    """Expected cost of a method as a straight line in the value of the piece: at_zero + slope·V."""

    method: str
    at_zero: float
    slope: float

    def at(self, value: float) -> float:
        """The cost at a value."""
        return self.at_zero + self.slope * value


@dataclass(frozen=True)
class Flip:
    """Above `value` the advice is `above`, below it `below`."""

    value: float
    below: str
    above: str


@dataclass(frozen=True)
class Option:
    """One row of the table. `cheaper_below` is, of a way that is for the owner to say, the value below which it costs the least."""

    method: str
    decision: str
    verdict: words.Verdict
    price: Price
    fails_again: float
    cost: float
    because: str
    strength_ratio: float | None = None
    cheaper_below: float = 0.0

    @property
    def chance_it_holds(self) -> float:
        """1 − P(again) within the shop's horizon."""
        return 1.0 - self.fails_again


def line_of(choice: Choice, posterior: Array, redo: float, harm: float) -> Line:
    """The cost line of a method under a belief."""
    again = float(choice.fails @ posterior)
    return Line(choice.method, choice.price.expected + again * redo, (1.0 - choice.kept) + again * harm)


def cost_matrix(choices: Sequence[Choice], value: float, redo: float, harm: float) -> Array:
    """Cost of each method under each set, shape (methods, S)."""
    again = redo + harm * value
    return np.array([c.price.expected + (1.0 - c.kept) * value + c.fails * again for c in choices])


def flips(lines: Sequence[Line], highest: float = 1e6) -> tuple[Flip, ...]:
    """Where the cheapest method changes as the value rises from 0: the corners of the lower envelope."""
    found: list[Flip] = []
    if not lines:
        return ()
    here = 0.0
    current = min(lines, key=lambda line: (line.at(0.0), line.slope, line.method))
    while True:
        crossings = [
            ((other.at_zero - current.at_zero) / (current.slope - other.slope), other.slope, other)
            for other in lines
            if other.slope < current.slope - 1e-12
        ]
        ahead = [item for item in crossings if item[0] >= here - 1e-9]
        if not ahead:
            return tuple(found)
        value, _, other = min(ahead, key=lambda item: (item[0], item[1], item[2].method))
        if value > highest:
            return tuple(found)
        found.append(Flip(value, current.method, other.method))
        here, current = value, other


def _verdict(choice: Choice, best: Choice, more: float) -> words.Verdict:
    """The verdict of a permitted method that costs so much more than the best one."""
    if choice is best:
        return words.Verdict.ADVISED
    if more < min(choice.price.width, best.price.width) / 2 and choice.decision != best.decision:
        return words.Verdict.TIE
    return words.Verdict.POSSIBLE if more < max(best.price.expected, 1.0) else words.Verdict.NOT_ADVISED


def _reason(verdict: words.Verdict, cost: float, more: float, shop: Shop) -> str:
    years = f"{shop.horizon_years:g} years"
    if verdict is words.Verdict.ADVISED:
        return f"the least expected cost over {years}: about {shop.money(cost)}"
    return f"expected to cost about {shop.money(more)} more over {years}"


def table(
    choices: Sequence[Choice],
    banned: Mapping[str, str],
    posterior: Array,
    value: float,
    shop: Shop,
    consequence: str | None = None,
) -> tuple[tuple[Option, ...], tuple[Flip, ...]]:
    """Every method with its verdict, cheapest first, then those ruled out; and the flips among those permitted.

    A tie is an expected cost closer than half the narrower of the two price ranges (by the wider one, a method with a very wide
    price, as outside work has, would be as good as everything). `banned` gives the reason of each ban, `consequence` says what
    happens if it fails again.
    """
    redo, harm = shop.failing_again_costs, shop.share_lost(consequence)
    lines = {choice.method: line_of(choice, posterior, redo, harm) for choice in choices}
    costs = {name: line.at(value) for name, line in lines.items()}
    permitted = [choice for choice in choices if choice.method not in banned]
    ranked = sorted(permitted, key=lambda c: (costs[c.method], c.method))

    def option(choice: Choice, verdict: words.Verdict, because: str) -> Option:
        return Option(
            method=choice.method,
            decision=choice.decision,
            verdict=verdict,
            price=choice.price,
            fails_again=float(choice.fails @ posterior),
            cost=costs[choice.method],
            because=because,
            strength_ratio=choice.strength_ratio,
        )

    options = []
    for choice in ranked:
        cost, more = costs[choice.method], costs[choice.method] - costs[ranked[0].method]
        verdict = _verdict(choice, ranked[0], more)
        options.append(option(choice, verdict, _reason(verdict, cost, more, shop)))
    refused = [option(c, words.Verdict.RULED_OUT, banned[c.method]) for c in choices if c.method in banned]
    return (*options, *refused), flips([lines[choice.method] for choice in permitted])
