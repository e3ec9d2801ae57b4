"""What every sum of this room gives back: a number that carries its unit, origin and doubts with it.

Nothing here rounds, prints or decides. A sum that cannot be done raises; a sum that can be done but was never tested
at these values gives a `Figure` with a warning in it, and the warning stays with the number wherever it goes.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from typing import Literal

KnownBy = Literal["read", "read_second_hand", "derived", "judgement", "memory"]
"""How a figure is known, best first: `read` in the published text, `read_second_hand` in a text that restates it,
`derived` by arithmetic from such figures or from plain statics, `judgement` of the trade, `memory` (not seen)."""

KNOWN_BY_ORDER: tuple[KnownBy, ...] = ("read", "read_second_hand", "derived", "judgement", "memory")


class MechanicsError(ValueError):
    """A sum that cannot be done; the message says what would be allowed."""


class OutOfRange(MechanicsError):
    """A number outside what the sum is meant for; the message names the valid range."""


class NotApplicable(MechanicsError):
    """The sum exists but does not hold for this case (wrong property, wrong kind of glue)."""


class NoSoundFormula(MechanicsError):
    """No formula worth the name is known for this; the message says what to do instead."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with everything a reader needs to judge it.

    `value` in `unit`; `formula` in words or symbols; `source` with table or equation; `known_by` the weakest link;
    `assumptions` made; `warnings` that must be shown beside the number; `range` the values the sum is meant for.

    >>> Figure(2.0, "mm", "a + b", "arithmetic", "derived").value
    2.0
    """

    value: float
    unit: str
    formula: str
    source: str
    known_by: KnownBy
    assumptions: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    range: str = ""

    @property
    def may_gate(self) -> bool:
        """Whether a decision may rest on it: never on a remembered figure."""
        return self.known_by != "memory"

    @property
    def published(self) -> bool:
        """Whether it may be shown as a published figure."""
        return self.known_by in ("read", "read_second_hand")

    def warned(self, *warnings: str) -> Figure:
        """The same figure with further warnings behind those it has; one said already is not said again."""
        fresh = tuple(dict.fromkeys(w for w in warnings if w not in self.warnings))
        return replace(self, warnings=self.warnings + fresh)

    def assuming(self, *assumptions: str) -> Figure:
        """The same figure with further assumptions behind those it has; one said already is not said again."""
        fresh = tuple(dict.fromkeys(a for a in assumptions if a not in self.assumptions))
        return replace(self, assumptions=self.assumptions + fresh)


def weakest(*known: KnownBy) -> KnownBy:
    """The weakest of several origins: a chain is known no better than its worst link. Raises ValueError for none.

    >>> weakest("read", "memory", "derived")
    'memory'
    """
    return max(known, key=KNOWN_BY_ORDER.index)


def within(
    name: str, value: float, low: float, high: float, unit: str, tested: tuple[float, float] | None = None
) -> tuple[str, ...]:
    """Checks `low` <= `value` <= `high` and gives back warnings when it lies outside the `tested` range.

    Raises OutOfRange naming the valid range when the value is outside it or not a finite number.

    >>> within("tenon length", 30, 5, 150, "mm", tested=(10, 50))
    ()
    >>> within("tenon length", 80, 5, 150, "mm", tested=(10, 50))
    ('tenon length 80 mm lies outside the tested range 10 to 50 mm',)
    >>> try: within("tenon length", 3000, 5, 150, "mm")
    ... except OutOfRange as error: print(error)
    tenon length is 3000 mm; it must lie between 5 and 150 mm
    """
    unit_text = f" {unit}" if unit else ""
    if not math.isfinite(value) or not low <= value <= high:
        raise OutOfRange(f"{name} is {value:g}{unit_text}; it must lie between {low:g} and {high:g}{unit_text}")
    if tested is not None and not tested[0] <= value <= tested[1]:
        return (f"{name} {value:g}{unit_text} lies outside the tested range {tested[0]:g} to {tested[1]:g}{unit_text}",)
    return ()


def share(name: str, value: float) -> float:
    """A share between 0 and 1, checked; raises OutOfRange otherwise.

    >>> share("clean area", 0.5)
    0.5
    """
    within(name, value, 0.0, 1.0, "(a share, 0 to 1)")
    return value


def interpolate(points: tuple[tuple[float, float], ...], x: float) -> float:
    """Straight lines between (x, y) points in rising order of x; outside, the end value is held.

    >>> interpolate(((0, 0), (10, 5)), 4)
    2.0
    """
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def one_of(name: str, value: str, allowed: tuple[str, ...]) -> None:
    """Raises MechanicsError naming what is allowed when `value` is not one of `allowed`.

    >>> one_of("face", "end", ("end", "side"))
    """
    if value not in allowed:
        raise MechanicsError(f"{name} {value!r} is not known; allowed: {', '.join(allowed)}")
