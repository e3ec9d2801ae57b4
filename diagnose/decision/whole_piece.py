"""The piece as a whole: one method for each damage so that together they cost least.

Steps that several damages share are paid once, and the value of the piece is lost once however many damages spoil it; so the best
choice for each damage alone need not be the best for all. A piece is retired as a whole or mended as a whole.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

RETIRED = "retire_piece"
CLOSE = 1e-9


@dataclass(frozen=True)
class Way:
    """One permitted method of one damage.

    `again` is the expected money of failing again, `kept` the share of the piece's value that is left, `steps` the least money that
    each step of it costs, by name.
    """

    method: str
    decision: str
    again: float
    kept: float
    steps: Mapping[str, float]


def loss(ways: Sequence[Way], value: float) -> float:
    """What a choice loses apart from its price: failing again, damage by damage, and the value of the piece, once.

    >>> round(loss([Way("a", "reglue", 10.0, 0.9, {}), Way("b", "reglue", 5.0, 0.9, {})], 100.0), 6)
    34.0
    """
    kept = 1.0
    for way in ways:
        kept *= way.kept
    return sum(way.again for way in ways) + (1.0 - kept) * value


def floor_under(ways: Sequence[Way], value: float) -> float:
    """What a choice costs at the least: every step once and at its least, however many damages ask for it."""
    steps: dict[str, float] = {}
    for way in ways:
        steps.update(way.steps)
    return loss(ways, value) + sum(steps.values())


def whole_ways(damages: Sequence[Sequence[Way]]) -> list[list[list[Way]]]:
    """All damages mended, and all of them retired, where each has a way to; where neither is so, whatever each has."""
    found = []
    for retired in (False, True):
        group = [[way for way in ways if (way.decision == RETIRED) is retired] for ways in damages]
        if all(group):
            found.append(group)
    return found or [[list(ways) for ways in damages]]


def cheapest_together(damages: Sequence[Sequence[Way]], value: float, price: Callable[[Sequence[str]], float]) -> tuple[str, ...]:
    """The method for each damage, so that all together cost least; every choice is priced, or shown to cost more by its floor.

    `price` gives the expected price of the work for one method a damage, shared steps paid once; it is never under the sum of
    the steps. Of equal costs the one whose methods are cheaper alone wins. Raises ValueError for a damage without a way.
    """
    if not all(damages):
        raise ValueError("a damage has no way left")
    best = float("inf")
    chosen: tuple[str, ...] = ()

    def choices(group: Sequence[Sequence[Way]], taken: tuple[Way, ...]) -> Iterator[tuple[Way, ...]]:
        if floor_under(taken, value) + sum(min(way.again for way in ways) for ways in group[len(taken) :]) >= best - CLOSE:
            return
        if len(taken) == len(group):
            yield taken
            return
        for way in group[len(taken)]:
            yield from choices(group, (*taken, way))

    for group in whole_ways(damages):
        ordered = [sorted(ways, key=lambda way: (floor_under([way], value), way.method)) for ways in group]
        for taken in choices(ordered, ()):
            cost = loss(taken, value) + price([way.method for way in taken])
            if cost < best - CLOSE:
                best, chosen = cost, tuple(way.method for way in taken)
    return chosen
