"""Two causes that can act on the same damage, and no sign tells them apart.

A sign separates two causes when what they show on it lies at least .3 apart in total variation.
"""

from collections.abc import Iterator
from itertools import combinations

from diagnose.rulebase.entries import Cause, When
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded
from diagnose.rulebase.rows import distance

CODE = "inseparable"
APART = 0.3


def _can_meet(one: When, other: When) -> bool:
    mine = {line.key: set(line.values) for line in one.lines}
    for line in other.lines:
        if line.key in mine and not mine[line.key] & set(line.values):
            return False
    return True


def _separable(loaded: Loaded, one: Cause, other: Cause) -> bool:
    assert loaded.scale is not None
    for sign_id in {*one.shows, *other.shows}:
        if distance(loaded.scale, loaded.found["signs"][sign_id], one, other) >= APART:
            return True
    return False


def check(loaded: Loaded) -> Iterator[Fault]:
    """Pairs of causes that stay together whatever is answered."""
    for one, other in combinations(loaded.found["causes"].values(), 2):
        if _can_meet(one.when, other.when) and not _separable(loaded, one, other):
            mark = loaded.mark("causes", other.id, "shows")
            yield Fault(mark, CODE, f"no sign tells {one.id} from {other.id}", "give one of them a sign of its own")
