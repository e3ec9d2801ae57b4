"""What makes a glue-up fit that does not, each change tried by the same search, with how much of it is needed."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from diagnose.planning.clock.model import Glue, GlueUp, Schedule
from diagnose.planning.clock.search import NoOrder, schedule

MOST_MORE_HANDS = 3
COLDEST_TRIED_C, WARMEST_TRIED_C = 5, 30


What = Literal["closings", "hands", "clamps", "wood_c", "glue"]


@dataclass(frozen=True)
class Change:
    """One change alone that makes it fit: what, to how much (hands, clamps, closings, °C) or to which glue, and what comes of it."""

    what: What
    to: float
    glue: Glue | None
    schedule: Schedule


def _fitting(glue_up: GlueUp, most: int | None) -> Schedule | None:
    try:
        found = schedule(glue_up, most)
    except NoOrder:
        return None
    return found if found.fits else None


def _with_glue(glue_up: GlueUp, glue: Glue) -> GlueUp:
    """The glue-up with every bond whose glue is out sooner glued with another."""
    slower = glue.stays_open(glue_up.wood_c)
    bonds = tuple(replace(b, glue=glue) if b.glue.stays_open(glue_up.wood_c) < slower else b for b in glue_up.bonds)
    return replace(glue_up, bonds=bonds)


def _temperatures(glue_up: GlueUp) -> Iterator[float]:
    """Whole degrees, nearest first."""
    tried = range(COLDEST_TRIED_C, WARMEST_TRIED_C + 1)
    yield from sorted(tried, key=lambda degrees: (abs(degrees - glue_up.wood_c), -degrees))


def _ways(
    glue_up: GlueUp, most: int | None, others: Sequence[Glue]
) -> Iterator[tuple[What, Iterable[tuple[float, Glue | None, GlueUp, int | None]]]]:
    units, clamps = len(glue_up.units), sum(bond.clamps for bond in glue_up.bonds)
    if most is not None:
        yield "closings", ((n, None, glue_up, n) for n in range(most + 1, units + 1))
    yield (
        "hands",
        ((h, None, replace(glue_up, hands=h), most) for h in range(glue_up.hands + 1, glue_up.hands + MOST_MORE_HANDS + 1)),
    )
    yield "clamps", ((c, None, replace(glue_up, clamps=c), most) for c in range(glue_up.clamps + 1, clamps + 1))
    if any(b.glue.two_part or (b.glue.coldest_c or -99) > glue_up.wood_c for b in glue_up.bonds):
        yield "wood_c", ((t, None, replace(glue_up, wood_c=t), most) for t in _temperatures(glue_up))
    yield "glue", ((glue.stays_open(glue_up.wood_c), glue, _with_glue(glue_up, glue), most) for glue in others)


def changes(glue_up: GlueUp, others: Sequence[Glue] = (), most: int | None = None) -> tuple[Change, ...]:
    """Every single change after which the glue-up fits in at most `most` closings, the least of each kind; of glues the first of `others`.

    Empty where it fits as it is, or where no one change suffices.
    """
    if _fitting(glue_up, most) is not None:
        return ()
    found: list[Change] = []
    for what, tries in _ways(glue_up, most, others):
        for to, glue, changed, closings in tries:
            fitting = _fitting(changed, closings)
            if fitting is not None:
                found.append(Change(what, to, glue, fitting))
                break
    return tuple(found)
