"""What opening a joint will settle: the signs inside it that could change the method, and the methods that could come of them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose import words
from diagnose.decision.advise import Advice, Situation
from diagnose.decision.foresee import LIKELY_ENOUGH
from diagnose.decision.inquire import branches
from diagnose.reasoning.facts import open_signs
from diagnose.reasoning.model import Array


@dataclass(frozen=True)
class Opening:
    """The signs that only an opened joint shows and that could change the advice, and the methods that they could lead to."""

    signs: tuple[str, ...]
    methods: tuple[str, ...]


def _best(costs: Array, names: Sequence[str], advised: str, shut: bool) -> str | None:
    order = [names[row] for row in np.argsort(costs, kind="stable")]
    return next((name for name in order if not (shut and name == advised)), None)


def before_opening(at: Situation, advice: Advice) -> Opening:
    """What is still hidden where a counter cannot look, reading by reading: the cheapest method then, the advised one if not ruled out."""
    advised = advice.decision.method
    names = [choice.method for choice in advice.permitted]
    forbidding = {(gate.sign, gate.reading) for gate in advice.decision.provided_that if gate.forbids}
    signs, methods = [], []
    keep = at.belief.leading()
    belief, costs = at.belief.narrowed(keep), advice.costs[:, keep]
    for sign in open_signs(at.knowledge, at.case, at.damage, at.facts):
        if sign.station not in words.CLOSED_STATIONS["counter"] or sign.id not in belief.model.tables:
            continue
        error = at.knowledge.scale.off_by["sure"]
        for branch in branches(belief.model.tables[sign.id], belief.model.members, belief.posterior, costs, error):
            shut = any((sign.id, reading) in forbidding for reading in branch.reads)
            then = _best(branch.costs, names, advised, shut)
            if branch.chance >= LIKELY_ENOUGH and then not in (None, advised):
                signs.append(sign.id)
                methods.append(then)
    return Opening(tuple(dict.fromkeys(signs)), tuple(dict.fromkeys(name for name in methods if name is not None)))
