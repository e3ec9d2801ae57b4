"""What a plan costs: three-point prices from minutes, materials, outside work and what may be hurt on the way."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.planning.compose import PlannedStep
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.entries import Method
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

Three = tuple[float, float, float]
NOTHING: Three = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Price:
    """Low, likely and high, in the shop's currency, and the minutes behind them."""

    low: float
    likely: float
    high: float
    minutes: Three = NOTHING
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

    def rounded(self, to: float) -> "Price":
        """As it is told: low downwards, high upwards, likely to the nearest multiple of `to`; 0 leaves it alone.

        >>> Price(61, 82, 131).rounded(5)
        Price(low=60, likely=80, high=135, minutes=(0.0, 0.0, 0.0), waiting_hours=0.0)
        """
        if to <= 0:
            return self
        low, high = floor(self.low / to + 1e-9) * to, ceil(self.high / to - 1e-9) * to
        return replace(self, low=low, likely=floor(self.likely / to + 0.5) * to, high=high)


def of_a_set(minutes: Three, pieces: int, further_share: float) -> Three:
    """Minutes for several pieces done together: the first in full, each further one by `further_share` of it.

    Six at .67 are 72.5 % of six single ones; judgement of the trade is 70 to 75 %.

    >>> round(of_a_set((60.0, 100.0, 200.0), 6, 0.67)[1], 6)
    435.0
    """
    low, likely, high = (value * (1.0 + (pieces - 1) * further_share) for value in minutes)
    return low, likely, high


def tight_joints_parted(knowledge: Knowledge, case: Case, damage: Damage, method: Method) -> float:
    """How many joints that the map calls tight must be parted for a method, since the part in them has to come out.

    A part is drawn out of its other end too. Of a part that the piece has several of, each one's share of the tight ends counts.
    """
    piece = knowledge.pieces[case.piece]
    steps = [knowledge.steps[name] for name in method.steps]
    if method.by != "us" or not any(step.phase == "take_apart" and step.per == "bond" for step in steps):
        return 0.0
    tight = [joint for joint in piece.joints if case.joints.get(joint.id) == "tight" and joint.id != damage.joint]
    if method.extent != "joint":
        slack = [joint for joint in piece.joints if case.joints.get(joint.id) in words.SLACK_STATES]
        out = {joint.joins[1] for joint in slack}
        return float(sum(joint.joins[1] in out for joint in tight))
    part = piece.parts.get(damage.part or "")
    if part is None or damage.part is None:
        return 0.0
    return sum(joint.joins.count(damage.part) for joint in tight) / part.count


def trades_of(steps: Sequence[PlannedStep], outside: Iterable[str] = ()) -> tuple[str, ...]:
    """Every trade that works on it besides us, once."""
    return tuple(sorted({*outside, *(planned.step.trade for planned in steps)} - {"us"}))


def cover_trades(knowledge: Knowledge, method: Method, deduction: Deduction) -> tuple[str, ...]:
    """Trades that what covers the joint calls for when others than we open it; where we do, the steps of the plan name them."""
    if method.by == "us":
        return ()
    return tuple(sorted({knowledge.steps[name].trade for name in deduction.targets("require")} - {"us"}))


def free_of_minimum(shop: Shop) -> Shop:
    """The same shop for sums of which only the whole is held against the minimum charge."""
    return shop.model_copy(update={"minimum_charge": 0.0})


def least_of_each(
    knowledge: Knowledge, shop: Shop, steps: Sequence[PlannedStep], outside: Iterable[str] = ()
) -> dict[str, float]:
    """The least that each step (done once) and each trade adds to a price, as expected money."""
    free = free_of_minimum(shop)
    found = {planned.step.id: price_of(knowledge, free, [_ours(planned)]).expected for planned in steps}
    return found | {trade: price_of(knowledge, free, [], [trade]).expected for trade in trades_of(steps, outside)}


def _ours(planned: PlannedStep) -> PlannedStep:
    return replace(planned, count=1, step=planned.step.model_copy(update={"trade": "us"}))


def price_of(
    knowledge: Knowledge,
    shop: Shop,
    steps: Sequence[PlannedStep],
    outside: Iterable[str] = (),
    tight: float = 0.0,
    pieces: int = 1,
) -> Price:
    """The price of a list of steps at the shop's rate, with materials and outside work; never under the minimum charge.

    Outside work is that of the `outside` trades and of the trades that steps belong to, each once. `tight` joints may be hurt in parting them, each with the shop's chance. `pieces` alike are done together. Waiting is the sum of
    all cures and dryings, as if taken one after another; it is time, not work, and costs nothing.
    """
    minutes = [0.0, 0.0, 0.0]
    bought = [0.0, 0.0, 0.0]
    waiting = 0.0
    for planned in steps:
        waiting += planned.step.wait_hours
        for index, value in enumerate(planned.minutes()):
            minutes[index] += value
        for name, quantity in planned.step.uses.items():
            prices = shop.prices.get(name, knowledge.consumables[name].price)
            for index, price in enumerate(prices):
                bought[index] += quantity * planned.count * price
    for trade in trades_of(steps, outside):
        for index, price in enumerate(shop.outside[trade]):
            bought[index] += price * (1.0 + shop.handling_share)
    for index, value in enumerate(shop.hurt_joint_minutes):
        minutes[index] += tight * shop.tight_joint_hurt_share * value
    worked = of_a_set((minutes[0], minutes[1], minutes[2]), pieces, shop.further_piece_share)
    low, likely, high = (
        max(work / 60.0 * shop.rate_per_hour + pieces * thing, shop.minimum_charge)
        for work, thing in zip(worked, bought, strict=True)
    )
    return Price(low, likely, high, worked, waiting)
