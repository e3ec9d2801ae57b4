"""What the clock is told and what it answers: bonds and their glues in, closings with their minutes out. All times in minutes."""

from dataclasses import dataclass
from functools import cached_property
from math import isfinite

from diagnose.mechanics.adhesives import working_time
from diagnose.mechanics.result import OutOfRange

# A two-part glue of the tables, for its rule of temperature alone; the minutes are always those of the glue at hand.
_ANY_TWO_PART = "slow-epoxy"


def _speed(from_c: float, to_c: float) -> float | None:
    """How many times longer a two-part cure takes at `to_c` than at `from_c`; None outside the range of the rule."""
    try:
        return working_time(_ANY_TWO_PART, to_c, 1.0).value / working_time(_ANY_TWO_PART, from_c, 1.0).value
    except OutOfRange:
        return None


@dataclass(frozen=True)
class Glue:
    """A glue as the clock sees it: minutes it stays open at `at_c` °C; `coldest_c` is the least warmth of the wood at which it sets."""

    name: str
    open_min: float
    at_c: float = 25.0
    two_part: bool = False
    coldest_c: float | None = None

    def stays_open(self, wood_c: float) -> float:
        """Minutes of working time on wood of `wood_c` °C: 0 below `coldest_c`, for what is closed there does not set.

        The doubling rule of two-part cures holds from 5 to 40 °C; outside, nothing is known, and that counts as no time. A glue that
        sets by losing water keeps the minutes of its label. Source: `mechanics.adhesives.working_time`.

        >>> [round(Glue("epoxy", 30, 25, two_part=True).stays_open(c)) for c in (15, 25, 35)]
        [60, 30, 15]
        """
        if self.coldest_c is not None and wood_c < self.coldest_c:
            return 0.0
        return self.open_min * self.slower(wood_c)

    def slower(self, wood_c: float) -> float:
        """How many times longer everything takes than at `at_c`: 1 but for two-part glues; 0 where the rule says nothing."""
        return 1.0 if not self.two_part else (_speed(self.at_c, wood_c) or 0.0)


@dataclass(frozen=True)
class Bond:
    """One glue line. `frame` is the sub-frame it belongs to, empty where it joins sub-frames or stands alone.

    Bonds with the same word in `together` cannot be closed apart: a rail that meets two legs goes home in both at once.
    """

    name: str
    glue: Glue
    spread_min: float
    close_min: float
    clamps: int = 1
    frame: str = ""
    together: str = ""


@dataclass(frozen=True)
class GlueUp:
    """Everything that is glued with one preparation. `use` is the share of the working time that may be used (0 to 1).

    Raises ValueError for no bonds, negative minutes or clamps, no hands, or bonds that must close together on both sides of a sub-frame.
    """

    bonds: tuple[Bond, ...]
    hands: int = 1
    clamps: int = 12
    square_min: float = 0.0
    wood_c: float = 20.0
    use: float = 1.0

    def __post_init__(self) -> None:
        if not self.bonds:
            raise ValueError("a glue-up has at least one bond")
        times = [self.square_min, *(m for bond in self.bonds for m in (bond.spread_min, bond.close_min, bond.glue.open_min))]
        if not all(isfinite(minutes) and minutes >= 0 for minutes in times):
            raise ValueError("minutes of a glue-up are 0 or more")
        if self.hands < 1 or self.clamps < 0 or any(bond.clamps < 0 for bond in self.bonds):
            raise ValueError("a glue-up has one pair of hands or more, and no fewer than 0 clamps")
        if not 0 < self.use <= 1:
            raise ValueError("the share of the working time that may be used is over 0 and at most 1")
        for unit in self.units:
            if len({bool(self.bonds[index].frame) for index in unit}) > 1:
                raise ValueError("a bond of a sub-frame cannot be closed together with one that joins sub-frames")

    def limit(self, index: int) -> float:
        """Minutes from the first spread of a bond by which it must be closed and square."""
        return self.use * self.bonds[index].glue.stays_open(self.wood_c)

    @cached_property
    def units(self) -> tuple[tuple[int, ...], ...]:
        """The bonds by number, those that must be closed together in one unit, in the order given."""
        found: dict[str, list[int]] = {}
        for index, bond in enumerate(self.bonds):
            found.setdefault(f"={bond.together}" if bond.together else f"#{index}", []).append(index)
        return tuple(tuple(unit) for unit in found.values())


@dataclass(frozen=True)
class Task:
    """One thing done: from which minute of its closing, for how long, by whom (0 is the first pair of hands), on which bond.

    `bond` is None for squaring, which everybody does together.
    """

    minute: float
    lasts: float
    hand: int
    does: str
    bond: int | None


@dataclass(frozen=True)
class Closing:
    """Bonds closed together: in order of spreading, with their tasks, the minute it is square and the latest it may be."""

    bonds: tuple[int, ...]
    tasks: tuple[Task, ...]
    ends: float
    latest: float
    clamps: int

    @property
    def spare(self) -> float:
        """Minutes to spare; below 0 it does not fit."""
        return self.latest - self.ends


@dataclass(frozen=True)
class Schedule:
    """The closings in order. `proven` says that no other order and grouping of as many closings leaves more to spare."""

    closings: tuple[Closing, ...]
    proven: bool

    @property
    def spare(self) -> float:
        """Minutes to spare in the tightest closing."""
        return min(closing.spare for closing in self.closings)

    @property
    def fits(self) -> bool:
        """Whether every closing is square inside the working time of every glue in it."""
        return self.spare >= -1e-9
