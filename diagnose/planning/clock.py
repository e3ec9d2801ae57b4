"""The glue-up clock: whether spreading, closing and squaring fit inside the working time, and if not, how to part the work."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from diagnose.planning.compose import PlannedStep


@dataclass(frozen=True)
class Clock:
    """Minutes of one glue-up: what it takes, what the glue allows, into how many closings it must be parted."""

    bonds: int
    takes: float
    allows: float
    closings: int

    @property
    def spare(self) -> float:
        """Minutes to spare in each closing; below 0 only when even one bond does not fit."""
        return self.allows - self.takes / self.closings

    @property
    def feasible(self) -> bool:
        """Whether it fits, parted into closings or not."""
        return self.spare >= 0.0


def glue_minutes(steps: Sequence[PlannedStep]) -> tuple[int, float]:
    """Bonds, and the likely minutes between the first spread and the last clamp: every step of the glue phase."""
    glue = [planned for planned in steps if planned.step.phase == "glue" and planned.step.wait_hours == 0]
    bonds = max((planned.count for planned in glue if planned.step.per == "bond"), default=0)
    return bonds, sum(planned.minutes()[1] for planned in glue)


def clock(bonds: int, takes: float, working_min: float) -> Clock:
    """The clock of a glue-up of `bonds` glue lines taking `takes` minutes with a glue that stays open `working_min` minutes.

    Work that is too long is parted into closings of whole bonds, each with its share of the minutes. Raises ValueError for no bond.

    >>> clock(4, 16, 10).closings, clock(4, 16, 10).spare
    (2, 2.0)
    """
    if bonds < 1:
        raise ValueError("a glue-up has at least one bond")
    per_bond = takes / bonds
    most = max(1, int(working_min // per_bond)) if per_bond > 0 else bonds
    return Clock(bonds, takes, working_min, ceil(bonds / most))
