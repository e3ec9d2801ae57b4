"""Two signs say nearly the same about every cause that speaks to both: the evidence would be counted twice."""

from collections.abc import Iterator
from itertools import combinations

from diagnose.rulebase.entries import Cause, Sign
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded
from diagnose.rulebase.rows import seen_with

CODE = "near-copy"
CLOSE = 0.1
MIN_SHARED = 3


def _gap(loaded: Loaded, one: Sign, other: Sign, shared: list[Cause]) -> float:
    assert loaded.scale is not None
    gaps = []
    for cause in shared:
        first = sorted(seen_with(loaded.scale, one, cause).values())
        second = sorted(seen_with(loaded.scale, other, cause).values())
        gaps.append(sum(abs(a - b) for a, b in zip(first, second, strict=True)) / 2)
    return sum(gaps) / len(gaps)


def check(loaded: Loaded) -> Iterator[Fault]:
    """Pairs of full-counting signs, of the same readings, whose rows are near copies (a warning)."""
    signs = [sign for sign in loaded.found["signs"].values() if sign.counts == "full"]
    causes = list(loaded.found["causes"].values())
    for one, other in combinations(signs, 2):
        if set(one.readings) != set(other.readings) or one.kind != other.kind:
            continue
        shared = [cause for cause in causes if one.id in cause.shows and other.id in cause.shows]
        if len(shared) >= MIN_SHARED and _gap(loaded, one, other, shared) < CLOSE:
            mark = loaded.mark("signs", other.id)
            message = f"{other.id} says nearly what {one.id} says about {len(shared)} causes"
            yield Fault(mark, CODE, message, "let one of them count half", severity="warning")
