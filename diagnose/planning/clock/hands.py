"""Sharing one closing among the hands: who spreads and who closes which bond, so that the most working time is left.

Everything is spread, then everything is closed, then it is squared: a frame closes all at once. Seen backwards from the minute when
all is spread, each bond must be "done" (its spreading begun) no later than its working time allows, which is the scheduling of jobs
with due dates on equal machines. One pair of hands then does best by the earliest due date (Jackson, 1955), which forwards means: the
slowest glue is spread first and the fastest mixed last. For more hands every way to part the bonds is tried, by dynamic programming
over subsets, and so is every way to part the closing.
"""

from collections.abc import Callable, Iterator

from diagnose.planning.clock.model import Closing, GlueUp, Task

Parts = tuple[int, ...]
_Kept = dict[tuple[int, int], tuple[float, Parts]]
# So many bonds of one closing are parted among the hands in every way; with more, each goes to whoever has least to do.
MOST_PARTED = 10


def bits(mask: int) -> Iterator[int]:
    """The numbers in a set kept as bits.

    >>> list(bits(0b1010))
    [1, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


class Hands:
    """The best sharing of every closing of one glue-up; worked out once for each set of bonds."""

    def __init__(self, glue_up: GlueUp) -> None:
        self.glue_up = glue_up
        self.limits = [glue_up.limit(index) for index in range(len(glue_up.bonds))]
        # Slow glue first, fast glue last; of equals the one written first.
        self.order = sorted(range(len(glue_up.bonds)), key=lambda index: (-self.limits[index], index))
        self._late: dict[int, float] = {}
        self._spread: _Kept = {}
        self._close: _Kept = {}

    def late(self, mask: int) -> float:
        """By how much one pair of hands, spreading these bonds, overruns the tightest limit by the time the last is spread (below 0: room)."""
        if mask not in self._late:
            elapsed, worst = 0.0, float("-inf")
            for index in reversed(self.order):
                if mask >> index & 1:
                    elapsed += self.glue_up.bonds[index].spread_min
                    worst = max(worst, elapsed - self.limits[index])
            self._late[mask] = worst
        return self._late[mask]

    def length(self, mask: int) -> float:
        """Minutes that one pair of hands takes to close these bonds."""
        return sum(self.glue_up.bonds[index].close_min for index in bits(mask))

    def spread(self, mask: int) -> tuple[float, Parts]:
        """The least overrun when all hands spread these bonds, and who spreads which."""
        if mask.bit_count() > MOST_PARTED:
            parts = self._dealt(mask, [bond.spread_min for bond in self.glue_up.bonds])
            return max(self.late(part) for part in parts), parts
        return self._parted(mask, min(self.glue_up.hands, mask.bit_count()), self._spread, self.late)

    def close(self, mask: int) -> tuple[float, Parts]:
        """The fewest minutes in which all hands close these bonds, and who closes which."""
        if mask.bit_count() > MOST_PARTED:
            parts = self._dealt(mask, [bond.close_min for bond in self.glue_up.bonds])
            return max(self.length(part) for part in parts), parts
        return self._parted(mask, min(self.glue_up.hands, mask.bit_count()), self._close, self.length)

    def _parted(self, mask: int, hands: int, kept: _Kept, cost: Callable[[int], float]) -> tuple[float, Parts]:
        if hands <= 1 or mask.bit_count() == 1:
            return cost(mask), (mask,)
        key = (mask, hands)
        if key not in kept:
            low = mask & -mask
            rest = mask ^ low
            found: tuple[float, Parts] = (cost(mask), (mask,))
            sub = rest
            while sub:  # `sub` is what the other hands do; the lowest bond is always the first pair's.
                sub_cost, parts = self._parted(sub, hands - 1, kept, cost)
                whole = max(cost(mask ^ sub), sub_cost)
                if whole < found[0] - 1e-12:
                    found = whole, (mask ^ sub, *parts)
                sub = (sub - 1) & rest
            kept[key] = found
        return kept[key]

    def _dealt(self, mask: int, minutes: list[float]) -> Parts:
        """Longest first to whoever has least to do: no proof, but seldom far off."""
        loads, parts = [0.0] * self.glue_up.hands, [0] * self.glue_up.hands
        for index in sorted(bits(mask), key=lambda i: (-minutes[i], i)):
            hand = loads.index(min(loads))
            loads[hand] += minutes[index]
            parts[hand] |= 1 << index
        return tuple(part for part in parts if part)

    def spare(self, mask: int) -> float:
        """Minutes to spare when these bonds are one closing."""
        return -(self.spread(mask)[0] + self.close(mask)[0] + self.glue_up.square_min)

    def closing(self, mask: int) -> Closing:
        """The closing of these bonds, minute by minute: all hands are done with spreading in the same minute, then all close."""
        bonds, tasks, starts = self.glue_up.bonds, [], {}
        spread_parts, close_parts = self.spread(mask)[1], self.close(mask)[1]
        all_spread = max(sum(bonds[index].spread_min for index in bits(part)) for part in spread_parts)
        for hand, part in enumerate(spread_parts):
            minute = all_spread - sum(bonds[index].spread_min for index in bits(part))
            for index in (i for i in self.order if part >> i & 1):
                tasks.append(Task(minute, bonds[index].spread_min, hand, "spread", index))
                starts[index] = minute
                minute += bonds[index].spread_min
        all_closed = all_spread
        for hand, part in enumerate(close_parts):
            minute = all_spread
            for index in (i for i in self.order if part >> i & 1):
                tasks.append(Task(minute, bonds[index].close_min, hand, "close", index))
                minute += bonds[index].close_min
            all_closed = max(all_closed, minute)
        if self.glue_up.square_min:
            tasks.append(Task(all_closed, self.glue_up.square_min, 0, "square", None))
        tasks.sort(key=lambda task: (task.minute, task.hand, task.does != "spread"))
        return Closing(
            bonds=tuple(sorted(starts, key=lambda index: (starts[index], self.order.index(index)))),
            tasks=tuple(tasks),
            ends=all_closed + self.glue_up.square_min,
            latest=min(starts[index] + self.limits[index] for index in starts),
            clamps=sum(bonds[index].clamps for index in bits(mask)),
        )
