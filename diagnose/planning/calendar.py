"""From work, waiting and the queue to a week."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

# Outside trades keep their own time: weeks from and to, judgement.
OUTSIDE_WEEKS = {"caner": (4, 8), "upholsterer": (2, 6), "conservator": (4, 16), "licensed": (2, 6), "maker": (2, 8)}


@dataclass(frozen=True)
class Calendar:
    """When the piece can be ready, and what that depends on."""

    ready: date
    depends_on: tuple[str, ...]


def calendar(
    today: date,
    minutes: float,
    waiting_hours: float,
    weeks_booked: float,
    hours_a_week: float,
    outside: tuple[str, ...] = (),
) -> Calendar:
    """The day from which the piece may be ready: the queue, the work at the shop's hours, the waiting, the slowest outside trade.

    >>> calendar(date(2026, 3, 2), 300, 48, 3, 25).ready
    datetime.date(2026, 3, 27)
    """
    days = weeks_booked * 7 + minutes / 60 / hours_a_week * 7 + waiting_hours / 24
    depends = [f"{weeks_booked:g} weeks of work are booked before it"]
    if waiting_hours >= 24:
        depends.append(f"about {ceil(waiting_hours / 24)} days of waiting for glue, drying or finish")
    slowest = max((OUTSIDE_WEEKS[trade] for trade in outside if trade in OUTSIDE_WEEKS), key=lambda w: w[1], default=None)
    if slowest:
        days += slowest[1] * 7
        depends.append(f"outside work of {slowest[0]} to {slowest[1]} weeks")
    depends.append("your answer, and what is found when it is opened")
    return Calendar(today + timedelta(days=ceil(days)), tuple(depends))
