"""Finding the closings: exact for up to ten bonds by dynamic programming over subsets, a stated heuristic above.

More closings always leave more to spare, and each costs the cure of the one before. So the fewest closings that fit are taken, and
of as many the order and grouping with the most time to spare. A closing holds one glue only, unless bonds that cannot be closed
apart ask for two; the bonds of sub-frames are closed before those that join them.
"""

from dataclasses import replace
from functools import lru_cache

from diagnose.planning.clock.hands import Hands
from diagnose.planning.clock.model import GlueUp, Schedule

# Up to so many bonds every grouping is searched.
MOST_EXACT = 10


class NoOrder(ValueError):
    """No grouping keeps to the clamps; the message says how many there must be."""


class _Search:
    """The groupings of one glue-up."""

    def __init__(self, glue_up: GlueUp) -> None:
        self.glue_up = glue_up
        self.hands = Hands(glue_up)
        self.masks = [sum(1 << index for index in unit) for unit in glue_up.units]
        self.framed = [bool(glue_up.bonds[unit[0]].frame) for unit in glue_up.units]
        self.glues = [frozenset(glue_up.bonds[index].glue.name for index in unit) for unit in glue_up.units]
        self.clamps = [sum(glue_up.bonds[index].clamps for index in unit) for unit in glue_up.units]
        if max(self.clamps) > glue_up.clamps:
            raise NoOrder(f"what must be closed at once takes {max(self.clamps)} clamps, and there are {glue_up.clamps}")
        self.all = (1 << len(self.masks)) - 1
        self._blocks: dict[int, float | None] = {}
        self._best: dict[tuple[int, int], tuple[float, tuple[int, ...]] | None] = {}

    def units_in(self, block: int) -> list[int]:
        return [unit for unit in range(len(self.masks)) if block >> unit & 1]

    def bonds_in(self, block: int) -> int:
        return sum(self.masks[unit] for unit in self.units_in(block))

    def spare(self, block: int) -> float | None:
        """Minutes to spare when these units are one closing; None where they may not be."""
        if block not in self._blocks:
            units = self.units_in(block)
            one_glue = len(units) == 1 or len(frozenset().union(*(self.glues[unit] for unit in units))) == 1
            one_stage = len({self.framed[unit] for unit in units}) == 1
            enough = sum(self.clamps[unit] for unit in units) <= self.glue_up.clamps
            allowed = one_glue and one_stage and enough
            self._blocks[block] = self.hands.spare(self.bonds_in(block)) if allowed else None
        return self._blocks[block]

    def best(self, left: int, closings: int) -> tuple[float, tuple[int, ...]] | None:
        """Most to spare for the units `left` in at most so many closings, and the closings; None where they do not suffice."""
        if not left:
            return float("inf"), ()
        if not closings:
            return None
        key = (left, closings)
        if key not in self._best:
            found = None
            low = left & -left
            rest = left ^ low
            sub = rest
            while True:  # `sub` joins the first unit that is left; the others come later.
                spare = self.spare(low | sub)
                if spare is not None and (found is None or spare > found[0] + 1e-12):
                    after = self.best(rest ^ sub, closings - 1)
                    if after is not None and (found is None or min(spare, after[0]) > found[0] + 1e-12):
                        found = min(spare, after[0]), (low | sub, *after[1])
                if not sub:
                    break
                sub = (sub - 1) & rest
            self._best[key] = found
        return self._best[key]

    def dealt(self, closings: int) -> tuple[int, ...] | None:
        """Each unit in turn, tightest first, to the closing that it hurts least; None where some unit finds no room."""
        blocks: list[int] = []
        for unit in sorted(range(len(self.masks)), key=lambda u: (self.hands.spare(self.masks[u]), u)):
            options = [(self.spare(block | 1 << unit), -place) for place, block in enumerate(blocks)]
            possible = [(spare, place) for spare, place in options if spare is not None]
            if len(blocks) < closings:
                blocks.append(1 << unit)
            elif possible:
                blocks[-max(possible)[1]] |= 1 << unit
            else:
                return None
        return tuple(blocks)

    def in_stages(self, blocks: tuple[int, ...], proven: bool) -> Schedule:
        """The schedule of these closings: sub-frames first, then as the bonds were given."""
        order = sorted(blocks, key=lambda block: (not self.framed[self.units_in(block)[0]], self.units_in(block)))
        return Schedule(tuple(self.hands.closing(self.bonds_in(block)) for block in order), proven)


def best(glue_up: GlueUp, closings: int) -> Schedule | None:
    """The schedule with most to spare in at most `closings` closings (1 or more), fitting or not; None where there is none.

    Proven up to ten bonds. Above, the bonds are dealt out tightest first, and `proven` is False. Raises NoOrder for too few clamps.
    """
    search = _search(glue_up)
    if len(glue_up.bonds) <= MOST_EXACT:
        found = search.best(search.all, closings)
        return search.in_stages(found[1], True) if found is not None else None
    blocks = search.dealt(closings)
    return search.in_stages(blocks, False) if blocks is not None else None


@lru_cache(maxsize=16)
def _search(glue_up: GlueUp) -> _Search:
    return _Search(glue_up)


def schedule(glue_up: GlueUp, most: int | None = None) -> Schedule:
    """The fewest closings that fit, with the most time to spare; where none fits, the one that comes nearest.

    `most` is the greatest number of closings wanted. Raises NoOrder where no grouping keeps to the clamps or to `most`.

    >>> from diagnose.planning.clock.model import Bond, Glue
    >>> wood, resin = Glue("wood glue", 20), Glue("epoxy", 6)
    >>> two = (Bond("rail", wood, 5, 1, together="a"), Bond("metal", resin, 1, 1, together="a"))
    >>> [(task.minute, task.does, task.bond) for task in schedule(GlueUp(two)).closings[0].tasks]
    [(0, 'spread', 0), (5, 'spread', 1), (6, 'close', 0), (7, 'close', 1)]
    """
    nearest: Schedule | None = None
    units = len(glue_up.units)
    for closings in range(1, min(units, most or units) + 1):
        found = best(glue_up, closings)
        if found is not None and found.fits:
            return found
        if found is not None and (nearest is None or found.spare > nearest.spare + 1e-9):
            nearest = found
    if nearest is None:
        raise NoOrder(
            f"no grouping of {len(glue_up.bonds)} bonds into {most} closings keeps to {glue_up.clamps} clamps and one glue each"
        )
    return nearest


def needed_minutes(glue_up: GlueUp, closings: int | None = None) -> float:
    """Working time that a glue must have, at the wood's temperature, for these bonds to fit in so many closings (as many as may be)."""
    bonds = tuple(replace(bond, glue=replace(bond.glue, name="any", open_min=0.0)) for bond in glue_up.bonds)
    found = best(replace(glue_up, bonds=bonds), closings or len(glue_up.units))
    if found is None:
        raise NoOrder(f"{closings} closings are too few for {glue_up.clamps} clamps")
    return -found.spare / glue_up.use
