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
# What every date depends on that is told before the piece is opened.
OPENED = "your answer, and what is found when it is opened"
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


class _Days:
    """The bars, one after another, as the plan is walked through."""

    def __init__(self, plan: Sequence[PlannedStep], waits: Sequence[float], days_a_minute: float) -> None:
        self.plan, self.waits, self.days_a_minute = plan, waits, days_a_minute
        self.bars: list[Bar] = []
        self.at = 0.0
        self._first, self._minutes = 0, 0.0

    def add(self, kind: Kind, what: str, days: float, steps: tuple[int, int] | None = None) -> None:
        self.bars.append(Bar(kind, what, self.at, days, steps))
        self.at += days

    def now(self) -> float:
        return self.at + self._minutes * self.days_a_minute

    def work(self, index: int) -> None:
        self._minutes += self.plan[index].minutes()[1]

    def worked(self, upto: int) -> None:
        """Close the stretch of work before step `upto` (0 the first)."""
        if upto > self._first:
            days = self._minutes * self.days_a_minute
            self.add("work", _label(self.plan[self._first], self.plan[upto - 1]), days, (self._first + 1, upto))
        self._first, self._minutes = upto, 0.0

    def wait(self, until: float, behind: int) -> None:
        """A wait for a step to be over, where it is long enough to be one."""
        if until - self.at >= SHORT_H / 24.0 - 1e-9:
            self.add("wait", words.PHASES[self.plan[behind].step.phase], until - self.at, (behind + 1, behind + 1))

    def before_its_turn(self, queue: float, to_get: Mapping[int, float]) -> int:
        """What is done when it comes in: its waits run beside the queue, and so do orders. The number of these steps."""
        over: dict[str, float] = {}
        last = 0
        count = next((i for i, planned in enumerate(self.plan) if planned.step.phase not in AT_ONCE), len(self.plan))
        for index, planned in enumerate(self.plan[:count]):
            self.work(index)
            begun = max([self.now(), *(over[name] for name in planned.step.after if name in over)])
            over[planned.step.id] = begun + max(self.waits[index] / 24.0, to_get.get(index + 1, 0.0))
            if over[planned.step.id] >= over.get(self.plan[last].step.id, 0.0):
                last = index
        self.worked(count)
        if queue > self.at:
            self.add("queue", "other work booked before it", queue - self.at)
        if over and self.waits[last]:
            self.wait(over[self.plan[last].step.id], last)
        self.at = max([self.at, *to_get.values()])
        return count

    def at_the_bench(self, start: int, outside_weeks: Mapping[str, tuple[float, float]]) -> tuple[str, ...]:
        """The steps from `start` on; the trades that have it in between."""
        last_of = {planned.step.trade: index for index, planned in enumerate(self.plan)}
        running: list[tuple[float, int]] = []
        trades = []
        for index in range(start, len(self.plan)):
            planned = self.plan[index]
            holding = [(end, other) for end, other in running if _holds(self.plan[other], planned)]
            if holding and max(holding)[0] - self.now() >= SHORT_H / 24.0 - 1e-9:
                self.worked(index)
                self.wait(*max(holding))
            self.work(index)
            trade = planned.step.trade
            if trade == "us":
                if self.waits[index] >= SHORT_H:
                    running.append((self.now() + self.waits[index] / 24.0, index))
            elif last_of[trade] == index:
                self.worked(index + 1)
                trades.append(trade)
                self.add("outside", words.BYS[trade], outside_weeks[trade][1] * 7.0, (index + 1, index + 1))
        self.worked(len(self.plan))
        if running:
            self.wait(*max(running))
        return tuple(trades)


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
    days = _Days(plan, waits or [planned.step.wait_hours for planned in plan], stretch / 60.0 / hours_a_week * 7.0)
    if fetched:
        days.bars.append(Bar("buy", "parts on order", 0.0, max(fetched.values())))
    done = days.before_its_turn(queue, fetched)
    trades = list(days.at_the_bench(done, outside_weeks))
    for trade in outside:
        if trade in outside_weeks and trade not in trades:
            trades.append(trade)
            days.add("outside", words.BYS[trade], outside_weeks[trade][1] * 7.0)
    ready = today + timedelta(days=ceil(days.at - 1e-9))
    booked = weeks_booked if queue else 0.0
    return Calendar(ready, tuple(_depends(days.bars, booked, outside_weeks, trades)), tuple(days.bars))


def _depends(
    bars: Sequence[Bar], weeks_booked: float, outside_weeks: Mapping[str, tuple[float, float]], trades: Sequence[str]
) -> Iterator[str]:
    if weeks_booked:
        yield f"{_many(weeks_booked, 'week')} of work booked before it"
    bought = sum(bar.days for bar in bars if bar.kind == "buy")
    if bought:
        yield f"parts on order, up to {bought:g} days"
    waiting = sum(bar.days for bar in bars if bar.kind == "wait")
    if waiting >= 1:
        weeks = round(waiting / 7)
        long = _many(weeks, "week") if weeks >= 3 else _many(ceil(waiting), "day")
        yield f"about {long} of waiting while it dries, hardens or is watched"
    for trade in trades:
        low, high = outside_weeks[trade]
        yield f"{words.BYS[trade]}, {low:g} to {high:g} weeks"
    yield OPENED


def _many(count: float, what: str) -> str:
    return f"{count:g} {what}" if count == 1 else f"{count:g} {what}s"
