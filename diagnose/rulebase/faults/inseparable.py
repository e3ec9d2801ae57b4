"""Two causes that can act on the same damage, and no sign tells them apart.

A sign separates two causes when it can be asked where they act, and what they show on it lies at least .3 apart in
total variation.
"""

from collections.abc import Iterator
from functools import cache
from itertools import combinations

from diagnose.rulebase.entries import Cause
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded
from diagnose.rulebase.meeting import can_meet, wider_words
from diagnose.rulebase.rows import APART, apart, seen_with

CODE = "inseparable"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Pairs of causes that stay together whatever is answered."""
    signs, causes, scale = loaded.found["signs"], loaded.found["causes"], loaded.scale
    assert scale is not None
    wider = wider_words(loaded.found["pieces"].values(), loaded.woods.values())

    @cache
    def shows(sign: str, cause: str) -> dict[str, float]:
        return seen_with(scale, signs[sign], causes[cause])

    @cache
    def can_be_asked(sign: str, cause: str) -> bool:
        return can_meet(signs[sign].when, causes[cause].when, wider)

    def separable(one: Cause, other: Cause) -> bool:
        return any(
            apart(signs[sign], shows(sign, one.id), shows(sign, other.id)) >= APART
            and can_be_asked(sign, one.id)
            and can_be_asked(sign, other.id)
            for sign in {*one.shows, *other.shows}
        )

    for one, other in combinations(causes.values(), 2):
        if can_meet(one.when, other.when, wider) and not separable(one, other):
            mark = loaded.mark("causes", other.id, "shows")
            yield Fault(mark, CODE, f"no sign tells {one.id} from {other.id}", "give one of them a sign of its own")
