"""From work, waiting, the queue and other trades to a week: one bar after another, in the order of the plan."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import Literal

from diagnose import words
from diagnose.planning.compose import ANY_PLAN, PlannedStep

Kind = Literal["queue", "buy", "work", "wait", "outside"]
# A wait shorter than this is spent on other work and stands in no bar.
SHORT_H = 4.0
SHORT_DAYS = SHORT_H / 24.0 - 1e-9
# What every date depends on that is told before the piece is opened.
OPENED = "your answer, and what is found when it is opened"
# What is waited for at the hand-over is the offer of somebody else; everything else that is waited for happens to the piece.
OFFERED = words.PHASES["hand_over"]
# Done when the piece comes in; what dries, airs or lies beside its new wood begins then, and not when its turn at the bench has come.
AT_ONCE = frozenset({"record", "isolate", "agree", "dry_or_treat"})
# A plan of these alone never comes to the bench.
NO_BENCH = ANY_PLAN | AT_ONCE
# So far a wait holds only its own damage: while one part cures the work goes on at another. From the dry fit on the piece is one.
APART = frozenset({"clean", "dry_or_treat", "mend_parts", "make_part"})


@dataclass(frozen=True)
class Bar:
    """One stretch: what it is, from which day after today it runs and for how long, in days; `what` is a phase, or a trade's name.

    `steps` are the first and the last step in it (1 the first of the plan); none where it belongs to no step.
    """

    kind: Kind
    what: str
    start: float
    days: float
    steps: tuple[int, int] | None = None

    @property
    def end(self) -> float:
        """Days after today when it is over."""
        return self.start + self.days


@dataclass(frozen=True)
class Calendar:
    """When the piece can be ready, what that depends on, and the bars it is made of."""

    ready: date
    depends_on: tuple[str, ...]
    bars: tuple[Bar, ...]


def _holds(earlier: PlannedStep, later: PlannedStep) -> bool:
    """Whether what is waited for behind one step keeps another back: one of the same damage, one that comes after it, or of the whole piece."""
    return (
        later.step.phase not in APART or not set(earlier.damages).isdisjoint(later.damages) or earlier.step.id in later.step.after
    )


def _label(first: PlannedStep, last: PlannedStep) -> str:
    one, other = words.PHASES[first.step.phase], words.PHASES[last.step.phase]
    return one if one == other else f"{one} to {other.lower()}"


def _end(bars: Sequence[Bar], otherwise: float) -> float:
    return bars[-1].end if bars else otherwise


@dataclass(frozen=True)
class _Work:
    """A plan as time: the hours to wait behind each step, and the days that a minute of work takes at the shop's hours."""

    plan: Sequence[PlannedStep]
    waits: Sequence[float]
    days_a_minute: float

    def days(self, first: int, upto: int) -> float:
        """Days of work in the steps from `first` to before `upto` (0 the first of the plan)."""
        return sum(planned.minutes()[1] for planned in self.plan[first:upto]) * self.days_a_minute

    def worked(self, first: int, upto: int, at: float) -> list[Bar]:
        """These steps as one bar, where there are any."""
        if first == upto:
            return []
        return [Bar("work", _label(self.plan[first], self.plan[upto - 1]), at, self.days(first, upto), (first + 1, upto))]

    def waited(self, behind: int, at: float, until: float) -> list[Bar]:
        """The wait behind a step as a bar, where it is long enough to be one."""
        if until - at < SHORT_DAYS:
            return []
        return [Bar("wait", words.PHASES[self.plan[behind].step.phase], at, until - at, (behind + 1, behind + 1))]

    def before_its_turn(self, count: int, queue: float, to_get: Mapping[int, float]) -> list[Bar]:
        """The first `count` steps, done when it comes in: their waits run beside the queue, and so do orders."""
        over: dict[str, float] = {}
        last = 0
        for index, planned in enumerate(self.plan[:count]):
            begun = max([self.days(0, index + 1), *(over[name] for name in planned.step.after if name in over)])
            over[planned.step.id] = begun + max(self.waits[index] / 24.0, to_get.get(index + 1, 0.0))
            if over[planned.step.id] >= over.get(self.plan[last].step.id, 0.0):
                last = index
        bars = self.worked(0, count, 0.0)
        at = _end(bars, 0.0)
        if queue > at:
            bars.append(Bar("queue", "other work booked before it", at, queue - at))
        if over and self.waits[last]:
            bars += self.waited(last, _end(bars, 0.0), over[self.plan[last].step.id])
        return bars

    def at_the_bench(self, first: int, begins: float, outside_weeks: Mapping[str, tuple[float, float]]) -> list[Bar]:
        """The steps from `first` on, with the trades that have the piece in between."""
        trades = _last_steps(self.plan)
        bars: list[Bar] = []
        running: list[tuple[float, int]] = []
        for index, planned in enumerate(self.plan):
            if index < first:
                continue
            now = _end(bars, begins) + self.days(first, index)
            over, behind = max(
                ((end, other) for end, other in running if _holds(self.plan[other], planned)), default=(now, index)
            )
            if over - now >= SHORT_DAYS:
                bars += self.worked(first, index, _end(bars, begins))
                bars += self.waited(behind, _end(bars, begins), over)
                first = index
            trade = planned.step.trade
            if trade == "us" and self.waits[index] >= SHORT_H:
                running.append((_end(bars, begins) + self.days(first, index + 1) + self.waits[index] / 24.0, index))
            elif trade != "us" and trades[trade] == index:
                bars += self.worked(first, index + 1, _end(bars, begins))
                days = outside_weeks[trade][1] * 7.0
                bars.append(Bar("outside", words.BYS[trade], _end(bars, begins), days, (index + 1, index + 1)))
                first = index + 1
        bars += self.worked(first, len(self.plan), _end(bars, begins))
        return bars + (self.waited(max(running)[1], _end(bars, begins), max(running)[0]) if running else [])


