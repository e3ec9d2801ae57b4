"""Two causes that can act on the same damage, and no sign tells them apart.

A sign separates two causes when it can be asked where they act, and what they show on it lies at least .3 apart in
total variation.
"""

from collections.abc import Iterator
from functools import cache
from itertools import combinations

from diagnose.rulebase.entries import Cause, Line, When
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded
from diagnose.rulebase.rows import apart, seen_with

CODE = "inseparable"
APART = 0.3


def _meant(loaded: Loaded, line: Line) -> set[str]:
    """The values of a line; a wider word for pieces or woods stands for all that it names."""
    pieces, wanted = loaded.found["pieces"].values(), set(line.values)
    if line.key == "piece":
        return {piece.id for piece in pieces if wanted & {piece.id, piece.group}}
    if line.key == "wood":
        return {wood.id for wood in loaded.woods.values() if wanted & {wood.id, wood.group}}
    return wanted


def _can_meet(loaded: Loaded, one: When, other: When) -> bool:
    mine = {line.key: _meant(loaded, line) for line in one.lines}
    return all(line.key not in mine or mine[line.key] & _meant(loaded, line) for line in other.lines)


def check(loaded: Loaded) -> Iterator[Fault]:
    """Pairs of causes that stay together whatever is answered."""
    signs, causes, scale = loaded.found["signs"], loaded.found["causes"], loaded.scale
    assert scale is not None

    @cache
    def shows(sign: str, cause: str) -> dict[str, float]:
        return seen_with(scale, signs[sign], causes[cause])

    @cache
    def can_be_asked(sign: str, cause: str) -> bool:
        return _can_meet(loaded, signs[sign].when, causes[cause].when)

    def separable(one: Cause, other: Cause) -> bool:
        return any(
            apart(signs[sign], shows(sign, one.id), shows(sign, other.id)) >= APART
            and can_be_asked(sign, one.id)
            and can_be_asked(sign, other.id)
            for sign in {*one.shows, *other.shows}
        )

    for one, other in combinations(causes.values(), 2):
        if _can_meet(loaded, one.when, other.when) and not separable(one, other):
            mark = loaded.mark("causes", other.id, "shows")
            yield Fault(mark, CODE, f"no sign tells {one.id} from {other.id}", "give one of them a sign of its own")
