"""From work, waiting, the queue and other trades to a week: one bar after another, in the order of the plan."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import Literal

from diagnose import words
from diagnose.planning.compose import PlannedStep

Kind = Literal["queue", "buy", "work", "wait", "outside"]
# A wait shorter than this is spent on other work and stands in no bar.
SHORT_H = 4.0


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


@dataclass(frozen=True)
class _Stretch:
    """A stretch of the plan: minutes of work, hours of waiting, or a trade's turn, with its first and last step."""

    kind: Kind
    amount: float
    what: str
    steps: tuple[int, int]


def _stretches(plan: Sequence[PlannedStep], cure_h: float) -> Iterator[_Stretch]:
    """The plan in its order; work between two waits is one stretch, and a trade has the piece at the last of its steps."""
    last_of = {planned.step.trade: index for index, planned in enumerate(plan)}
    minutes, first = 0.0, 0
    for index, planned in enumerate(plan):
        step = planned.step
        minutes += planned.minutes()[1]
        theirs = step.trade != "us"
        wait = 0.0 if theirs else max(step.wait_hours, cure_h if step.phase == "cure" else 0.0)
        sent = theirs and last_of[step.trade] == index
        if wait < SHORT_H and not sent:
            continue
        yield _Stretch("work", minutes, _label(plan[first], planned), (first + 1, index + 1))
        minutes, first = 0.0, index + 1
        here = (index + 1, index + 1)
        yield _Stretch("outside", 0.0, step.trade, here) if sent else _Stretch("wait", wait, words.PHASES[step.phase], here)
    if minutes:
        yield _Stretch("work", minutes, _label(plan[first], plan[-1]), (first + 1, len(plan)))


def _label(first: PlannedStep, last: PlannedStep) -> str:
    one, other = words.PHASES[first.step.phase], words.PHASES[last.step.phase]
    return one if one == other else f"{one} to {other.lower()}"


def calendar(
    today: date,
    plan: Sequence[PlannedStep],
    weeks_booked: float,
    hours_a_week: float,
    outside_weeks: Mapping[str, tuple[float, float]],
    outside: Sequence[str] = (),
    minutes: float | None = None,
    days_to_get: float = 0.0,
    cure_h: float = 0.0,
) -> Calendar:
    """The day from which the piece may be ready: the queue, then work at the shop's hours and every wait in the order of the plan.

    A trade that a step belongs to has the piece at its last step, one of `outside` (who mends it in our place) at the end; the longer
    of the weeks is taken. `minutes` is the work in all where it is not the sum of the steps (a set, joints that may be hurt);
    `days_to_get` runs beside the queue; `cure_h` is the full cure of the glue where it is longer than the step says.

    >>> calendar(date(2026, 3, 2), [], 3, 25, {}).ready
    datetime.date(2026, 3, 23)
    """
    own = sum(planned.minutes()[1] for planned in plan)
    stretch = 1.0 if minutes is None or own == 0 else minutes / own
    queue = weeks_booked * 7.0
    bars = [Bar("queue", "other work booked before it", 0.0, queue)] if queue else []
    if days_to_get:
        bars.append(Bar("buy", "parts on order", 0.0, days_to_get))
    at = max(queue, days_to_get)

    def add(kind: Kind, what: str, days: float, steps: tuple[int, int] | None = None) -> None:
        nonlocal at
        bars.append(Bar(kind, what, at, days, steps))
        at += days

    trades: list[str] = []
    for part in _stretches(plan, cure_h):
        if part.kind == "outside":
            trades.append(part.what)
            add(part.kind, words.BYS[part.what], outside_weeks[part.what][1] * 7.0, part.steps)
        else:
            hours = part.amount * stretch / 60.0 / hours_a_week * 168.0 if part.kind == "work" else part.amount
            add(part.kind, part.what, hours / 24.0, part.steps)
    for trade in outside:
        if trade in outside_weeks and trade not in trades:
            trades.append(trade)
            add("outside", words.BYS[trade], outside_weeks[trade][1] * 7.0)
    return Calendar(
        today + timedelta(days=ceil(at - 1e-9)), tuple(_depends(bars, weeks_booked, outside_weeks, trades)), tuple(bars)
    )


def _depends(
    bars: Sequence[Bar], weeks_booked: float, outside_weeks: Mapping[str, tuple[float, float]], trades: Sequence[str]
) -> Iterator[str]:
    yield f"{weeks_booked:g} weeks of work are booked before it"
    bought = sum(bar.days for bar in bars if bar.kind == "buy")
    if bought:
        yield f"parts on order, up to {bought:g} days"
    waiting = sum(bar.days for bar in bars if bar.kind == "wait")
    if waiting >= 1:
        yield f"about {ceil(waiting)} days of waiting for glue, drying or finish"
    for trade in trades:
        low, high = outside_weeks[trade]
        yield f"{words.BYS[trade]}, {low:g} to {high:g} weeks"
    yield "your answer, and what is found when it is opened"
