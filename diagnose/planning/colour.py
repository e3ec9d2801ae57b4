"""Colour and finish: the order of the drops, what each tells, which finish it may be, how it is built up and how long that takes."""

from dataclasses import dataclass

from diagnose.reasoning.facts import Values, satisfied
from diagnose.rulebase.entries import Finish, SpotTest, Staining
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.woods import Wood


@dataclass(frozen=True)
class Drop:
    """One drop of the spot test, and the finishes that it is the first to move."""

    test: SpotTest
    tells: tuple[Finish, ...]


def drops(knowledge: Knowledge) -> tuple[Drop, ...]:
    """The spot test in its order, the gentlest first."""
    tests = sorted(knowledge.spot_tests.values(), key=lambda test: (test.order, test.id))
    return tuple(Drop(t, tuple(f for f in knowledge.finishes.values() if f.moved_by == t.id)) for t in tests)


def unmoved(knowledge: Knowledge) -> tuple[Finish, ...]:
    """The finishes that no drop moves."""
    return tuple(finish for finish in knowledge.finishes.values() if finish.moved_by is None)


def found(knowledge: Knowledge, values: Values) -> tuple[Finish, ...]:
    """The finishes that the readings name; none where nobody has looked yet."""
    return tuple(
        finish for finish in knowledge.finishes.values() if finish.when.keys() and satisfied(finish.when, values) is True
    )


def build_days(finish: Finish) -> tuple[float, float]:
    """Days from the first coat to full use, from and to: the waits between the coats, and the hardening of the last.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> tuple(round(days, 1) for days in build_days(load_knowledge().finishes["oil_varnish"]))
    (31.0, 33.0)
    """
    low, high = finish.coats
    return ((low - 1) * finish.recoat_h[0] + finish.hard_h) / 24, ((high - 1) * finish.recoat_h[1] + finish.hard_h) / 24


def goes_over(upper: Finish, lower: Finish) -> bool:
    """Whether one finish may be laid on another."""
    return lower.id not in upper.never_over


def staining(knowledge: Knowledge, wood: Wood | None) -> tuple[Staining, ...]:
    """What helps colour on this wood; where the wood is not known, what is done on any wood."""
    every = {"low", "moderate", "high", "unknown"}
    if wood is None:
        return tuple(one for one in knowledge.staining.values() if set(one.blotch) == every)
    return tuple(one for one in knowledge.staining.values() if wood.blotch in one.blotch or wood.pores in one.pores)