def _last_steps(plan: Sequence[PlannedStep]) -> dict[str, int]:
    """The last step of each other trade, in the order in which they are done with it."""
    last = {planned.step.trade: index for index, planned in enumerate(plan) if planned.step.trade != "us"}
    return dict(sorted(last.items(), key=lambda item: item[1]))


def calendar(
    today: date,
    plan: Sequence[PlannedStep],
    weeks_booked: float,
    hours_a_week: float,
    outside_weeks: Mapping[str, tuple[float, float]],
    outside: Sequence[str] = (),
    minutes: float | None = None,
    to_get: Mapping[int, float] | None = None,
    waits: Sequence[float] | None = None,
) -> Calendar:
    """The day from which the piece may be ready: what is done when it comes in, the queue, then work at the shop's hours and every wait.

    A trade that a step belongs to has the piece at its last step, one of `outside` (who mends it in our place) at the end; the longer
    of the weeks is taken. `minutes` is the work in all where it is not the sum of the steps (a set, joints that may be hurt). `to_get`
    are the days until what a step uses is here, by its number (1 the first); nothing is opened before all of it is. `waits` are the
    hours behind each step, where glue and finish make them longer than the steps say. What never comes to the bench waits for no turn.

    >>> calendar(date(2026, 3, 2), [], 3, 25, {}).ready
    datetime.date(2026, 3, 23)
    """
    own = sum(planned.minutes()[1] for planned in plan)
    stretch = 1.0 if minutes is None or own == 0 else minutes / own
    comes_to_the_bench = not plan or any(planned.step.phase not in NO_BENCH for planned in plan)
    queue = weeks_booked * 7.0 if comes_to_the_bench else 0.0
    fetched = to_get or {}
    work = _Work(plan, waits or [planned.step.wait_hours for planned in plan], stretch / 60.0 / hours_a_week * 7.0)
    at_once = next((i for i, planned in enumerate(plan) if planned.step.phase not in AT_ONCE), len(plan))
    bars = [Bar("buy", "parts on order", 0.0, max(fetched.values()))] if fetched else []
    before = work.before_its_turn(at_once, queue, fetched)
    begins = max([_end(before, 0.0), *fetched.values()])
    bench = work.at_the_bench(at_once, begins, outside_weeks)
    bars += [*before, *bench]
    at, trades = _end(bench, begins), list(_last_steps(plan))
    for trade in dict.fromkeys(outside):
        if trade in outside_weeks and trade not in trades:
            trades.append(trade)
            bars.append(Bar("outside", words.BYS[trade], at, outside_weeks[trade][1] * 7.0))
            at = bars[-1].end
    ready = today + timedelta(days=ceil(at - 1e-9))
    booked = weeks_booked if queue else 0.0
    return Calendar(ready, tuple(_depends(bars, booked, outside_weeks, trades)), tuple(bars))


def _depends(
    bars: Sequence[Bar], weeks_booked: float, outside_weeks: Mapping[str, tuple[float, float]], trades: Sequence[str]
) -> Iterator[str]:
    if weeks_booked:
        yield f"{_many(weeks_booked, 'week')} of work booked before it"
    bought = sum(bar.days for bar in bars if bar.kind == "buy")
    if bought:
        yield f"parts on order, up to {bought:g} days"
    waits = [bar for bar in bars if bar.kind == "wait"]
    offered = sum(bar.days for bar in waits if bar.what == OFFERED)
    waiting = sum(bar.days for bar in waits) - offered
    if waiting >= 1:
        yield f"about {_long(waiting)} of waiting while it dries, hardens or is watched"
    if offered >= 1:
        yield f"about {_long(offered)} until others have sent their offer"
    for trade in trades:
        low, high = outside_weeks[trade]
        yield f"{words.BYS[trade]}, {low:g} to {high:g} weeks"
    yield OPENED


def _long(days: float) -> str:
    weeks = round(days / 7)
    return _many(weeks, "week") if weeks >= 3 else _many(ceil(days), "day")


def _many(count: float, what: str) -> str:
    return f"{count:g} {what}" if count == 1 else f"{count:g} {what}s"
