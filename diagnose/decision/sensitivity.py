"""What the advice hangs on: each input halved and doubled, and what that does to its lead over the next best method.

The lead is the expected cost of the next best method less that of the advised one, so it is positive while the advice is the cheaper.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose import words
from diagnose.decision.advise import Decision, Situation, Weighed, considered, gathered, weigh
from diagnose.decision.cost import Price
from diagnose.decision.decide import Choice, line_of, table
from diagnose.decision.strength import BOUNDS
from diagnose.planning.compose import PlannedStep
from diagnose.shop import Shop

SHOWN = 10
FACTORS = (0.5, 2.0)
STRENGTH_SAYS = {
    "slope": "slope of the grain",
    "length_over_depth": "length of the break over the thickness",
    "gap_mm": "gap in the joint, mm",
    "section_left": "share of the section left at holes",
    "joint_face_left": "share of the joint's faces that is sound",
    "clean_share": "share of the break that closes clean",
    "new_slope": "slope of the grain in new wood",
    "splice_run": "length of a splice over the thickness",
}
SETTINGS_SAY = {
    "rate_per_hour": "rate an hour",
    "minimum_charge": "minimum charge",
    "failing_again_costs": "cost of doing it over",
    "failing_again_share": "share of the value lost if it fails again",
    "failing_again_looks_share": "share of the value lost if its looks suffer again",
    "sound_part_fails": "share of sound parts that fail in the time looked ahead",
    "handling_share": "share added to outside work",
    "tight_joint_hurt_share": "chance that a tight joint is hurt",
}


@dataclass(frozen=True)
class Side:
    """An input at another number: the lead of the advised method then (None: it is ruled out), and what is advised in its place."""

    number: float
    lead: float | None
    instead: str | None


@dataclass(frozen=True)
class Influence:
    """One input: what it is, its number now, and what follows when it is lower and when it is higher."""

    name: str
    number: float
    low: Side
    high: Side
    assumed: bool = False

    @property
    def turns(self) -> bool:
        """Whether the advice changes on either side."""
        return self.low.instead is not None or self.high.instead is not None

    def swing(self, lead: float) -> float:
        """The largest change of a lead; where the method is ruled out there is no larger one."""
        return max(float("inf") if side.lead is None else abs(side.lead - lead) for side in (self.low, self.high))


@dataclass(frozen=True)
class Sensitivity:
    """The lead of the advised method over the next best, and the inputs that move it, the most influential first."""

    advised: str
    runner_up: str | None
    lead: float
    influences: tuple[Influence, ...]
    strength: tuple[Influence, ...]

    @property
    def leading(self) -> tuple[Influence, ...]:
        """The ten most influential inputs."""
        return self.influences[:SHOWN]


Change = Callable[[float], tuple[Situation, Callable[[Choice], Choice]]]
Plans = Mapping[str, Sequence[PlannedStep]]


def _same(choice: Choice) -> Choice:
    return choice


def _longer(price: Price, factor: float, shop: Shop) -> Price:
    """A price with its minutes multiplied."""
    minutes = (price.minutes[0] * factor, price.minutes[1] * factor, price.minutes[2] * factor)
    ends = (price.low, price.likely, price.high)
    low, likely, high = (
        max(end + (after - before) / 60.0 * shop.rate_per_hour, shop.minimum_charge)
        for end, before, after in zip(ends, price.minutes, minutes, strict=True)
    )
    return Price(low, likely, high, minutes, price.waiting_hours)


def _of_shop(at: Situation, setting: str) -> Change:
    return lambda number: (replace(at, shop=at.shop.model_copy(update={setting: number})), _same)


def _of_method(at: Situation, method: str, what: str, now: float) -> Change:
    def change(number: float) -> tuple[Situation, Callable[[Choice], Choice]]:
        factor = number / now

        def changed(choice: Choice) -> Choice:
            if choice.method != method:
                return choice
            if what == "minutes":
                return replace(choice, price=_longer(choice.price, factor, at.shop))
            again = float(choice.fails @ at.belief.posterior)
            return replace(choice, fails=choice.fails * min(factor, 1.0 / again))

        return at, changed

    return change


def _of_sizes(at: Situation, size: str) -> Change:
    """The size as it was made, taken from the map of the piece: doubled there is as halved here."""

    def change(number: float) -> tuple[Situation, Callable[[Choice], Choice]]:
        measured, (least, most) = at.damage.sizes[size], words.JOINT_SIZES[size]
        here = min(max(measured**2 / number, least), most)
        return replace(at, damage=replace(at.damage, sizes={**at.damage.sizes, size: here})), _same

    return change


def _inputs(at: Situation, weighed: Weighed, pair: Sequence[Choice]) -> Iterator[tuple[str, float, Change, bool]]:
    """Every input with its name, its number, how to change it, and whether it was assumed."""
    assumed_of_shop = set(at.shop.assumed())
    yield "value of the piece", at.value, lambda number: (replace(at, value=number), _same), at.case.value is None
    for setting, says in SETTINGS_SAY.items():
        yield says, getattr(at.shop, setting), _of_shop(at, setting), setting in assumed_of_shop
    for choice in pair:
        name = at.knowledge.methods[choice.method].name
        minutes, again = choice.price.minutes[1], float(choice.fails @ at.belief.posterior)
        if minutes > 0:
            yield f"minutes: {name}", minutes, _of_method(at, choice.method, "minutes", minutes), False
        if again > 0:
            yield f"chance that it fails again: {name}", again, _of_method(at, choice.method, "fails", again), False
    for quantity, number in weighed.strength.used.items():
        yield STRENGTH_SAYS[quantity], number, _of_strength(at, quantity), quantity in weighed.strength.assumed
    for size, number in at.damage.sizes.items():
        if size in words.JOINT_SIZES:
            yield f"{size.replace('_', ' ')} as made, against that measured, mm", number, _of_sizes(at, size), True


def _of_strength(at: Situation, quantity: str) -> Change:
    return lambda number: (replace(at, instead={quantity: number}), _same)


def _bounded(name: str, now: float, factor: float) -> float:
    quantity = next((key for key, says in STRENGTH_SAYS.items() if says == name), None)
    if quantity is None:
        return now * factor
    low, high = BOUNDS[quantity]
    return min(max(now * factor, min(low, now)), max(high, now))


def _side(number: float, now: float, change: Change, plans: Plans, pair: Sequence[Choice], first: str) -> Side | None:
    if number == now:
        return None
    at, adjust = change(number)
    weighed = weigh(at, plans)
    choices = [adjust(choice) for choice in weighed.choices]
    if all(choice.method in weighed.banned for choice in choices):
        return Side(number, None, None)
    options, _ = table(choices, weighed.banned, at.belief.posterior, at.value, at.shop, at.consequence)
    best = options[0].method
    by_name = {choice.method: choice for choice in choices}
    lines = [line_of(by_name[c.method], at.belief.posterior, at.shop.failing_again_costs, at.harm) for c in pair]
    lead = None if pair[0].method in weighed.banned else lines[-1].at(at.value) - lines[0].at(at.value)
    return Side(number, lead, None if best == first else best)


def sensitivity(at: Situation, decision: Decision) -> Sensitivity:
    """Every input of one damage's advice halved and doubled, the others as they are.

    What was advised for the piece as a whole is held against what would be cheapest for this damage alone.
    """
    # No input changes what is done, only what it costs and whether it holds.
    plans = gathered(at, considered(at.knowledge, at.facts, at.belief.model))
    weighed = weigh(at, plans)
    by_name = {choice.method: choice for choice in weighed.permitted}
    options, _ = table(weighed.choices, weighed.banned, at.belief.posterior, at.value, at.shop, at.consequence)
    cheapest = options[0].method
    ranked = [option.method for option in options if option.method in by_name and option.method != decision.method]
    pair = [by_name[name] for name in (decision.method, *ranked[:1])]
    costs = {option.method: option.cost for option in options}
    lead = costs[pair[-1].method] - costs[pair[0].method]
    found = []
    for name, now, change, assumed in _inputs(at, weighed, pair):
        sides = [_side(_bounded(name, now, factor), now, change, plans, pair, cheapest) for factor in FACTORS]
        low, high = (Side(now, lead, None) if side is None else side for side in sides)
        found.append(Influence(name, now, low, high, assumed))
    moving = [influence for influence in found if influence.turns or influence.swing(lead) > 1e-6]
    moving.sort(key=lambda influence: (-influence.swing(lead), influence.name))
    strength = tuple(influence for influence in found if influence.name in STRENGTH_SAYS.values())
    return Sensitivity(decision.method, pair[1].method if len(pair) > 1 else None, lead, tuple(moving), strength)
