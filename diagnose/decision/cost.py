"""What a plan costs: three-point prices from minutes, materials and outside work."""

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop


@dataclass(frozen=True)
class Price:
    """Low, likely and high, in the shop's currency, and the minutes behind them."""

    low: float
    likely: float
    high: float
    minutes: tuple[float, float, float] = (0.0, 0.0, 0.0)
    waiting_hours: float = 0.0

    @property
    def expected(self) -> float:
        """(low + 4·likely + high)/6.

        >>> Price(60, 80, 130).expected
        85.0
        """
        return (self.low + 4.0 * self.likely + self.high) / 6.0

    @property
    def width(self) -> float:
        """High less low."""
        return self.high - self.low


def price_of(knowledge: Knowledge, shop: Shop, steps: Sequence[PlannedStep], outside: Sequence[str] = ()) -> Price:
    """The price of a list of steps at the shop's rate, with materials, and the work of `outside` trades; never under the minimum charge.

    Waiting is the sum of all cures and dryings, as if taken one after another; it is time, not work, and costs nothing.
    """
    totals = [0.0, 0.0, 0.0]
    minutes = [0.0, 0.0, 0.0]
    waiting = 0.0
    for planned in steps:
        waiting += planned.step.wait_hours
        for index, value in enumerate(planned.minutes()):
            minutes[index] += value
            totals[index] += value / 60.0 * shop.rate_per_hour
        for name, quantity in planned.step.uses.items():
            prices = shop.prices.get(name, knowledge.consumables[name].price)
            for index, price in enumerate(prices):
                totals[index] += quantity * planned.count * price
    for trade in outside:
        for index, price in enumerate(shop.outside.get(trade, (0.0, 0.0, 0.0))):
            totals[index] += price
    low, likely, high = (max(total, shop.minimum_charge) for total in totals)
    return Price(low, likely, high, (minutes[0], minutes[1], minutes[2]), waiting)
